"""A person's choices: stored with the event that says so, refused on conflict, taken back by undo.

Whatever a person can set (a decision, an answer, a mark, a caption, a fact) is a choice: a kind, a subject
and a value. One change sets one or several of them at once and is one event. Undo sets them back, which is
an event too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from sqlmodel import Session, col, select

from review_api.store import events
from review_api.store.refusals import Closed, Conflict, NotFound
from review_api.store.summary import recount
from review_api.store.tables import Choice, EventRow, Inspection, Seen

Value = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Setting:
    """One choice as it shall be; `value` None takes it back."""

    kind: str
    subject: str
    value: Value | None


def get(session: Session, inspection: Inspection, kind: str, subject: str) -> Value | None:
    """The value chosen for a subject, None when nothing is."""
    row = session.get(Choice, (inspection.id, kind, subject))
    return None if row is None else row.value


def all_of(session: Session, inspection_id: int) -> dict[str, dict[str, Value]]:
    """All choices of an inspection: kind, then subject."""
    found: dict[str, dict[str, Value]] = {}
    for row in session.exec(select(Choice).where(Choice.inspection_id == inspection_id)):
        found.setdefault(row.kind, {})[row.subject] = row.value
    return found


def of_kind(session: Session, inspection: Inspection, kind: str) -> dict[str, Value]:
    """All choices of one kind, by subject."""
    wanted = select(Choice).where(Choice.inspection_id == inspection.key, Choice.kind == kind)
    return {row.subject: row.value for row in session.exec(wanted)}


def change(
    session: Session,
    inspection: Inspection,
    settings: Sequence[Setting],
    *,
    did: str,
    who: str,
    revision: int,
) -> int:
    """The new revision after all `settings` were made; the old one if they change nothing.

    Raises Closed when the inspection is sealed, Conflict when one of the subjects changed after `revision`.
    """
    refuse_closed(inspection)
    for setting in settings:
        _refuse_conflict(session, inspection, setting, revision)
    return _apply(session, inspection, settings, did=did, who=who, about={})


def undo(session: Session, inspection: Inspection, *, who: str, revision: int) -> tuple[int, str]:
    """The new revision, and what was taken back in words.

    Raises NotFound when there is nothing to take back, Conflict when somebody changed something after
    `revision`.
    """
    refuse_closed(inspection)
    last = undoable(session, inspection)
    if last is None:
        raise NotFound("there is nothing to take back")
    _refuse_unseen(session, inspection, revision, then="take it back")
    did, about = f"taken back: {last.event['did']}", {"undoes": last.sequence}
    return _apply(session, inspection, _settings(last, "before"), did=did, who=who, about=about), did


def redo(session: Session, inspection: Inspection, *, who: str, revision: int) -> tuple[int, str]:
    """The new revision, and what was done again in words.

    Raises NotFound when nothing was taken back since the last change, Conflict when somebody changed
    something after `revision`.
    """
    refuse_closed(inspection)
    taken_back = redoable(session, inspection)
    if taken_back is None:
        raise NotFound("there is nothing to do again")
    _refuse_unseen(session, inspection, revision, then="do it again")
    did, about = f"done again: {taken_back.event['did']}", {"redoes": taken_back.sequence}
    return _apply(session, inspection, _settings(taken_back, "after"), did=did, who=who, about=about), did


def undoable(session: Session, inspection: Inspection) -> EventRow | None:
    """The last change of a person that stands: neither undone nor itself an undo."""
    stands: dict[int, bool] = {}
    for row in _changes(session, inspection):
        step = _step(row)
        if step is not None:
            stands.setdefault(*step)
        elif stands.get(row.sequence, True):
            return row
    return None


def redoable(session: Session, inspection: Inspection) -> EventRow | None:
    """The change that was taken back last, unless something else was changed since; None: there is none."""
    stands: dict[int, bool] = {}
    for row in _changes(session, inspection):
        step = _step(row)
        if step is None:
            break
        stands.setdefault(*step)
    undone = [sequence for sequence, it_stands in stands.items() if not it_stands]
    return session.get(EventRow, (inspection.key, min(undone))) if undone else None


def _step(row: EventRow) -> tuple[int, bool] | None:
    """Which change the event took back or did again, and whether that stands now; None: neither."""
    about = row.event["about"]
    if "undoes" in about:
        return about["undoes"], False
    return (about["redoes"], True) if "redoes" in about else None


def _settings(row: EventRow, side: Literal["before", "after"]) -> list[Setting]:
    """What the change set, as it was before it or after it."""
    return [Setting(part["kind"], part["subject"], part[side]) for part in row.event["about"]["changes"]]


def _changes(session: Session, inspection: Inspection) -> Iterator[EventRow]:
    """The events that changed choices, newest first."""
    rows = session.exec(
        select(EventRow)
        .where(EventRow.inspection_id == inspection.id)
        .order_by(col(EventRow.sequence).desc())
        .execution_options(yield_per=50)
    )
    return (row for row in rows if "changes" in row.event["about"])


def refuse_closed(inspection: Inspection) -> None:
    if inspection.state in ("closing", "closed"):
        raise Closed("this inspection is sealed; it can only be changed by an amendment")


def _refuse_unseen(session: Session, inspection: Inspection, revision: int, *, then: str) -> None:
    newest = next(_changes(session, inspection))
    if newest.sequence > revision:
        raise Conflict(
            f"something was changed after what you see: {newest.event['did']}; look before you {then}",
            current={"did": newest.event["did"]},
            revision=inspection.revision,
        )


def _refuse_conflict(session: Session, inspection: Inspection, setting: Setting, revision: int) -> None:
    seen = session.get(Seen, (inspection.id, setting.kind, setting.subject))
    if seen is not None and seen.revision > revision:
        raise Conflict(
            "this was changed in another window since you opened it; look at what stands now",
            kind=setting.kind,
            subject=setting.subject,
            current=get(session, inspection, setting.kind, setting.subject),
            revision=inspection.revision,
        )


def _apply(
    session: Session,
    inspection: Inspection,
    settings: Iterable[Setting],
    *,
    did: str,
    who: str,
    about: dict[str, Any],
) -> int:
    changes: list[dict[str, Any]] = []
    for setting in settings:
        before = get(session, inspection, setting.kind, setting.subject)
        if before != setting.value:
            changes.append(
                {"kind": setting.kind, "subject": setting.subject, "before": before, "after": setting.value}
            )
            _store(session, inspection, setting)
    if not changes:
        return inspection.revision
    revision = events.append(session, inspection, did, who=who, about={**about, "changes": changes})
    for part in changes:
        session.merge(
            Seen(inspection_id=inspection.key, kind=part["kind"], subject=part["subject"], revision=revision)
        )
    session.flush()
    recount(session, inspection)
    return revision


def _store(session: Session, inspection: Inspection, setting: Setting) -> None:
    row = session.get(Choice, (inspection.id, setting.kind, setting.subject))
    if setting.value is None:
        if row is not None:
            session.delete(row)
    elif row is None:
        session.add(
            Choice(
                inspection_id=inspection.key, kind=setting.kind, subject=setting.subject, value=setting.value
            )
        )
    else:
        row.value = setting.value
        session.add(row)
    session.flush()

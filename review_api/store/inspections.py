"""Inspections: taken in, found, listed, loaded whole."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import func
from sqlmodel import Session, col, select

from review_api.store import choices
from review_api.store.refusals import NotFound
from review_api.store.tables import HandOver, Inspection, Photo, Proposal, Recording, Report, Utterance, now


@dataclass(frozen=True, slots=True)
class Rows:
    """All that is stored of one inspection, as it lies in the tables."""

    inspection: Inspection
    recordings: Sequence[Recording]
    photos: Sequence[Photo]
    utterances: Sequence[Utterance]
    proposals: Mapping[str, Sequence[Proposal]]
    """By kind."""
    choices: Mapping[str, Mapping[str, dict[str, Any]]]
    """By kind, then subject."""
    reports: Sequence[Report]
    hand_overs: Sequence[HandOver]
    undoable: str | None
    """What undo would take back."""
    redoable: str | None
    """What redo would do again."""

    @property
    def facts(self) -> dict[str, Any]:
        """The facts of the visit as they stand: those of the file, over them what the person set."""
        return {**self.inspection.facts, **self.choices.get("facts", {}).get("visit", {})}


def is_taken_in(session: Session, inspection: Inspection) -> bool:
    """Whether its recordings and photos are kept as originals."""
    return any(
        session.exec(select(table).where(table.inspection_id == inspection.id)).first() is not None
        for table in (Recording, Photo)
    )


def create(session: Session, *, content: str, rules: str) -> tuple[Inspection, bool]:
    """The inspection of these files, and whether it was known already. Numbers run through the year."""
    known = session.exec(select(Inspection).where(Inspection.content == content)).first()
    if known is not None:
        return known, True
    year = now().year
    last = session.exec(
        select(func.max(Inspection.number)).where(col(Inspection.number).startswith(f"{year}-"))
    ).one()
    number = f"{year}-{int(last.split('-')[1]) + 1 if last else 1:05d}"
    inspection = Inspection(number=number, content=content, rules=rules)
    session.add(inspection)
    session.flush()
    return inspection, False


def get(session: Session, inspection_id: int) -> Inspection:
    """The inspection. Raises NotFound."""
    inspection = session.get(Inspection, inspection_id)
    if inspection is None:
        raise NotFound(f"there is no inspection {inspection_id}; the list shows those there are")
    return inspection


def listed(session: Session, *, offset: int, limit: int) -> tuple[Sequence[Inspection], int]:
    """Inspections, newest first, and how many there are in all."""
    rows = session.exec(
        select(Inspection).order_by(col(Inspection.id).desc()).offset(offset).limit(limit)
    ).all()
    return rows, session.exec(select(func.count()).select_from(Inspection)).one()


def whole(session: Session, inspection_id: int) -> Rows:
    """All rows of an inspection. Raises NotFound."""
    inspection = get(session, inspection_id)
    chosen = choices.all_of(session, inspection_id)
    proposals: dict[str, list[Proposal]] = {}
    for proposal in _of(session, Proposal, inspection_id, Proposal.position):
        if proposal.is_shown(chosen):
            proposals.setdefault(proposal.kind, []).append(proposal)
    last = choices.undoable(session, inspection)
    taken_back = choices.redoable(session, inspection)
    return Rows(
        inspection=inspection,
        recordings=recordings(session, inspection_id),
        photos=photos(session, inspection_id),
        utterances=_of(session, Utterance, inspection_id, Utterance.position),
        proposals=proposals,
        choices=chosen,
        reports=_of(session, Report, inspection_id, Report.id),
        hand_overs=_of(session, HandOver, inspection_id, HandOver.id),
        undoable=last.event["did"] if last else None,
        redoable=taken_back.event["did"] if taken_back else None,
    )


def recordings(session: Session, inspection_id: int) -> Sequence[Recording]:
    """The recordings of an inspection, in the order of the visit."""
    return _of(session, Recording, inspection_id, Recording.position)


def photos(session: Session, inspection_id: int) -> Sequence[Photo]:
    """The photos of an inspection, in the order of the visit."""
    return _of(session, Photo, inspection_id, Photo.position)


def earlier_of_the_same(session: Session, inspection_id: int) -> Sequence[str]:
    """The numbers of earlier inspections that have a recording or a photo of this one."""
    found: set[str] = set()
    for table in (Recording, Photo):
        mine = select(table.sha256).where(table.inspection_id == inspection_id)
        found.update(
            session.exec(
                select(Inspection.number)
                .join(table, col(table.inspection_id) == col(Inspection.id))
                .where(col(table.sha256).in_(mine), table.inspection_id < inspection_id)
            )
        )
    return sorted(found)


def photo_of(session: Session, sha256: str) -> Photo:
    """The photo, from any inspection that has it. Raises NotFound."""
    row = session.exec(select(Photo).where(Photo.sha256 == sha256).limit(1)).first()
    if row is None:
        raise NotFound(f"there is no photo {sha256[:12]}…")
    return row


def recording_of(session: Session, sha256: str) -> Recording:
    """The recording, from any inspection that has it. Raises NotFound."""
    row = session.exec(select(Recording).where(Recording.sha256 == sha256).limit(1)).first()
    if row is None:
        raise NotFound(f"there is no recording {sha256[:12]}…")
    return row


def _of(session: Session, table: Any, inspection_id: int, order: Any) -> Sequence[Any]:
    rows: Sequence[Any] = session.exec(
        select(table).where(table.inspection_id == inspection_id).order_by(order)
    ).all()
    return rows

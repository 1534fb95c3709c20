"""One change, from what the person saw to the new revision, in one transaction."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sqlmodel import Session

from review_api import understanding, wording
from review_api.api.shown import Accepted, Desk
from review_api.decisions import Decided
from review_api.desk import desk
from review_api.settings import DEFAULT_RULES
from review_api.state import State
from review_api.store import choices, inspections
from review_api.store.inspections import Rows
from review_api.store.refusals import NotFound
from review_api.store.tables import EventRow, Inspection
from shared import rules
from shared.errors import ProbesideError
from shared.rules.model import Rules


@dataclass(frozen=True, slots=True)
class Seen:
    """The inspection as it stands at the beginning of the change."""

    rows: Rows
    desk: Desk
    rules: Rules

    @property
    def who(self) -> str:
        """Whose name the log gets."""
        return self.desk.facts.inspector or "the inspector"

    def refuse_unknown_photo(self, sha256: str) -> None:
        """Raises NotFound."""
        if not any(photo.sha256 == sha256 for photo in self.desk.photos):
            raise NotFound(f"this inspection has no photo {sha256[:12]}…")

    def refuse_unknown_finding(self, subject: str) -> None:
        """Raises NotFound."""
        if not any(finding.id == subject for finding in self.desk.findings):
            raise NotFound(f"this inspection has no finding {subject}")


def look(rows: Rows) -> Seen:
    """The inspection with the rules it is held against. Raises InputError where those are gone."""
    law = rules.load(rows.inspection.rules or DEFAULT_RULES)
    return Seen(rows, desk(rows, law), law)


def shown(rows: Rows) -> Desk:
    """The inspection to be looked at. One whose work failed is shown even where its rules are gone, which may
    be why; anything else raises InputError then."""
    try:
        return look(rows).desk
    except ProbesideError:
        if rows.inspection.state != "failed":
            raise
        name = rows.inspection.rules
        return desk(rows, Rules(name, f"{name}: cannot be used", "", provisions={}, form_items={}))


def change(here: State, inspection_id: int, revision: int, build: Callable[[Seen], Decided]) -> Accepted:
    """The answer once what `build` decides is stored. Raises what `build` and `choices.change` raise."""
    with here.database.writing() as session:
        rows = inspections.whole(session, inspection_id)
        seen = look(rows)
        decided = build(seen)
        before = rows.inspection.revision
        new = choices.change(
            session, rows.inspection, decided.settings, did=decided.did, who=seen.who, revision=revision
        )
        if new != before:
            new = follow(session, rows.inspection, new, seen.rules)
    return Accepted(revision=new, did=decided.did)


def follow(session: Session, inspection: Inspection, revision: int, rules: Rules) -> int:
    """The revision after what follows from the change of that revision: other words are understood anew.

    Raises Conflict where that cannot be done now.
    """
    row = session.get(EventRow, (inspection.id, revision))
    changes = row.event["about"].get("changes", ()) if row else ()
    if any(part["kind"] == wording.KIND for part in changes):
        understanding.again(session, inspection, rules)
    return inspection.revision

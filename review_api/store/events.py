"""Adding to an inspection's event log, and reading it back as the chain that `review_api.log` verifies."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlmodel import Session, col, select

from review_api.log import Entry, Event, follow
from review_api.store.tables import EventRow, Inspection, now

PROGRAM = "Probeside"
"""Who did it, when no person did."""


def append(
    session: Session, inspection: Inspection, did: str, *, who: str, about: dict[str, Any] | None = None
) -> int:
    """The sequence of the event that was added: the inspection's new revision."""
    last = session.get(EventRow, (inspection.id, inspection.revision)) if inspection.revision else None
    event = Event(at=now(), who=who, did=did, inspection=inspection.number, about=about or {})
    entry = follow(_entry(last) if last else None, event)
    session.add(
        EventRow(
            inspection_id=inspection.key,
            sequence=entry.sequence,
            event=dict(entry.event),
            previous=entry.previous,
            hash=entry.hash,
        )
    )
    inspection.revision = entry.sequence
    session.add(inspection)
    session.flush()
    return entry.sequence


def last_time(session: Session, inspection: Inspection, did: str) -> datetime | None:
    """When this was last done; None: never."""
    rows = session.exec(
        select(EventRow)
        .where(EventRow.inspection_id == inspection.id, col(EventRow.event)["did"].as_string() == did)
        .order_by(col(EventRow.sequence).desc())
        .limit(1)
    )
    row = rows.first()
    return datetime.fromisoformat(row.event["at"]) if row else None


def entries(session: Session, inspection: Inspection) -> tuple[Entry, ...]:
    """The whole log of an inspection, first to last."""
    rows = session.exec(
        select(EventRow).where(EventRow.inspection_id == inspection.id).order_by(col(EventRow.sequence))
    )
    return tuple(_entry(row) for row in rows)


def _entry(row: EventRow) -> Entry:
    return Entry(sequence=row.sequence, event=row.event, previous=row.previous, hash=row.hash)

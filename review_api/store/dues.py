"""What falls due: reports to hand over, corrections, revisits."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from sqlmodel import Session, col, select

from review_api.store.refusals import NotFound
from review_api.store.tables import Due, Inspection, now


def open_ones(session: Session, *, limit: int = 500) -> Sequence[tuple[Due, Inspection]]:
    """All that is still due, soonest first."""
    return session.exec(
        select(Due, Inspection)
        .join(Inspection, col(Inspection.id) == col(Due.inspection_id))
        .where(col(Due.done).is_(False))
        .order_by(col(Due.at))
        .limit(limit)
    ).all()


def first_of(session: Session, inspection_ids: Sequence[int]) -> dict[int, Due]:
    """The soonest thing due of each of these inspections."""
    rows = session.exec(
        select(Due)
        .where(col(Due.inspection_id).in_(inspection_ids), col(Due.done).is_(False))
        .order_by(col(Due.at).desc())
    )
    return {row.inspection_id: row for row in rows}


def put(session: Session, inspection: Inspection, what: str, subject: str, text: str, at: datetime) -> None:
    """Sets a clock, or sets it anew."""
    row = session.get(Due, (inspection.key, what, subject))
    if row is None:
        row = Due(inspection_id=inspection.key, what=what, subject=subject, text=text, at=at)
    row.text, row.at = text, at
    session.add(row)
    session.flush()


def get(session: Session, inspection_id: int, what: str, subject: str) -> Due:
    """What falls due. Raises NotFound."""
    row = session.get(Due, (inspection_id, what, subject))
    if row is None:
        raise NotFound(f"nothing of this inspection is due as “{what}” of {subject}")
    return row


def done(session: Session, inspection_id: int, what: str, subject: str, *, done: bool = True) -> None:
    """Stops a clock, or lets it run again; nothing where there is none."""
    row = session.get(Due, (inspection_id, what, subject))
    if row is not None:
        row.done = done
        session.add(row)
        session.flush()


def is_late(due: Due) -> bool:
    return due.at < now()

"""Documents that were signed and whose seal could not be made yet: found again, and told from others."""

from __future__ import annotations

from sqlmodel import Session, col, select

from review_api import record as r
from review_api.api.changes import AmendmentCreate, ClosingCreate
from review_api.store.tables import Sealing


def waiting(session: Session, inspection_id: int, kind: str) -> Sealing | None:
    """The document of that kind (`sealed`, `amendment`) that still waits for its seal; None: none does."""
    return session.exec(
        select(Sealing).where(
            Sealing.inspection_id == inspection_id, Sealing.kind == kind, col(Sealing.done).is_(False)
        )
    ).first()


def repeats(left: Sealing, given: ClosingCreate | AmendmentCreate) -> bool:
    """Whether what is sent now says the same as what was stored then, so that one answer serves both."""
    if isinstance(given, AmendmentCreate):
        amendment = r.Amendment.model_validate(left.record)
        return (
            tuple(r.Change(**part.model_dump()) for part in given.changes),
            given.why,
            given.approved_by,
            given.approved,
            given.operator_told,
            given.operator_told_who,
            given.operator_told_how,
            given.inspector_signature.name,
        ) == (
            amendment.changes,
            amendment.why,
            amendment.approved_by,
            amendment.approved,
            amendment.operator_told,
            amendment.operator_told_who,
            amendment.operator_told_how,
            amendment.inspector,
        )
    record = r.Record.model_validate(left.record)
    receipt, inspector = record.acknowledgement, record.inspector_signature
    assert receipt is not None and inspector is not None, "a report that waits for its seal was received"
    operator = given.signature.name if given.kind == "signed" and given.signature else None
    return (given.kind, given.reason, operator, given.inspector_signature.name) == (
        receipt.kind,
        receipt.reason,
        receipt.signature.name if receipt.signature else None,
        inspector.name,
    )

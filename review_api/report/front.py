"""What stands at the front of every document in the report's own language."""

from __future__ import annotations

from review_api.record import Amendment, Record
from review_api.report.blocks import Block, Document
from review_api.report.statement import keyword, statement_of


def document(
    record: Record | Amendment, *, kind: str, draft_notice: str, blocks: tuple[Block, ...]
) -> Document:
    """The record's document of this kind, such as `Inspection report`; the notice stands on a draft only."""
    return Document(
        language="en",
        kind=kind,
        number=record.number,
        title=record.establishment.name or "Establishment not named",
        issuer=record.department.name,
        issuer_lines=record.department.address_lines,
        notice=draft_notice if record.draft else "",
        draft_word="DRAFT" if record.draft else "",
        page_words="Page {page} of {pages}",
        keywords=(keyword(statement_of(record)),),
        blocks=blocks,
    )

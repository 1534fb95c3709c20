"""An amendment as a document: what changes, why, who approved it, and how the operator was told."""

from __future__ import annotations

from collections.abc import Iterator

from review_api.record import Amendment
from review_api.report.blocks import Block, Document, Fact, Facts, Heading, Paragraph, Table
from review_api.report.front import document
from review_api.report.receipt import receipt_blocks, seal_blocks
from review_api.report.text import Run, grouped, linked, sentence
from review_api.report.times import Clock, offset

DRAFT_NOTICE = "Draft of an amendment. Not sealed. It may still change."
STANDS = (
    "The document that is amended stays as it was sealed, and both belong together: read one with the other. "
    "What this amendment does not name is not changed."
)


def amendment(record: Amendment) -> Document:
    """The amendment as a document. Raises ValueError for a time without an offset."""
    clock = Clock(base=offset(record.made))
    return document(
        record,
        kind="Amendment",
        draft_notice=DRAFT_NOTICE,
        blocks=(
            *_amended(record),
            *_changes(record),
            *_approval(record, clock),
            *receipt_blocks(record, clock),
            *_rights(record),
            *seal_blocks(record),
        ),
    )


def _amended(record: Amendment) -> Iterator[Block]:
    yield Facts(
        "What is amended",
        (
            Fact("Amends", record.amends_number),
            Fact("Its SHA-256", grouped(record.amends_sha256)),
            Fact("Address", record.establishment.address or "Not recorded"),
            Fact("Permit", record.establishment.permit or "Not recorded"),
        ),
    )
    yield Paragraph((Run(STANDS),))


def _changes(record: Amendment) -> Iterator[Block]:
    yield Heading(2, "What changes")
    yield Table(
        "What the sealed document says, and what stands instead",
        ("Where", "It says", "Now stands"),
        tuple((change.where, change.was, change.now) for change in record.changes),
        (3, 4, 4),
    )
    yield Heading(2, "Why")
    yield Paragraph((Run(sentence(record.why)),))


def _approval(record: Amendment, clock: Clock) -> Iterator[Block]:
    told = f"{record.operator_told_who}, {clock.both(record.operator_told)}, {record.operator_told_how}"
    yield Heading(2, "Approved and told")
    yield Facts(
        "Approval and notice to the operator",
        (
            Fact("Asked for by", record.inspector),
            Fact("Approved by", f"{record.approved_by}, {clock.both(record.approved)}"),
            Fact("Operator told", told),
        ),
    )


def _rights(record: Amendment) -> Iterator[Block]:
    yield Heading(2, "Your rights, and how to reach us")
    for text in (record.department.appeal, record.department.contact):
        if text:
            yield Paragraph(linked(text))
    words = f"Amendment {record.number}, written {Clock().both(record.made)} ({offset(record.made)})."
    yield Paragraph((Run(words),), tone="quiet")

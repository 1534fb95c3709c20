"""What falls due once a document is sealed, from its record and the office alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from review_api.deadlines import Office, hand_over
from review_api.record import Amendment, Record

HAND_OVER, CORRECTION, REVISIT = "report to hand over", "correct by", "revisit"


@dataclass(frozen=True, slots=True)
class Clock:
    """One thing that falls due."""

    what: str
    subject: str
    """The report's number, the violation, or `visit`."""
    text: str
    at: datetime


def clocks(record: Record | Amendment, office: Office) -> tuple[Clock, ...]:
    """Everything that runs from the seal on. A revisit on a day off is due on the next business day.

    Raises InputError where the office is never open.
    """
    return tuple(_amendment(record, office) if isinstance(record, Amendment) else _report(record, office))


def _amendment(record: Amendment, office: Office) -> Iterator[Clock]:
    due = hand_over(record.made, office=office).due
    yield Clock(HAND_OVER, record.number, f"amendment {record.number}", due)


def _report(record: Record, office: Office) -> Iterator[Clock]:
    ended = record.visit.time_out or record.made
    yield Clock(HAND_OVER, record.number, "the report", hand_over(ended, office=office).due)
    for item in record.violations:
        if item.correct_by is not None and not item.corrected_on_site:
            yield Clock(CORRECTION, item.id, f"{item.provision}: {item.title}", item.correct_by)
    if record.visit.revisit is not None:
        at = office.closes(office.this_or_next(record.visit.revisit))
        yield Clock(REVISIT, "visit", "the revisit", at)

"""When a report must be handed over, and how anything that is due stands."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from review_api.deadlines.office import Office

Standing = Literal["done", "open", "today", "overdue"]


@dataclass(frozen=True, slots=True)
class HandOver:
    """The clock of a report's hand-over."""

    due: datetime
    """The close of business of the visit; when that is past at its end, of the next business day."""
    latest: datetime
    """The close of the next business day after the visit."""


@dataclass(frozen=True, slots=True)
class Due:
    """Something that is due, such as a hand-over, a correction or a revisit."""

    what: str
    by: datetime
    done: datetime | None = None


def hand_over(visit_ended: datetime, *, office: Office) -> HandOver:
    """When the report of a visit that ended then is due. Raises ValueError for a time without an offset."""
    ended = office.local(visit_ended)
    day = ended.date()
    latest = office.closes(office.next_business_day(day))
    if office.is_business_day(day) and ended <= office.closes(day):
        return HandOver(due=office.closes(day), latest=latest)
    return HandOver(due=latest, latest=latest)


def standing(due: Due, *, now: datetime, office: Office) -> Standing:
    """How it stands: `today` on the office's day on which it is due, `overdue` once that moment is past."""
    if due.done is not None:
        return "done"
    if now > due.by:
        return "overdue"
    return "today" if office.local(now).date() == office.local(due.by).date() else "open"

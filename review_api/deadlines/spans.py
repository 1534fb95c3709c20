"""Moments so many hours, calendar days or business days after another."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from review_api.deadlines.office import Office


def after_hours(start: datetime, hours: float, *, office: Office) -> datetime:
    """So many hours later, as they pass: a change of daylight time neither adds nor takes one."""
    return office.local(start.astimezone(UTC) + timedelta(hours=hours))


def after_calendar_days(start: datetime, days: int, *, office: Office) -> datetime:
    """The close of business on that day; when the office is closed then, of the next business day."""
    day = office.local(start).date() + timedelta(days=days)
    return office.closes(office.this_or_next(day))


def after_business_days(start: datetime, days: int, *, office: Office) -> datetime:
    """The close of business so many business days later; the day of `start` does not count."""
    day = office.local(start).date()
    for _ in range(days):
        day = office.next_business_day(day)
    return office.closes(office.this_or_next(day))

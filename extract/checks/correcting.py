"""By when a violation must be corrected, and when the next visit is due, by the calendar."""

from __future__ import annotations

from calendar import monthrange
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from shared.errors import InputError
from shared.rules.model import Deadline, Hazard, Rules

_END_OF_DAY = time(23, 59)


@dataclass(frozen=True, slots=True)
class CorrectBy:
    """The latest moment for a correction, and what is expected first."""

    latest: datetime
    default: str
    """Such as "corrected during the inspection"."""
    section: str
    row: Deadline


def correct_by(class_: str, found: datetime, rules: Rules, *, zone: tzinfo | None = None) -> CorrectBy:
    """By when a violation of that class, found at that time, must be corrected at the latest.

    Hours run through day and night and any change of daylight time; days end at 23:59 of the last day, in
    `zone` (else in the offset of `found`). Raises `InputError` for a class without a deadline or a time
    without an offset.
    """
    if found.tzinfo is None:
        raise InputError(
            "the time of the finding has no offset from UTC: give one, as 2026-05-04T14:00-05:00"
        )
    row = next((one for one in rules.deadlines.values() if one.in_force and class_ in one.classes), None)
    if row is None:
        raise InputError(f"{rules.name} has no deadline for class {class_!r}")
    where = zone or found.tzinfo
    if row.within_hours is not None:
        latest = (found.astimezone(UTC) + timedelta(hours=row.within_hours)).astimezone(where)
    else:
        assert row.within_days is not None, "a deadline counts in hours or in days"
        day = found.astimezone(where).date() + timedelta(days=row.within_days)
        latest = datetime.combine(day, _END_OF_DAY, where)
    return CorrectBy(latest, row.default, row.section, row)


def months_later(day: date, months: int) -> date:
    """The same day of a later month, or that month's last day where it has no such day."""
    place = day.month - 1 + months
    year, month = day.year + place // 12, place % 12 + 1
    return date(year, month, min(day.day, monthrange(year, month)[1]))


def next_visit(last: date, rules: Rules, *, category: int | None = None) -> date:
    """By when the next routine visit is due: by risk category, else by the interval that holds for all.

    Raises `InputError` for a category that the rules do not have.
    """
    if category is None:
        interval = rules.duties.get("visit_interval")
        if interval is None or interval.value is None:
            raise InputError(f"{rules.name} names no interval between visits: give a risk category")
        return months_later(last, int(interval.value))
    row = rules.categories.get(category)
    if row is None:
        known = ", ".join(str(number) for number in rules.categories)
        raise InputError(f"{rules.name} has no risk category {category}; there are {known}")
    return months_later(last, 12 // row.visits_a_year)


def imminent_hazards(text: str, rules: Rules) -> tuple[Hazard, ...]:
    """Hazards whose everyday words stand in a text: reasons to call a supervisor, never a conclusion."""
    plain = f" {' '.join(text.lower().split())} "
    return tuple(
        hazard
        for hazard in rules.hazards.values()
        if any(f" {phrase} " in plain.replace(",", " ").replace(".", " ") for phrase in hazard.phrases)
    )

"""The last day on which ready-to-eat food may be used; the day it was made or opened is day 1 (3-501.17)."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from shared.rules.model import Rules

DAYS_ROW = "date_marked_days"


def days_allowed(rules: Rules) -> int:
    """How many days the rules allow, day 1 included."""
    return int(rules.limits[DAYS_ROW].values["day"])


def last_day(
    made: date,
    rules: Rules,
    *,
    use_by: date | None = None,
    frozen: Iterable[tuple[date, date]] = (),
) -> date:
    """The last day of use for food made or opened on `made`.

    `use_by` is the maker's own safety date and may only shorten it. `frozen` are spans from the last day
    before the freezer to the day of thawing; the days between do not count, the day of thawing does.
    """
    last = made + timedelta(days=days_allowed(rules) - 1)
    for into, out in sorted(frozen):
        if made <= into < last and out > into:
            last += out - into - timedelta(days=1)
    return min(last, use_by) if use_by is not None else last


def last_day_of_mix(parts: Iterable[date], rules: Rules) -> date:
    """The last day of a mix: that of its oldest part. Raises `ValueError` for no parts."""
    return last_day(min(parts), rules)

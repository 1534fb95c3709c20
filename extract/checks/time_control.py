"""Time as a public health control: by when food must be gone, and whether it may be served (3-501.19)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from extract.checks import words
from extract.checks.cooling_stages import Point
from extract.checks.exactly import seconds
from shared.errors import InputError
from shared.rules.model import Limit, Rules
from shared.types import Verdict

Option = Literal["four_hour", "six_hour", "cut_or_opened"]
_TIME_ROW = {
    "four_hour": "time_control_four_hours",
    "cut_or_opened": "time_control_four_hours",
    "six_hour": "time_control_six_hours",
}
_WARMEST_ROW = {"six_hour": "time_control_six_hour_warmest", "cut_or_opened": "time_control_cut_or_opened"}


@dataclass(frozen=True, slots=True)
class TimeControl:
    """How food under time control stands."""

    discard_by: datetime
    verdict: Verdict
    section: str
    why: str


def judge(
    out: datetime,
    now: datetime,
    rules: Rules,
    *,
    option: Option = "four_hour",
    readings: Sequence[Point] = (),
) -> TimeControl:
    """Whether food that left temperature control at `out` may still be served at `now`.

    The last moment is inclusive. Readings count in the options that cap the temperature; a written and marked
    plan is taken as given. Raises `InputError` when `now` is before `out`.
    """
    if now < out:
        raise InputError(
            "the food left temperature control after the time of the check: correct one of the times"
        )
    time_row = rules.limits[_TIME_ROW[option]]
    allowed = _allowed(time_row)
    discard_by = out + allowed
    warm = _too_warm(readings, option, rules)
    if warm is not None:
        point, row, most = warm
        why = (
            f"{words.amount(point.value, point.unit)} is over this option's {words.amount(most, point.unit)}"
        )
        return TimeControl(point.at, "violates", row.section, why)
    held = words.span((now - out).total_seconds())
    why = f"{held} of the {words.span(allowed.total_seconds())} allowed; discard by {discard_by:%H:%M}"
    return TimeControl(discard_by, "meets" if now <= discard_by else "violates", time_row.section, why)


def _allowed(row: Limit) -> timedelta:
    unit, figure = next(iter(row.values.items()))
    return timedelta(seconds=seconds(figure, unit))


def _too_warm(readings: Sequence[Point], option: Option, rules: Rules) -> tuple[Point, Limit, float] | None:
    name = _WARMEST_ROW.get(option)
    if name is None:
        return None
    row = rules.limits[name]
    for point in sorted(readings, key=lambda item: item.at):
        most = row.values.get(point.unit)
        if most is not None and point.value > most:
            return point, row, most
    return None

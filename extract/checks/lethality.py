"""How much a measured curve has cooked: published hold times added up along it.

Between two steps of a table the time is taken on a straight line in its logarithm (the Bigelow relation
that the published curves follow), only for tables whose source allows it. Each minute at a temperature
counts as that part of the time the table asks for; at 1 the curve is worth the table's whole reduction.
Below the coolest step nothing counts; above the hottest no more than it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shared.errors import InputError
from shared.rules.model import Step, TimeTemperature

_INSTANT_S = 1.0
"""What a step printed as 0 ("an instant") counts as; under 1 second in the tables' own words."""
_ROUNDING = 1e-12
"""By which a sum of parts may miss the whole that it is."""


@dataclass(frozen=True, slots=True)
class Lethality:
    """What a curve is worth."""

    fraction: float
    """Of the table's whole treatment; 1 or more is enough."""
    log_reduction: float | None
    """The table's reduction times the fraction, where the table names one."""
    enough: bool
    reached_after_s: float | None
    """Seconds from the first reading until it was enough; None when it never was."""


@dataclass(frozen=True, slots=True)
class _Part:
    """A stretch of the curve between two temperatures within which its rate rises or falls evenly."""

    start_s: float
    length_s: float
    rate: float
    """Treatments a second at its start."""
    growth: float
    """By how much the logarithm of the rate is higher at its end."""

    @property
    def worth(self) -> float:
        """The integral of the rate over the stretch."""
        return self.length_s * self.rate * (math.expm1(self.growth) / self.growth if self.growth else 1.0)

    def after(self, worth: float) -> float:
        """Seconds from its start after which it is worth so much."""
        evenly = worth / self.rate
        if not self.growth:
            return evenly
        return math.log1p(self.growth * evenly / self.length_s) / self.growth * self.length_s


def hold_time(table: TimeTemperature, value: float, unit: str) -> float:
    """Seconds that the table asks for at a temperature; infinite below its coolest step.

    Between steps: the cooler step's time, or a straight line in the logarithm where the source allows it.
    """
    printed = {step.values[unit]: step.time_s for step in table.steps}
    if value in printed:
        return printed[value]
    place = _step(table, unit, value)
    return math.inf if place is None else math.exp(_log_time(table, unit, place, value))


def lethality(curve: Sequence[tuple[float, float]], unit: str, table: TimeTemperature) -> Lethality:
    """What (seconds, temperature) readings are worth by a table, joined by straight lines.

    Raises `InputError` when a reading is not a number, or fewer than two are given.
    """
    points = sorted(curve)
    if len(points) < 2:
        raise InputError("lethality needs at least two readings with their times")
    if any(unit not in step.values for step in table.steps):
        raise InputError(f"the table {table.id} has no temperatures in {unit}")
    if not all(math.isfinite(time) and math.isfinite(value) for time, value in points):
        raise InputError("a reading or its time is not a number")
    total, reached = 0.0, None
    for start, end in pairwise(points):
        for part in _parts(start, end, unit, table):
            if reached is None and total + part.worth >= 1 - _ROUNDING:
                reached = part.start_s + part.after(1 - total) - points[0][0]
            total += part.worth
    log = table.log_reduction * total if table.log_reduction is not None else None
    return Lethality(total, log, reached is not None, reached)


def _parts(
    start: tuple[float, float], end: tuple[float, float], unit: str, table: TimeTemperature
) -> Iterator[_Part]:
    """A straight line between two readings, cut where it passes a step of the table."""
    (first_s, first), (last_s, last) = start, end
    low, high = min(first, last), max(first, last)
    passed = {last, *(min(max(step.values[unit], low), high) for step in table.steps)} - {first}
    values = [first, *(sorted(passed, key=lambda value: abs(value - first)) or [last])]
    for begin, finish in pairwise(values):
        place = _step(table, unit, min(begin, finish))
        if place is None:
            continue
        before, span = 0.0, 1.0
        if last != first:
            before, span = ((part - first) / (last - first) for part in (begin, finish))
            span -= before
        at_begin, at_finish = (_log_time(table, unit, place, value) for value in (begin, finish))
        length_s = last_s - first_s
        yield _Part(first_s + length_s * before, length_s * span, math.exp(-at_begin), at_begin - at_finish)


def _step(table: TimeTemperature, unit: str, value: float) -> int | None:
    """The hottest step that a temperature reaches."""
    return max((n for n, step in enumerate(table.steps) if step.values[unit] <= value), default=None)


def _log_time(table: TimeTemperature, unit: str, place: int, value: float) -> float:
    """The logarithm of the time at a temperature from that step to the next: the step's own, or on the line
    between the two where the source allows it."""
    time = _log(table.steps[place])
    hotter = next(iter(table.steps[place + 1 :]), None)
    if hotter is None or not table.interpolate:
        return time
    cool, hot = table.steps[place].values[unit], hotter.values[unit]
    return time + (value - cool) / (hot - cool) * (_log(hotter) - time)


def _log(step: Step) -> float:
    return math.log(max(step.time_s, _INSTANT_S))

"""How much a measured curve has cooked: published hold times added up along it.

Between two steps of a table the time is taken on a straight line in its logarithm (the Bigelow relation
that the published curves follow), only for tables whose source allows it. Each minute at a temperature
counts as that part of the time the table asks for; at 1 the curve is worth the table's whole reduction.
Below the coolest step nothing counts; above the hottest no more than it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from shared.errors import InputError
from shared.rules.model import TimeTemperature

_INSTANT_S = 1.0
"""What a step printed as 0 ("an instant") counts as; under 1 second in the tables' own words."""


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


def hold_time(table: TimeTemperature, value: float, unit: str) -> float:
    """Seconds that the table asks for at a temperature; infinite below its coolest step.

    Between steps: the cooler step's time, or a straight line in the logarithm where the source allows it.
    """
    steps = table.steps
    if value < steps[0].values[unit]:
        return math.inf
    for cooler, hotter in pairwise(steps):
        if cooler.values[unit] <= value < hotter.values[unit]:
            if not table.interpolate or value == cooler.values[unit]:
                return cooler.time_s
            part = (value - cooler.values[unit]) / (hotter.values[unit] - cooler.values[unit])
            low, high = max(cooler.time_s, _INSTANT_S), max(hotter.time_s, _INSTANT_S)
            return math.exp(math.log(low) + part * (math.log(high) - math.log(low)))
    return steps[-1].time_s


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
    for (start, from_value), (end, to_value) in pairwise(points):
        pieces = max(1, min(2_000, math.ceil(abs(to_value - from_value) * 20)))
        width = (end - start) / pieces
        for piece in range(pieces):
            middle = from_value + (to_value - from_value) * (piece + 0.5) / pieces
            rate = 1 / max(hold_time(table, middle, unit), _INSTANT_S)
            if reached is None and total + rate * width >= 1 - 1e-12:
                reached = start + piece * width + (1 - total) / rate - points[0][0]
            total += rate * width
    log = table.log_reduction * total if table.log_reduction is not None else None
    return Lethality(total, log, reached is not None, reached)

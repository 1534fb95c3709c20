"""Cooling curves: drawn from the readings of one food, and described in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from extract.checks.cooling import judge
from extract.checks.cooling_picture import describe, draw
from extract.checks.cooling_stages import Point, rule_of
from review_api.api.shown import Facts, Figure, Reading
from review_api.recheck import thermometer
from shared.errors import InputError
from shared.rules.model import Rules


def figures(readings: Sequence[Reading], facts: Facts, rules: Rules) -> Iterator[Figure]:
    """One figure for each food with two or more cooling readings; rejected readings are left out."""
    foods: dict[str, list[Reading]] = {}
    for reading in readings:
        if (
            reading.stage == "cooling"
            and reading.kind == "temperature"
            and reading.decision.state != "rejected"
        ):
            foods.setdefault((reading.item or "food").lower(), []).append(reading)
    instrument = thermometer(readings, facts)
    for food, taken in foods.items():
        points = [Point(item.at, item.value, item.unit) for item in taken if item.at is not None]
        if len(points) < 2:
            continue
        try:
            cooling = judge(points, rules, rule=rule_of(points), instrument=instrument)
        except InputError:  # such as readings in two units: each still has its own verdict
            continue
        title = f"Cooling of {food}"
        yield Figure(
            title=title,
            svg=draw(cooling, title=title),
            description=describe(cooling),
            readings=tuple(item.id for item in taken),
        )

"""Every limit of every shipped rules file: at the limit, around it, at the band's edges, with facts missing.

Generated from the data: a new row is tested by being there. The sources stand on the rows.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from extract.checks import Measured, Quantity, check
from extract.checks.checking import HELD
from extract.checks.selecting import limits_for, subject
from extract.checks.words import span
from shared.rules import load, names
from shared.rules.model import Limit, Rules
from tests.checks.making import food, only

STEP = 0.01
"""Just over or just under, in the row's unit."""


def own(rules: Rules) -> list[Limit]:
    """The limits that a file states itself; inherited ones are tested where they are stated."""
    parent = load(rules.inherits[0]).limits if rules.inherits else {}
    return [limit for limit in rules.limits.values() if parent.get(limit.id) != limit]


ROWS = [
    pytest.param(load(name), limit, unit, id=f"{name}-{limit.id}-{unit}")
    for name in names()
    for limit in own(load(name))
    for unit in limit.values
]


def measured(limit: Limit, value: float, unit: str, *, says: frozenset[str] | None = None) -> Measured:
    """A reading that the row is for: a food of its first kind, under all its conditions."""
    kinds = sorted(limit.foods - {"tcs", "unknown"})[:1]
    return Measured(
        kind=limit.quantity,
        value=value,
        unit=unit,
        stage=limit.stage,
        food=food(*kinds),
        says=limit.when if says is None else says,
        diameter=Quantity(0.1, "inch") if limit.times_diameter else None,
    )


def band(limit: Limit, rules: Rules, unit: str) -> float:
    return (
        rules.decision.accuracy.get(unit, 0.0) if limit.accuracy and limit.quantity == "temperature" else 0.0
    )


def failing(limit: Limit) -> int:
    """The direction in which a reading fails."""
    return -1 if limit.operator == ">=" else 1


@pytest.mark.parametrize(("rules", "limit", "unit"), ROWS)
def test_at_the_limit_passes(rules: Rules, limit: Limit, unit: str) -> None:
    edge = limit.values[unit] + limit.tolerance.get(unit, 0.0)
    found = check(measured(limit, edge, unit), only(rules, limit))
    assert found.verdict == ("borderline" if band(limit, rules, unit) else "meets")
    assert (found.section, found.limit, found.unit) == (limit.section, limit.values[unit], unit)
    assert found.operator == limit.operator
    assert found.margin == limit.tolerance.get(unit, 0.0)
    assert found.why


@pytest.mark.parametrize(("rules", "limit", "unit"), ROWS)
def test_just_past_the_limit_does_not_pass(rules: Rules, limit: Limit, unit: str) -> None:
    edge = limit.values[unit] + limit.tolerance.get(unit, 0.0)
    found = check(measured(limit, edge + failing(limit) * STEP, unit), only(rules, limit))
    assert found.verdict == ("borderline" if band(limit, rules, unit) else "violates")
    if band(limit, rules, unit):
        assert "failing side" in found.why


@pytest.mark.parametrize(("rules", "limit", "unit"), ROWS)
def test_just_on_the_safe_side_passes(rules: Rules, limit: Limit, unit: str) -> None:
    edge = limit.values[unit] + limit.tolerance.get(unit, 0.0)
    found = check(measured(limit, edge - failing(limit) * STEP, unit), only(rules, limit))
    assert found.verdict == ("borderline" if band(limit, rules, unit) else "meets")
    if band(limit, rules, unit):
        assert "passing side" in found.why


@pytest.mark.parametrize(
    ("rules", "limit", "unit"),
    [row for row in ROWS if band(row.values[1], row.values[0], row.values[2])],  # type: ignore[arg-type]
)
def test_the_band_of_the_thermometer_ends_where_its_accuracy_does(
    rules: Rules, limit: Limit, unit: str
) -> None:
    wide = band(limit, rules, unit)
    way = failing(limit)
    alone = only(rules, limit)
    at = limit.values[unit]
    assert check(measured(limit, at + way * wide, unit), alone).verdict == "borderline"
    assert check(measured(limit, at + way * (wide + STEP), unit), alone).verdict == "violates"
    assert check(measured(limit, at - way * wide, unit), alone).verdict == "borderline"
    assert check(measured(limit, at - way * (wide + STEP), unit), alone).verdict == "meets"


@pytest.mark.parametrize(
    ("rules", "limit", "unit"),
    [row for row in ROWS if row.values[1].operator == "+-"],  # type: ignore[union-attr]
)
def test_a_tolerance_holds_on_both_sides(rules: Rules, limit: Limit, unit: str) -> None:
    alone, at, tolerance = only(rules, limit), limit.values[unit], limit.tolerance[unit]
    assert check(measured(limit, at - tolerance, unit), alone).verdict == "meets"
    assert check(measured(limit, at - tolerance - STEP, unit), alone).verdict == "violates"
    assert check(measured(limit, at + tolerance + STEP, unit), alone).verdict == "violates"


@pytest.mark.parametrize(("rules", "limit", "unit"), ROWS)
def test_without_a_unit_there_is_no_verdict(rules: Rules, limit: Limit, unit: str) -> None:
    found = check(replace(measured(limit, limit.values[unit], unit), unit=""), only(rules, limit))
    assert (found.verdict, found.missing) == ("undetermined", ("the unit of the reading",))


@pytest.mark.parametrize(
    ("rules", "limit", "condition"),
    [
        pytest.param(load(name), limit, condition, id=f"{name}-{limit.id}-{condition}")
        for name in names()
        for limit in own(load(name))
        for condition in sorted(limit.when - {"hot"})  # the reading itself tells that food was sent hot
    ],
)
def test_a_row_does_not_apply_while_its_condition_is_unsaid(
    rules: Rules, limit: Limit, condition: str
) -> None:
    unit = next(iter(limit.values))
    reading = measured(limit, limit.values[unit], unit, says=limit.when - {condition})
    assert limit.id not in {row.id for row in limits_for(reading, subject(reading), only(rules, limit))}


@pytest.mark.parametrize(
    ("rules", "limit"),
    [
        pytest.param(load(name), limit, id=f"{name}-{limit.id}")
        for name in names()
        for limit in own(load(name))
        if limit.hold_s and limit.quantity == "temperature" and limit.stage in HELD
    ],
)
def test_a_hold_that_is_known_to_be_too_short_violates(rules: Rules, limit: Limit) -> None:
    assert limit.hold_s is not None
    unit = next(iter(limit.values))
    sure = limit.values[unit] - failing(limit) * (band(limit, rules, unit) + STEP)
    reading = measured(limit, sure, unit)
    alone = only(rules, limit)
    held = check(replace(reading, held_s=limit.hold_s), alone)
    assert (held.verdict, held.missing) == ("meets", ())
    assert check(replace(reading, held_s=limit.hold_s - 1), alone).verdict == "violates"
    given = check(reading, alone)
    assert (given.verdict, given.missing) == ("meets", (f"whether it was held {span(limit.hold_s)}",))
    assert given.why.endswith(f", if it was held {span(limit.hold_s)}")
    assert check(replace(reading, value=limit.values[unit] + failing(limit) * 20), alone).missing == ()


@pytest.mark.parametrize(("said", "hold"), [("leaving_hot", 3600.0), ("vending_hot", 600.0)])
def test_a_time_that_is_no_least_is_not_asked_for(said: str, hold: float) -> None:
    """3-501.19(B): at most 4 hours; 4-204.111(B): the time after filling a machine, not that of holding."""
    stage = "ambient" if said == "vending_hot" else "time_control"
    reading = Measured("temperature", 140, "degF", stage, "soup", held_s=hold, says=frozenset({said}))
    found = check(reading, load("food_code_2022"))
    assert (found.verdict, found.missing) == ("meets", ())


@pytest.mark.parametrize(
    ("rules", "limit", "unit"),
    [row for row in ROWS if row.values[1].in_force],  # type: ignore[union-attr]
)
def test_a_row_in_force_is_reached_among_all_others(rules: Rules, limit: Limit, unit: str) -> None:
    """Far on the failing side the whole file says so, by this row or a stricter one; nothing hides it."""
    far = limit.values[unit] + failing(limit) * max(10.0, abs(limit.values[unit]))
    if limit.quantity != "temperature":
        far = max(0.0, min(far, {"pH": 14.0, "aw": 1.0}.get(unit, far)))
    found = check(measured(limit, far, unit), rules)
    assert found.verdict == "violates", found
    assert found.section is not None


@pytest.mark.parametrize("name", names())
def test_every_row_says_where_it_comes_from_and_how_that_was_verified(name: str) -> None:
    rules = load(name)
    for limit in rules.limits.values():
        assert limit.source.text and limit.source.verified
        assert limit.says

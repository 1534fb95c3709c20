"""What must hold for any reading. Hypothesis draws them; the conventions are those of test_verdicts.

Limits drawn across: FDA Food Code 2022, as rows of its rules file.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from extract.checks import Instrument, Measured, Quantity, check
from extract.checks.comparing import compare, exact
from extract.checks.exactly import factor, seconds
from shared.rules import load, names
from shared.rules.rows import STAGES, UNITS

RULES = load("food_code_2022")
WORSE = {"none": 0, "meets": 1, "borderline": 2, "undetermined": 2, "violates": 3}
CONDITIONS = (
    "microwave", "air_gap", "time_plan", "boiling", "six_hour", "parasites", "water", "frozen",
    "consumer_request", "chemical_machine", "reduced_oxygen", "non_continuous",
)  # fmt: skip
TENTHS = st.integers(-400, 2500).map(lambda tenths: tenths / 10)
ITEMS = ("ham", "cooked rice", "cut melon", "shell eggs", "milk", "an unknown thing", "chicken", "tofu")


@settings(max_examples=300, deadline=None)
@given(
    item=st.sampled_from(ITEMS),
    value=TENTHS,
    colder=st.integers(1, 500),
    unit=st.sampled_from(["degF", "degC"]),
)
def test_a_colder_reading_is_never_worse_in_cold_holding(
    item: str, value: float, colder: int, unit: str
) -> None:
    warm = check(Measured("temperature", value, unit, "cold_holding", item), RULES)
    cold = check(Measured("temperature", value - colder / 10, unit, "cold_holding", item), RULES)
    assert WORSE[cold.verdict] <= WORSE[warm.verdict]


@settings(max_examples=300, deadline=None)
@given(
    stage=st.sampled_from(["hot_holding", "cooking", "reheating"]),
    item=st.sampled_from(
        ("ham", "beans", "chicken", "beef patties", "salmon", "prime rib", "stuffed peppers")
    ),
    value=TENTHS,
    hotter=st.integers(1, 500),
    held=st.sampled_from([None, 0.0, 15.0, 60.0, 180.0, 7000.0]),
)
def test_a_hotter_reading_is_never_worse_where_heat_is_asked_for(
    stage: str, item: str, value: float, hotter: int, held: float | None
) -> None:
    cool = check(Measured("temperature", value, "degF", stage, item, held_s=held), RULES)
    hot = check(Measured("temperature", value + hotter / 10, "degF", stage, item, held_s=held), RULES)
    assert WORSE[hot.verdict] <= WORSE[cool.verdict]


@settings(max_examples=200, deadline=None)
@given(
    value=TENTHS,
    held=st.floats(0, 8000),
    longer=st.floats(0, 4000),
    item=st.sampled_from(["prime rib", "beef patty"]),
)
def test_a_longer_hold_is_never_worse(value: float, held: float, longer: float, item: str) -> None:
    short = check(Measured("temperature", value, "degF", "cooking", item, held_s=held), RULES)
    long = check(Measured("temperature", value, "degF", "cooking", item, held_s=held + longer), RULES)
    assert WORSE[long.verdict] <= WORSE[short.verdict]


@settings(max_examples=300, deadline=None)
@given(
    ppm=st.integers(0, 400).map(lambda halves: halves / 2),
    ph=st.integers(50, 110).map(lambda tenths: tenths / 10),
    water=st.integers(40, 140),
    warmer=st.integers(0, 40),
    lower=st.integers(0, 30),
)
def test_warmer_or_less_alkaline_chlorine_is_never_worse(
    ppm: float, ph: float, water: int, warmer: int, lower: int
) -> None:
    before = Measured(
        "concentration", ppm, "ppm", "sanitizer", agent="chlorine", ph=ph, water=Quantity(water, "degF")
    )
    after = replace(before, ph=ph - lower / 10, water=Quantity(water + warmer, "degF"))
    assert WORSE[check(after, RULES).verdict] <= WORSE[check(before, RULES).verdict]


@settings(max_examples=300, deadline=None)
@given(
    ppm=st.integers(1, 400).map(lambda halves: halves / 2),
    ph=st.integers(50, 110).map(lambda tenths: tenths / 10),
    water=st.integers(40, 140),
)
def test_strength_and_ph_of_one_chlorine_solution_share_their_outcome(
    ppm: float, ph: float, water: int
) -> None:
    solution = Measured(
        "concentration", ppm, "ppm", "sanitizer", agent="chlorine", ph=ph, water=Quantity(water, "degF")
    )
    strength = check(solution, RULES)
    if strength.section == "7-204.11":
        return
    acidity = Measured(
        "ph", ph, "pH", "sanitizer", agent="chlorine", concentration_ppm=ppm, water=Quantity(water, "degF")
    )
    assert check(acidity, RULES).verdict == strength.verdict
    warmth = Measured(
        "temperature", water, "degF", "sanitizer", agent="chlorine", concentration_ppm=ppm, ph=ph
    )
    found = check(warmth, RULES)
    if found.verdict != "borderline":
        assert found.verdict == strength.verdict


@settings(max_examples=300, deadline=None)
@given(
    value=st.floats(-1e6, 1e6),
    limit=st.floats(-1e6, 1e6),
    band=st.floats(0, 10),
    operator=st.sampled_from(["<=", ">=", "+-"]),
    rule=st.sampled_from(["simple_acceptance", "guarded_acceptance", "guarded_rejection"]),
)
def test_the_outcome_follows_from_the_side_and_the_band(
    value: float, limit: float, band: float, operator: str, rule: str
) -> None:
    found = compare(value, operator, limit, tolerance=2.0, band=band, rule=rule)  # type: ignore[arg-type]
    assert found.margin == exact(value - limit)
    if found.beyond <= 0:
        assert found.outcome in ("meets", "borderline")
    else:
        assert found.outcome in ("violates", "borderline")
    if abs(found.beyond) > band or band == 0:
        assert found.outcome == ("meets" if found.beyond <= 0 else "violates")


@settings(max_examples=300, deadline=None)
@given(value=st.decimals(-99, 999, places=1), offset=st.decimals(-5, 5, places=1))
def test_sums_of_decimals_as_read_have_no_binary_error_at_a_limit(value: object, offset: object) -> None:
    """41.2 less 0.2 is 41, which meets 41; plain binary arithmetic says 41.00000000000001 for such sums."""
    read, off = float(str(value)), float(str(offset))
    true = float(str(value - offset))  # type: ignore[operator]
    assert exact(read - off) == true
    assert compare(exact(read - off), "<=", true).passing
    assert compare(exact(read - off), ">=", true).passing


@settings(max_examples=200, deadline=None)
@given(
    value=st.integers(0, 100_000).map(lambda tenths: tenths / 10),
    unit=st.sampled_from(["second", "minute", "hour", "day"]),
    to=st.sampled_from(["second", "minute", "hour", "day"]),
)
def test_converting_a_time_and_back_changes_nothing(value: float, unit: str, to: str) -> None:
    there, back = factor(unit, to), factor(to, unit)
    assert there is not None and back is not None
    assert exact(value * there * back) == exact(value)
    assert exact(seconds(value * there, to)) == pytest.approx(seconds(value, unit), rel=1e-12)


@settings(max_examples=200, deadline=None)
@given(
    value=st.integers(0, 20_000).map(lambda hundredths: hundredths / 100),
    stage=st.sampled_from(["time_control", "reheating", "storage"]),
)
def test_a_time_is_judged_alike_in_any_unit(value: float, stage: str) -> None:
    hours = check(Measured("duration", value, "hour", stage, "rice"), RULES)
    minutes = check(Measured("duration", value * 60, "minute", stage, "rice"), RULES)
    assert hours.verdict == minutes.verdict


@settings(max_examples=400, deadline=None)
@given(
    kind=st.sampled_from(sorted(UNITS)),
    stage=st.sampled_from(STAGES),
    unit=st.sampled_from([unit for units in UNITS.values() for unit in units] + ["", "furlong"]),
    value=st.one_of(TENTHS, st.floats(allow_nan=True, allow_infinity=True)),
    item=st.one_of(st.none(), st.sampled_from(ITEMS), st.text(max_size=40)),
    place=st.one_of(st.none(), st.text(max_size=40)),
    agent=st.sampled_from([None, "chlorine", "quat", "iodine", "peracetic", "lactic", "hot_water"]),
    says=st.frozensets(st.sampled_from(CONDITIONS), max_size=4),
    held=st.sampled_from([None, 0.0, 17.0, 1e9]),
    ph=st.sampled_from([None, -1.0, 7.0, 15.0]),
    label=st.sampled_from([None, 0.0, 200.0]),
    name=st.sampled_from(names()),
)  # fmt: skip
def test_any_reading_gets_an_answer(
    kind: str, stage: str, unit: str, value: float, item: str | None, place: str | None, agent: str | None,
    says: frozenset[str], held: float | None, ph: float | None, label: float | None, name: str,
) -> None:  # fmt: skip
    reading = Measured(
        kind, value, unit, stage, item, place=place, agent=agent, says=says, held_s=held, ph=ph,
        label_min=label, water=Quantity(75, "degF") if ph else None,
        diameter=Quantity(1, "inch") if label else None,
    )  # fmt: skip
    found = check(reading, load(name), instrument=Instrument(offset={"degF": 0.3}))
    assert found.verdict in WORSE
    assert found.why and "\n" not in found.why
    assert (found.verdict == "undetermined") <= bool(found.missing)
    if found.verdict == "none":
        assert found.missing == ()

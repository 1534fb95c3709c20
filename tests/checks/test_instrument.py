"""The thermometer of the day to the last figure: its offset, its band, and which of its checks count.

°F = °C × 9/5 + 32 (NIST SP 811); ice at 32 °F and 0 °C, water boils at 212 °F and 100 °C at sea level.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from extract.checks import Instrument, Measured, Quantity, check, instrument, of_the_day
from extract.checks.boiling import boiling_point
from extract.checks.measured import ICE
from shared.rules import load
from shared.types import Check

RULES = load("food_code_2022")


@pytest.mark.parametrize(
    ("accuracy", "unit", "band"),
    [
        ({"degF": 1.5}, "degF", 1.5),
        ({"degC": 1.0}, "degF", 1.8),
        ({"degF": 1.8}, "degC", 1.0),
        ({"degF": 0.1}, "degC", 0.055556),
        ({"degC": 0.5, "degF": 2.0}, "degF", 2.0),
        ({}, "degF", 2.0),
        ({"degC": 1.0}, "ppm", 0.0),
        ({"degF": 1.0}, "ppm", 0.0),
    ],
)
def test_an_accuracy_counts_in_either_unit(accuracy: dict[str, float], unit: str, band: float) -> None:
    assert Instrument(accuracy=accuracy).band(unit, {"degF": 2.0}) == band


@pytest.mark.parametrize(
    ("ice", "boiling", "read", "true"),
    [
        # 2 °F high in ice, 1.1 °F high in boiling water: a tenth of the way, 1.91 °F high
        ({"degF": 2.0}, {"degF": 1.1}, 50.0, 48.09),
        ({"degF": 2.0}, {"degF": 1.1}, 32.0, 30.0),
        ({"degF": 2.0}, {"degF": 1.1}, 212.0, 210.9),
        # 1 °C high in ice, 2.5 °C high in boiling water: a fifth of the way, 1.3 °C high
        ({"degC": 1.0}, {"degC": 2.5}, 20.0, 18.7),
        ({"degC": 1.0}, {"degC": 2.5}, 0.0, -1.0),
        ({"degC": 1.0}, {"degC": 2.5}, 100.0, 97.5),
        ({"degF": 0.2}, {}, 41.2, 41.0),
        ({}, {}, 41.0000001, 41.0000001),
    ],
)
def test_an_offset_is_straight_between_its_two_checks(
    ice: dict[str, float], boiling: dict[str, float], read: float, true: float
) -> None:
    unit = next(iter(ice), "degF")
    assert Instrument(offset=ice, offset_boiling=boiling).true(read, unit) == true


@pytest.mark.parametrize(
    ("unit", "ice", "height"), [("degF", 34.0, 1609), ("degC", 1.0, 3000), ("degF", 34.0, 0)]
)
def test_the_line_runs_through_the_boiling_point_of_the_site(unit: str, ice: float, height: float) -> None:
    """3 degrees high where water boils there (by CoolProp 202.4 °F at 1609 m), in ice as it was read."""
    point = boiling_point(height, unit)
    found = instrument(ice=Quantity(ice, unit), boiling=Quantity(point + 3, unit), elevation_m=height)
    assert found.true(point, unit) == pytest.approx(point - 3, abs=1e-5)
    assert found.true(ICE[unit], unit) == 2 * ICE[unit] - ice


def test_checks_in_two_units_make_one_line() -> None:
    """33.8 °F in ice is 1 °C high, 103 °C in boiling water 3 °C high: half-way, at 50 °C, 2 °C high."""
    found = instrument(ice=Quantity(33.8, "degF"), boiling=Quantity(103, "degC"))
    assert found.true(50, "degC") == 48
    assert found.true(122, "degF") == pytest.approx(118.4, abs=1e-5)


def test_water_boils_at_sea_level_unless_a_height_is_said() -> None:
    assert instrument(boiling=Quantity(212, "degF")).true(41, "degF") == 41
    assert instrument(boiling=Quantity(100, "degC")).true(5, "degC") == 5


def checked(value: float, unit: str = "degF", item: str | None = "my probe") -> Measured:
    return Measured("temperature", value, unit, "thermometer_check", item)


@pytest.mark.parametrize(
    ("value", "unit", "true"),
    [
        # common practice, no source: no check is off by more than 10 °F or 5 °C
        (42, "degF", 31), (42.1, "degF", 41), (22, "degF", 51), (21.9, "degF", 41), (33, "degF", 40),
        (222, "degF", 31), (222.1, "degF", 41), (202, "degF", 51), (201.9, "degF", 41), (213, "degF", 40),
        (5, "degC", 36), (5.1, "degC", 41), (-5, "degC", 46), (-5.1, "degC", 41), (1, "degC", 40),
        (105, "degC", 36), (105.1, "degC", 41), (95, "degC", 46), (94.9, "degC", 41),
    ],
)  # fmt: skip
def test_a_reading_far_from_both_points_is_no_check(value: float, unit: str, true: float) -> None:
    assert of_the_day([checked(value, unit)], elevation_m=0).true(41, unit) == true


def test_the_height_of_the_site_counts() -> None:
    """At 1609 m water boils at 202.36 °F (CoolProp, IAPWS R7-97)."""
    assert of_the_day([checked(202.36)], elevation_m=1609).true(41, "degF") == 41


def test_boiling_water_at_a_height_that_is_not_known_corrects_nothing() -> None:
    """202.4 °F is right at 1609 m and 9.6 °F low at sea level."""
    assert of_the_day([checked(202.4)]).true(41, "degF") == 41
    assert of_the_day([checked(33), checked(202.4)]).true(41, "degF") == 40


def test_the_first_check_of_each_kind_counts() -> None:
    found = of_the_day([checked(33), checked(36), checked(212), checked(215)], elevation_m=0)
    assert (found.true(32, "degF"), found.true(212, "degF")) == (31, 212)


@pytest.mark.parametrize("item", ["their thermometer", "the dial on the cooler"])
def test_somebody_elses_thermometer_corrects_nothing(item: str) -> None:
    assert of_the_day([checked(36, item=item)]).true(41, "degF") == 41


def test_a_stated_accuracy_is_a_difference_in_either_unit() -> None:
    found = of_the_day([], accuracy_degf=1.8)
    assert found.band("degF", {}) == 1.8
    assert found.band("degC", {}) == pytest.approx(1.0, abs=1e-12)
    assert of_the_day([]).band("degF", {"degF": 2.0}) == 2.0


# ---------------------------------------------------------------- one rule for every temperature compared


def read(value: float, unit: str = "degF", *, stage: str, item: str | None = "ham", **facts: Any) -> Measured:
    facts["says"] = frozenset(facts.pop("said", "").split())
    return Measured("temperature", value, unit, stage, item, **facts)


CASES = [
    # a reading, and the figure of FDA Food Code 2022 that it is held against, in the unit read
    pytest.param(read(41, stage="cold_holding"), id="cold 3-501.16(A)(2)"),
    pytest.param(read(57, "degC", stage="hot_holding", item="rice"), id="hot 3-501.16(A)(1)"),
    pytest.param(read(41, stage="cooling", item="soup"), id="one cooling reading 3-501.14(A)(2)"),
    pytest.param(read(135, stage="cooling", item="soup"), id="the start of cooling 3-501.14(A)"),
    pytest.param(read(41, stage="thawing"), id="thawing, not said how 3-501.13"),
    pytest.param(read(41, stage="thawing", said="running_water"), id="thawing in water 3-501.13(B)(3)"),
    pytest.param(read(41, stage="thawing", said="refrigerated"), id="thawing in the cold 3-501.13(A)"),
    pytest.param(read(70, stage="thawing", item=None, said="water"), id="the water 3-501.13(B)(1)"),
    pytest.param(read(165, stage="cooking", item="chicken"), id="poultry 3-401.11(A)(3)"),
    pytest.param(read(130, stage="cooking", item="prime rib", held_s=6720), id="the roast table 3-401.11(B)"),
    pytest.param(read(158, stage="cooking", item="prime rib"), id="a roast in an instant 3-401.11(B)"),
    pytest.param(read(165, stage="reheating", item="stew"), id="reheating 3-403.11(A)"),
    pytest.param(read(32, stage="receiving", item="fish", said="frozen"), id="frozen 3-202.11(E)"),
    pytest.param(read(41, stage="receiving", item="fish"), id="received 3-202.11(A)"),
    pytest.param(read(70, stage="time_control", said="six_hour"), id="six hours 3-501.19(C)(1)"),
    pytest.param(read(45, stage="ambient", item="eggs"), id="air around eggs 3-501.16(B)"),
    pytest.param(read(85, stage="handwashing", item=None), id="hand sink 5-202.12(A)"),
    pytest.param(read(180, stage="machine_rinse", item=None), id="final rinse 4-501.112(A)(2)"),
    pytest.param(read(171, stage="manual_sanitize", item=None), id="hot water 4-501.111"),
    pytest.param(
        read(75, stage="sanitizer", item=None, agent="chlorine", concentration_ppm=50, ph=7.5),
        id="warm chlorine 4-501.114(A)",
    ),
    pytest.param(read(75, stage="sanitizer", item=None, agent="quat"), id="warm quat 4-501.114(C)"),
]


def outcome(found: Check) -> tuple[object, ...]:
    """All that is found but the sentence, which tells the correction as well."""
    return found.verdict, found.section, found.limit, found.margin, found.missing


@pytest.mark.parametrize("measured", CASES)
@pytest.mark.parametrize("offset", [1.3, -0.7])
@pytest.mark.parametrize("step", [-0.1, 0, 0.1])
def test_a_temperature_counts_as_it_truly_was(measured: Measured, offset: float, step: float) -> None:
    """At, just under and just over each figure: what a thermometer reads high is taken off before."""
    true = replace(measured, value=round(measured.value + step, 6))
    shown = replace(true, value=round(true.value + offset, 6))
    found = check(shown, RULES, instrument=Instrument(offset={measured.unit: offset}))
    assert outcome(found) == outcome(check(true, RULES))
    assert found.why.startswith(_told(shown, true))


def _told(shown: Measured, true: Measured) -> str:
    high = shown.value > true.value
    step, way, off = ("less", "high", 1.3) if high else ("plus", "low", 0.7)
    sign = {"degF": "°F", "degC": "°C"}[true.unit]
    read, was = (f"{one.value:g} {sign}" for one in (shown, true))
    return f"{read} read, {step} {off} {sign} that the thermometer reads {way}, is {was}; "


@pytest.mark.parametrize(
    ("value", "verdict"), [(38.9, "meets"), (39, "borderline"), (41, "borderline"), (41.1, "undetermined")]
)
def test_one_reading_of_thawing_food_knows_the_band(value: float, verdict: str) -> None:
    """3-501.13: at most 41 °F, or over it for no longer than 4 hours; a thermometer is ± 2 °F (4-203.11)."""
    assert check(read(value, stage="thawing"), RULES).verdict == verdict


@pytest.mark.parametrize(
    ("value", "verdict", "near"),
    [(38.9, "meets", False), (39, "meets", True), (41, "meets", True), (41.1, "undetermined", True),
     (43, "undetermined", True), (43.1, "undetermined", False)],
)  # fmt: skip
def test_one_reading_of_cooling_food_says_when_it_is_near(value: float, verdict: str, near: bool) -> None:
    """3-501.14(A)(2): 41 °F. Whether in time, one reading cannot tell; the band is told beside it."""
    found = check(read(value, stage="cooling", item="soup"), RULES)
    assert (found.verdict, "within the thermometer's ±2 °F" in found.why) == (verdict, near)


def test_guarded_acceptance_holds_one_reading_of_cooling_food_too() -> None:
    rules = replace(RULES, decision=replace(RULES.decision, rule="guarded_acceptance"))
    found = [check(read(value, stage="cooling", item="soup"), rules).verdict for value in (39, 39.1, 41)]
    assert found == ["meets", "borderline", "borderline"]


@pytest.mark.parametrize(("water", "verdict"), [(76.3, "meets"), (76.2, "violates")])
def test_the_temperature_beside_a_strength_is_corrected(water: float, verdict: str) -> None:
    """4-501.114(A): 50 ppm at pH 8 or less needs 75 °F; the thermometer reads 1.3 °F high."""
    solution = Measured(
        "concentration", 50, "ppm", "sanitizer", agent="chlorine", ph=8, water=Quantity(water, "degF")
    )
    found = check(solution, RULES, instrument=Instrument(offset={"degF": 1.3}))
    assert found.verdict == verdict
    assert f"{water:g} °F read, less 1.3 °F that the thermometer reads high, is" in found.why


@pytest.mark.parametrize(("at", "verdict"), [(131.3, "meets"), (131.2, "violates")])
def test_the_temperature_beside_a_time_is_corrected(at: float, verdict: str) -> None:
    """3-401.11(B)(1): 112 minutes at 130 °F; the thermometer reads 1.3 °F high."""
    held = Measured("duration", 112, "minute", "cooking", "prime rib", at=Quantity(at, "degF"))
    assert check(held, RULES, instrument=Instrument(offset={"degF": 1.3})).verdict == verdict


@pytest.mark.parametrize(
    "measured",
    [
        read(34, stage="thermometer_check", item="my probe"),
        read(201, stage="thermometer_check", item="my probe", said="boiling", elevation_m=1609.0),
        Measured("concentration", 50, "ppm", "sanitizer", agent="chlorine"),
        Measured("length", 5.9, "inch", "storage", says=frozenset({"floor_equipment"})),
    ],
)
def test_what_the_thermometer_did_not_measure_or_checks_itself_is_not_corrected(measured: Measured) -> None:
    off = Instrument(offset={"degF": 2.0})
    assert check(measured, RULES, instrument=off) == check(measured, RULES)

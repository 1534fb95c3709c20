"""Readings at, under and over each figure that decides something, with their limit and their sentence.

Figures: FDA Food Code 2022, with their sources in shared/rules, where no other source is named.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from extract.checks import Measured, Quantity, check
from extract.checks.between import Range
from extract.checks.surroundings import conditions
from extract.checks.tcs import by_table
from shared.errors import InputError
from shared.rules import load
from shared.rules.model import Rules
from tests.checks.making import HERE, food

RULES = load("food_code_2022")


def said(*conditions: str) -> frozenset[str]:
    return frozenset(conditions)


# ---------------------------------------------------------------- a range with one end or both


@pytest.mark.parametrize(
    ("value", "least", "most", "verdict", "operator", "margin"),
    [
        (4.0, 4.0, None, "meets", ">=", 0.0), (3.9, 4.0, None, "violates", ">=", -0.1),
        (4.1, 4.0, None, "meets", ">=", 0.1), (4.2, None, 4.2, "meets", "<=", 0.0),
        (4.3, None, 4.2, "violates", "<=", 0.1), (4.1, None, 4.2, "meets", "<=", -0.1),
        (4.2, 4.0, 4.2, "meets", ">=", 0.2), (4.3, 4.0, 4.2, "violates", "<=", 0.1),
        (4.0, 4.0, 4.2, "meets", ">=", 0.0), (3.9, 4.0, 4.2, "violates", ">=", -0.1),
    ],
)  # fmt: skip
def test_the_ends_of_a_range_are_inside(
    value: float, least: float | None, most: float | None, verdict: str, operator: str, margin: float
) -> None:
    found = Range(least, most).check(value, "pH")
    assert found is not None
    assert (found.verdict, found.operator, found.margin) == (verdict, operator, margin)
    assert Range(None, None).check(value, "pH") is None


@pytest.mark.parametrize(
    ("value", "why"),
    [
        (4.3, "pH 4.3 is over the pH 4.2 of the approved plan"),
        (4.2, "pH 4.2 is within the pH 4.2 of the approved plan"),
    ],
)
def test_the_limit_of_an_approved_plan(value: float, why: str) -> None:
    found = check(Measured("ph", value, "pH", "other", "rice", label_max=4.2), RULES)
    assert (found.why, found.limit) == (why, 4.2)
    assert found.section == RULES.duties["approved_plan"].section


def test_a_figure_under_an_approved_plan_says_so() -> None:
    found = check(Measured("water_activity", 0.84, "aw", "other", label_min=0.85), RULES)
    assert found.verdict == "violates" and " is under the " in found.why


# ---------------------------------------------------------------- one at a time


@pytest.mark.parametrize(
    ("gap", "diameter", "why"),
    [
        (1.5, 0.5, "1.5 in is 0.5 in over the 1 in needed, the least allowed"),
        (0.5, 0.5, "0.5 in is 0.5 in under the 1 in needed, the least allowed"),
        (2.0, 1.0, "2 in is exactly the 2 in needed, twice the diameter of the inlet"),
    ],
)
def test_an_air_gap_in_words(gap: float, diameter: float, why: str) -> None:
    """5-202.13: twice the inside diameter, at least 1 inch."""
    inlet = Quantity(diameter, "inch")
    reading = Measured("length", gap, "inch", "other", diameter=inlet, says=said("air_gap"))
    assert check(reading, RULES).why == why


@pytest.mark.parametrize(
    ("elevation_m", "value", "limit", "verdict"),
    [
        # CoolProp (IAPWS-95): 209.0 °F at 500 m, 202.4 °F at 1609 m; within 2 °F as in ice water
        (None, 214, 212.0, "meets"), (None, 214.1, 212.0, "undetermined"), (None, 210, 212.0, "meets"),
        (None, 209.9, 212.0, "undetermined"), (0, 214, 212.0, "meets"), (0, 214.1, 212.0, "violates"),
        (0, 210, 212.0, "meets"), (0, 209.9, 212.0, "violates"), (1609, 204.4, 202.4, "meets"),
        (1609, 204.5, 202.4, "violates"),
        (500, 211, 209.0, "meets"), (500, 211.1, 209.0, "violates"),
    ],
)  # fmt: skip
def test_a_thermometer_in_boiling_water(
    elevation_m: float | None, value: float, limit: float, verdict: str
) -> None:
    reading = Measured(
        "temperature", value, "degF", "thermometer_check", says=said("boiling"), elevation_m=elevation_m
    )
    found = check(reading, RULES)
    assert (found.verdict, found.limit) == (verdict, limit)
    assert found.section == RULES.limits["ice_point"].section
    asks = ("the height of the site above sea level",) if verdict == "undetermined" else ()
    assert found.missing == asks
    assert (f"at {elevation_m or 0:g} m" in found.why) != bool(asks)


@pytest.mark.parametrize(
    ("value", "verdict"),
    [(150, "none"), (135, "none"), (134.9, "undetermined"), (38, "meets"), (41, "meets")],
)
def test_one_reading_of_a_cooling(value: float, verdict: str) -> None:
    assert check(Measured("temperature", value, "degF", "cooling", "soup"), RULES).verdict == verdict


@pytest.mark.parametrize(
    ("held", "unit", "degf", "limit", "verdict"),
    [
        # 3-401.11(B)(1): 130 °F 112 minutes, 133 °F 56 minutes, and so up to the next step
        (112, "minute", 130, 112, "meets"), (111.9, "minute", 130, 112, "violates"),
        (56, "minute", 133, 56, "meets"), (55.9, "minute", 134, 56, "violates"),
        (57, "minute", 134, 56, "meets"), (3360, "second", 133, 3360, "meets"),
        (1, "hour", 133, 0.933333, "meets"), (3, "hour", 129.9, None, "violates"),
    ],
)  # fmt: skip
def test_how_long_a_roast_was_held(
    held: float, unit: str, degf: float, limit: float | None, verdict: str
) -> None:
    found = check(Measured("duration", held, unit, "cooking", "prime rib", at=Quantity(degf, "degF")), RULES)
    assert (found.verdict, found.limit) == (verdict, limit)
    assert limit is not None or found.why == "129.9 °F is below 130 °F, the coolest step of the table"


@pytest.mark.parametrize(
    ("value", "item", "conditions_said", "verdict"),
    [
        (44, "ham", said("running_water"), "violates"),
        (41, "ham", said("running_water"), "borderline"),
        (39, "ham", said("running_water"), "borderline"),
        (38.9, "ham", said("running_water"), "meets"),
        (44, "raw chicken", said("running_water"), "undetermined"),
        (44, "ham", said(), "undetermined"),
    ],
)
def test_food_thawed_under_running_water(
    value: float, item: str, conditions_said: frozenset[str], verdict: str
) -> None:
    """3-501.13(B): ready-to-eat food under running water never goes over 41 °F."""
    reading = Measured("temperature", value, "degF", "thawing", item, says=conditions_said)
    assert check(reading, RULES).verdict == verdict


@pytest.mark.parametrize(
    ("value", "unit", "limit"), [(88, "degF", 41), (88.1, "degF", 135), (31, "degC", 5), (31.1, "degC", 57)]
)
def test_a_delivery_over_half_way_was_sent_hot(value: float, unit: str, limit: float) -> None:
    """Common practice, no source: half-way between the limits of cold and of hot food."""
    found = check(Measured("temperature", value, unit, "receiving", "shredded cheese"), RULES)
    assert (found.verdict, found.limit) == ("violates", limit)


def test_an_unknown_name_is_asked_about() -> None:
    found = check(Measured("temperature", 50, "degF", "cold_holding", "zorbleberry"), RULES)
    assert found.missing == ("whether zorbleberry is food that needs temperature control",)
    assert check(Measured("temperature", 50, "degF", "cold_holding"), RULES).missing == ()


def test_of_two_kinds_of_light_the_brightest_counts() -> None:
    assert conditions(None, "prep counter in the dry storage") == {"light_50"}
    assert "light_10" in conditions("dry storage", "prep counter")


@pytest.mark.parametrize(("aw", "ph"), [(-0.01, 5.0), (1.01, 5.0), (0.9, -0.1), (0.9, 14.1)])
def test_figures_that_cannot_be_are_refused(aw: float, ph: float) -> None:
    with pytest.raises(InputError, match="cannot be"):
        by_table(RULES, packaged=True, aw=aw, ph=ph)


# ---------------------------------------------------------------- tables


@pytest.mark.parametrize(
    ("value", "why"),
    [
        (150.5, "150.5 °F held 1 minute is 0.5 °F above the 150 °F"),
        (149.5, "149.5 °F held 1 minute is 0.5 °F below the 150 °F"),
        (150, "150 °F held 1 minute is exactly the 150 °F"),
    ],
)
def test_how_far_a_pair_of_the_table_is(value: float, why: str) -> None:
    found = check(Measured("temperature", value, "degF", "cooking", "beef patty", held_s=60), RULES)
    assert found.why.startswith(why)


def test_a_table_without_an_instant_step_ends_at_its_hottest() -> None:
    """The roast table of the 1990s ends at 145 °F for 3 minutes: 179 seconds are too short at any heat."""
    old = RULES.tables["roast_1990s"]
    rules = replace(RULES, tables={"roast": replace(old, in_force=True, foods=frozenset({"roast"}),
                                                   stages=frozenset({"cooking"}))})  # fmt: skip
    roast = Measured("temperature", 160, "degF", "cooking", "prime rib", held_s=179)
    found = check(roast, rules)
    assert (found.verdict, found.limit) == ("violates", 145)
    assert found.why == "held 3 minutes; even at 145 °F 3 minutes are needed"
    assert check(replace(roast, held_s=180), rules).verdict == "meets"
    asked = check(replace(roast, held_s=None), rules)
    assert (asked.verdict, asked.limit) == ("undetermined", 145)


# ---------------------------------------------------------------- facts that were left unsaid


@pytest.mark.parametrize(
    ("value", "verdict", "limit"),
    [
        # 135 °F plant food, 145 °F whole meat, 155 °F ground meat, 165 °F poultry; the thermometer ±2 °F
        (170, "meets", 165), (167.1, "meets", 165), (165.5, "borderline", 165), (165, "borderline", 165),
        (164.9, "undetermined", 165), (135, "undetermined", 145), (134.9, "borderline", 135),
        (133, "borderline", 135), (132.9, "violates", 135), (100, "violates", 135),
    ],
)  # fmt: skip
def test_an_unknown_food_that_is_cooked(value: float, verdict: str, limit: float) -> None:
    found = check(Measured("temperature", value, "degF", "cooking", "zorbleberry"), RULES)
    assert (found.verdict, found.limit) == (verdict, limit)


BRIEFLY = load(HERE / "briefly_cold.toml")


@pytest.mark.parametrize(
    ("value", "verdict", "limit"),
    [
        # 41 °F, or 45 °F for food that is kept briefly; the thermometer ±2 °F
        (38.9, "meets", 41), (40, "borderline", 41), (41, "borderline", 41), (41.1, "undetermined", 41),
        (43.5, "undetermined", 41), (45, "undetermined", 41), (45.1, "borderline", 45),
        (47, "borderline", 45), (47.1, "violates", 45),
    ],
)  # fmt: skip
def test_a_question_about_a_highest_temperature(value: float, verdict: str, limit: float) -> None:
    """Figures of an invented code: common practice, no source."""
    found = check(Measured("temperature", value, "degF", "cold_holding", "ham"), BRIEFLY)
    assert (found.verdict, found.limit) == (verdict, limit)
    if verdict == "undetermined":
        assert found.why == "it depends on how long it is kept: the limit is at most 41 °F or 45 °F"


def test_one_limit_in_two_answers_is_named_once() -> None:
    found = check(Measured("illuminance", 15, "foot_candle", "lighting"), RULES)
    assert found.why.endswith("the limit is at least 10 foot candles, 20 foot candles or 50 foot candles")
    unsure = check(Measured("temperature", 120, "degF", "cooking", "salmon", says=said("consumer_request")),
                   RULES)  # fmt: skip
    assert unsure.verdict == "undetermined"


def test_the_worst_of_several_limits_is_the_verdict() -> None:
    """A row of its own for food that two limits hold for, one borderline and one failed."""
    rules = _two_limits(RULES)
    for value, verdict, limit in (
        (30, "meets", 35),
        (34, "borderline", 35),
        (40, "violates", 35),
        (45, "violates", 35),
    ):
        reading = Measured("temperature", value, "degF", "cold_holding", food=food("dairy"))
        found = check(reading, rules)
        assert (found.verdict, found.limit) == (verdict, limit)


def _two_limits(rules: Rules) -> Rules:
    cold = rules.limits["cold_holding"]
    strict = replace(cold, id="stricter", values={"degF": 35.0}, section="another")
    return replace(rules, by_stage={("cold_holding", "temperature"): (cold, strict)})

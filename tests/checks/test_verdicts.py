"""What `check` says, one reading a row. Limits: FDA Food Code 2022, with their sources in shared/rules."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

import pytest

from extract.checks import Instrument, Measured, Quantity, check, instrument
from shared.rules import load

RULES = load("food_code_2022")
COUNTY = load("quillmere_county")


def said(*conditions: str) -> frozenset[str]:
    return frozenset(conditions)


@pytest.mark.parametrize(
    ("stage", "item", "value", "unit", "verdict"),
    [
        # cold holding: 41 °F or 5 °C, borderline within the thermometer's 2 °F or 1 °C on either side
        ("cold_holding", "sliced turkey", 38.9, "degF", "meets"),
        ("cold_holding", "sliced turkey", 39, "degF", "borderline"),
        ("cold_holding", "sliced turkey", 43, "degF", "borderline"),
        ("cold_holding", "sliced turkey", 43.1, "degF", "violates"),
        ("cold_holding", "custard", 6, "degC", "borderline"),
        ("cold_holding", "custard", 6.1, "degC", "violates"),
        ("cold_holding", "custard", 3.9, "degC", "meets"),
        # food that needs no temperature control has no limit; cut, it may
        ("cold_holding", "cut onions", 50, "degF", "none"),
        ("cold_holding", "whole heads of lettuce", 60, "degF", "none"),
        # and meets one that it keeps anyway, by the same accuracy
        ("cold_holding", "whole heads of lettuce", 38.9, "degF", "meets"),
        ("cold_holding", "whole heads of lettuce", 41, "degF", "borderline"),
        ("cold_holding", "whole heads of lettuce", 41.1, "degF", "none"),
        ("hot_holding", "dinner rolls", 137.1, "degF", "meets"),
        ("hot_holding", "dinner rolls", 134.9, "degF", "none"),
        ("receiving", "whole heads of lettuce", 38, "degF", "none"),
        ("cold_holding", "croutons with cheese", 46, "degF", "none"),
        ("cold_holding", "shredded lettuce", 52, "degF", "violates"),
        ("cold_holding", "cut watermelon", 62, "degF", "violates"),
        # a name that nobody knows is treated as TCS food
        ("cold_holding", "zorbleberry pate", 50, "degF", "violates"),
        # shell eggs: the air around them
        ("cold_holding", "eggs in the shell", 79, "degF", "violates"),
        ("cold_holding", "eggs in the shell", 42, "degF", "meets"),
        # out of its shell an egg is held as other food is
        ("cold_holding", "diced eggs", 45, "degF", "violates"),
        ("ambient", None, 80, "degF", "none"),
        ("ambient", "shell eggs", 52, "degF", "violates"),
        # hot holding: 135 °F or 57 °C as printed, roasts 130 °F
        ("hot_holding", "rice", 133, "degF", "borderline"),
        ("hot_holding", "rice", 132.9, "degF", "violates"),
        ("hot_holding", "rice", 57, "degC", "borderline"),
        ("hot_holding", "rice", 58.1, "degC", "meets"),
        ("hot_holding", "broccoli", 118, "degF", "violates"),
        ("hot_holding", "brisket", 127.9, "degF", "violates"),
        ("hot_holding", "brisket", 129.9, "degF", "borderline"),
        ("hot_holding", "brisket", 130, "degF", "undetermined"),
        ("hot_holding", "brisket", 134.9, "degF", "undetermined"),
        ("hot_holding", "brisket", 135, "degF", "borderline"),
        ("hot_holding", "brisket", 137.1, "degF", "meets"),
        # the unsliced rest of a roast may be reheated by the roast table (3-403.11(E)): 158 °F at once
        ("reheating", "brisket", 127.9, "degF", "violates"),
        ("reheating", "brisket", 130, "degF", "undetermined"),
        ("reheating", "brisket", 164.9, "degF", "undetermined"),
        ("reheating", "brisket", 165, "degF", "borderline"),
        ("reheating", "brisket", 167.1, "degF", "meets"),
        ("reheating", "sliced brisket", 158, "degF", "violates"),
        ("reheating", "unsliced brisket", 160.1, "degF", "meets"),
        ("hot_holding", "pulled pork", 129, "degF", "violates"),
        # freezers have no limit
        ("freezing", None, 9, "degF", "none"),
        ("freezing", "halibut", 9, "degF", "none"),
        # cooking, by what the food is
        ("cooking", "salmon", 149, "degF", "meets"),
        ("cooking", "pork chops", 142, "degF", "violates"),
        ("cooking", "beef patties", 150, "degF", "violates"),
        ("cooking", "lamb koftas", 64, "degC", "violates"),
        ("cooking", "turkey burgers", 160, "degF", "violates"),
        ("cooking", "stuffed chicken breast", 171, "degF", "meets"),
        ("cooking", "chicken thighs", 163, "degF", "borderline"),
        ("cooking", "omelet", 150, "degF", "meets"),
        ("cooking", "green beans", 140, "degF", "meets"),
        # reheating
        ("reheating", "chili", 152, "degF", "violates"),
        ("reheating", "canned baked beans", 147, "degF", "meets"),
        # receiving: a delivery above half-way was sent hot
        ("receiving", "shredded cheese", 38, "degF", "meets"),
        ("receiving", "milk", 44, "degF", "borderline"),
        ("receiving", "smoked wings", 122, "degF", "violates"),
        ("receiving", "mac and cheese", 141, "degF", "meets"),
        # water and dishes
        ("handwashing", None, 88, "degF", "meets"),
        ("handwashing", None, 68, "degF", "violates"),
        ("manual_wash", None, 94, "degF", "violates"),
        ("utensil_surface", "plate", 154, "degF", "violates"),
        ("machine_rinse", None, 203, "degF", "violates"),
        ("machine_rinse", None, 188, "degF", "meets"),
        # the ice-water check has a tolerance and no band
        ("thermometer_check", "probe", 33, "degF", "meets"),
        ("thermometer_check", "probe", 34, "degF", "meets"),
        ("thermometer_check", "probe", 34.1, "degF", "violates"),
        ("thermometer_check", "probe", -1.1, "degC", "violates"),
    ],
)  # fmt: skip
def test_a_temperature(stage: str, item: str | None, value: float, unit: str, verdict: str) -> None:
    assert check(Measured("temperature", value, unit, stage, item), RULES).verdict == verdict


@pytest.mark.parametrize(
    ("measured", "asks"),
    [
        (Measured("temperature", 146, "degF", "cooking", "eggs"), "one order"),
        (Measured("temperature", 150, "degF", "cooking", "zorbleberry"), "what the food is"),
        (Measured("temperature", 140, "degF", "cooking", "prime rib"), "how long the temperature was held"),
        (Measured("temperature", 150, "degF", "reheating", "hot dogs"), "commercially sealed package"),
        (Measured("temperature", 155, "degF", "machine_wash"), "what kind of machine"),
        (Measured("illuminance", 28, "foot_candle", "lighting"), "what the place is used for"),
        (Measured("temperature", 58, "degF", "thawing", "chicken"), "how long it has been above"),
        (Measured("temperature", 64, "degF", "time_control", "batter"), "written procedure"),
        (Measured("temperature", 44, "degF", "cooling", "egg salad"), "when it began to cool"),
        (
            Measured("temperature", 138, "degF", "cooking", "burger", says=said("consumer_request")),
            "advisory",
        ),
        (Measured("concentration", 50, "ppm", "sanitizer", agent="chlorine"), "temperature of the solution"),
        (
            Measured("concentration", 50, "ppm", "sanitizer", agent="chlorine", water=Quantity(80, "degF")),
            "the pH of the solution",
        ),
        (Measured("concentration", 200, "ppm", "sanitizer", agent="quat"), "label"),
        (Measured("concentration", 100, "ppm", "sanitizer"), "which sanitizer"),
        (Measured("length", 1.5, "inch", "other", says=said("air_gap")), "diameter"),
        (Measured("duration", 2, "hour", "cooking", "prime rib"), "temperature that was held"),
        (Measured("temperature", 78, "degF", "sanitizer", agent="chlorine"), "strength"),
    ],
)
def test_a_missing_fact_is_asked_for_and_not_assumed(measured: Measured, asks: str) -> None:
    found = check(measured, RULES)
    assert found.verdict == "undetermined"
    assert asks in " ".join(found.missing)
    assert found.why


@pytest.mark.parametrize(
    "measured",
    [
        Measured("temperature", 168, "degF", "cooking", "zorbleberry"),
        Measured("temperature", 160, "degF", "cooking", "eggs"),
        Measured("temperature", 161, "degF", "cooking", "prime rib"),
        Measured("temperature", 170, "degF", "machine_wash"),
        Measured("illuminance", 55, "foot_candle", "lighting"),
        Measured("temperature", 168, "degF", "reheating", "hot dogs", held_s=15),
        Measured("concentration", 50, "ppm", "sanitizer", agent="chlorine", water=Quantity(100, "degF")),
    ],
)
def test_a_missing_fact_is_not_asked_for_where_every_answer_passes(measured: Measured) -> None:
    found = check(measured, RULES)
    assert (found.verdict, found.missing) == ("meets", ())


@pytest.mark.parametrize(
    ("measured", "verdict"),
    [
        (Measured("concentration", 100, "ppm", "sanitizer", agent="chlorine"), "meets"),
        (Measured("concentration", 200, "ppm", "sanitizer", agent="chlorine"), "meets"),
        (
            Measured("concentration", 200, "ppm", "sanitizer", agent="chlorine", says=said("more_than")),
            "violates",
        ),
        (Measured("concentration", 24.9, "ppm", "sanitizer", agent="chlorine"), "violates"),
        (
            Measured("concentration", 0, "ppm", "sanitizer", "plate", place="low temp dish machine"),
            "violates",
        ),
        (
            Measured("concentration", 300, "ppm", "sanitizer", agent="quat", label_min=200, label_max=400),
            "meets",
        ),
        (
            Measured("concentration", 100, "ppm", "sanitizer", agent="quat", label_min=200, label_max=400),
            "violates",
        ),
        (
            Measured("concentration", 450, "ppm", "sanitizer", agent="quat", label_min=200, label_max=400),
            "violates",
        ),
        (Measured("concentration", 12.5, "ppm", "sanitizer", agent="iodine"), "meets"),
        (Measured("concentration", 5, "ppm", "sanitizer", agent="iodine"), "violates"),
        (
            Measured(
                "concentration", 50, "ppm", "sanitizer", agent="chlorine", ph=9, water=Quantity(78, "degF")
            ),
            "violates",
        ),
        (
            Measured("temperature", 78, "degF", "sanitizer", agent="chlorine", ph=9, concentration_ppm=50),
            "violates",
        ),
        (
            Measured(
                "ph", 9, "pH", "sanitizer", agent="chlorine", concentration_ppm=50, water=Quantity(78, "degF")
            ),
            "violates",
        ),
        (
            Measured(
                "ph",
                7.5,
                "pH",
                "sanitizer",
                agent="chlorine",
                concentration_ppm=50,
                water=Quantity(76, "degF"),
            ),
            "meets",
        ),
        (
            Measured("temperature", 76, "degF", "sanitizer", agent="chlorine", ph=7.5, concentration_ppm=50),
            "borderline",
        ),
        (Measured("ph", 10.5, "pH", "sanitizer", agent="chlorine", concentration_ppm=100), "violates"),
        (Measured("temperature", 75, "degF", "sanitizer", agent="iodine", concentration_ppm=12.5), "meets"),
        (Measured("temperature", 70, "degF", "sanitizer", agent="quat"), "violates"),
    ],
)
def test_a_sanitizer(measured: Measured, verdict: str) -> None:
    assert check(measured, RULES).verdict == verdict


@pytest.mark.parametrize(
    ("ppm", "verdict", "operator", "limit", "section"),
    [
        (200, "meets", ">=", 200, "4-501.114(C)"),
        (199.9, "violates", ">=", 200, "4-501.114(C)"),
        (400, "meets", ">=", 200, "4-501.114(C)"),
        (400.1, "violates", "<=", 400, "7-204.11"),
    ],
)
def test_both_ends_of_a_label_are_inside_its_range(
    ppm: float, verdict: str, operator: str, limit: float, section: str
) -> None:
    quat = Measured("concentration", ppm, "ppm", "sanitizer", agent="quat", label_min=200, label_max=400)
    found = check(quat, RULES)
    assert (found.verdict, found.operator, found.limit, found.section) == (verdict, operator, limit, section)


@pytest.mark.parametrize(
    ("water", "hardness", "verdict"),
    [
        (75, 500, "meets"),
        (74.9, 500, "borderline"),  # within the thermometer's 2 °F
        (72.9, 500, "violates"),
        (75, 500.1, "violates"),
    ],
)
def test_the_water_and_hardness_of_quat(water: float, hardness: float, verdict: str) -> None:
    """FDA Food Code 2022, 4-501.114(C), seen in Wisconsin's adopted text."""
    quat = Measured(
        "concentration", 300, "ppm", "sanitizer", agent="quat", label_min=200, label_max=400,
        water=Quantity(water, "degF"), hardness_ppm=hardness,
    )  # fmt: skip
    assert check(quat, RULES).verdict == verdict


@pytest.mark.parametrize(
    ("agent", "value", "label_min", "label_max", "verdict"),
    [
        ("quat", 7.0, None, 7.0, "meets"),
        ("quat", 7.1, None, 7.0, "violates"),
        ("quat", 6.0, 6.0, None, "meets"),
        ("quat", 5.9, 6.0, 7.0, "violates"),
        ("quat", 7.0, None, None, "none"),
        ("iodine", 4.5, None, None, "meets"),
        ("iodine", 5.0, None, None, "meets"),
        ("iodine", 5.1, None, None, "undetermined"),  # the label may allow more: 4-501.114(B)(2)
        ("chlorine", 10.0, None, None, "undetermined"),
        ("chlorine", 10.1, None, None, "violates"),
    ],
)
def test_the_ph_of_a_sanitizer(
    agent: str, value: float, label_min: float | None, label_max: float | None, verdict: str
) -> None:
    reading = Measured("ph", value, "pH", "sanitizer", agent=agent, label_min=label_min, label_max=label_max)
    assert check(reading, RULES).verdict == verdict


@pytest.mark.parametrize(
    ("strength", "ph", "water", "verdict"),
    [
        # 4-501.114(A): the coolest water for the strength and pH, ±2 °F borderline
        (30, 7, 117.9, "violates"), (30, 7, 118, "borderline"), (30, 7, 122.1, "meets"),
        (50, 9, 97.9, "violates"), (50, 9, 100, "borderline"), (50, 9, 102.1, "meets"),
        (50, 8, 72.9, "violates"), (50, 8, 75, "borderline"), (50, 8, 77.1, "meets"),
        (50, None, 72.9, "violates"), (50, None, 80, "undetermined"), (50, None, 102.1, "meets"),
        (100, 10, 52.9, "violates"), (100, None, 57.1, "meets"), (20, 7, 130, "violates"),
        (None, None, 119, "undetermined"), (None, None, 120, "borderline"), (None, None, 122.1, "meets"),
        (100, 10.5, 70, "violates"), (50, None, 75, "undetermined"), (50, None, 100, "borderline"),
    ],
)  # fmt: skip
def test_the_water_of_a_chlorine_solution(
    strength: float | None, ph: float | None, water: float, verdict: str
) -> None:
    reading = Measured(
        "temperature", water, "degF", "sanitizer", agent="chlorine", concentration_ppm=strength, ph=ph
    )
    assert check(reading, RULES).verdict == verdict


@pytest.mark.parametrize(
    ("measured", "verdict"),
    [
        (Measured("length", 0, "inch", "storage", "rice flour"), "violates"),
        (Measured("length", 15, "cm", "storage", "boxes"), "meets"),
        (Measured("length", 0.5, "foot", "storage", "boxes"), "meets"),
        (Measured("length", 0.5, "inch", "other", "door gap"), "none"),
        (Measured("length", 10, "inch", "cooling", "dal"), "none"),
        (Measured("illuminance", 410, "lux", "lighting", place="prep counter with the slicer"), "violates"),
        (Measured("illuminance", 230, "lux", "lighting", place="self service grab and go case"), "meets"),
        (Measured("illuminance", 14, "foot_candle", "lighting", place="dry storage"), "meets"),
        (Measured("pressure", 42, "psi", "machine_rinse"), "violates"),
        (Measured("pressure", 22, "psi", "machine_rinse"), "meets"),
        (Measured("duration", 11, "day", "storage", "egg salad"), "violates"),
        (Measured("duration", 7, "day", "storage", "tuna salad"), "meets"),
        (Measured("duration", 30, "day", "storage", "crackers"), "none"),
        (Measured("duration", 5, "hour", "time_control", "pizza"), "violates"),
        (Measured("duration", 240, "minute", "time_control", "pizza"), "meets"),
        (Measured("duration", 3, "hour", "reheating", "pureed beef"), "violates"),
        (Measured("duration", 2, "hour", "cooking", "prime rib", at=Quantity(134, "degF")), "meets"),
        (Measured("duration", 20, "minute", "cooking", "prime rib", at=Quantity(134, "degF")), "violates"),
        (Measured("duration", 5, "day", "freezing", "halibut", says=said("parasites")), "violates"),
        (Measured("temperature", -5, "degF", "freezing", "halibut", says=said("parasites")), "borderline"),
        (Measured("temperature", 71, "degF", "thawing", "water"), "borderline"),
        (Measured("temperature", 34, "degF", "receiving", "fish sticks", says=said("frozen")), "violates"),
        (
            Measured("temperature", 121, "degF", "time_control", "tapioca pearls", says=said("time_plan")),
            "none",
        ),
        (Measured("ph", 4.6, "pH", "other", "acid rice", label_max=4.2), "violates"),
        (Measured("ph", 4.2, "pH", "other", "acid rice", label_max=4.2), "meets"),
        (Measured("ph", 4.0, "pH", "other", "rice"), "none"),
        (Measured("water_activity", 0.86, "aw", "storage", "sausage"), "none"),
        (
            Measured("temperature", 203, "degF", "thermometer_check", says=said("boiling"), elevation_m=1609),
            "meets",
        ),
        (Measured("temperature", 203, "degF", "thermometer_check", says=said("boiling")), "undetermined"),
    ],
)
def test_other_measures(measured: Measured, verdict: str) -> None:
    assert check(measured, RULES).verdict == verdict


@pytest.mark.parametrize(
    ("measured", "why"),
    [
        (
            Measured("temperature", 43, "degF", "cold_holding", "ham"),
            "43 °F is 2 °F over the limit of 41 °F for food held cold, within the thermometer's ±2 °F, "
            "on the failing side",
        ),
        (
            Measured("temperature", 49, "degF", "cold_holding", "ham"),
            "49 °F is 8 °F over the limit of 41 °F for food held cold",
        ),
        (
            Measured("temperature", 158, "degF", "cooking", "chicken"),
            "158 °F is 7 °F below the 165 °F required for poultry",
        ),
        (
            Measured("temperature", -2, "degF", "freezing", "cod", says=said("parasites")),
            "−2 °F is 2 °F over the limit of −4 °F for fish to be served raw, frozen 7 days, within the "
            "thermometer's ±2 °F, on the failing side",
        ),
        (
            Measured(
                "concentration", 50, "ppm", "sanitizer", agent="chlorine", ph=9, water=Quantity(78, "degF")
            ),
            "50 ppm is 50 ppm under the 100 ppm needed at pH 9 and 78 °F",
        ),
        (
            Measured("duration", 1, "day", "time_control", "pizza"),
            "24 hours is 20 hours over the limit of 4 hours for food under time control, 4-hour option",
        ),
        (
            Measured("temperature", 50, "degF", "cold_holding", "tomatoes"),
            "50 °F is 9 °F over the limit of 41 °F for food held cold; taken as food that needs temperature "
            "control until that is known",
        ),
        (
            Measured("temperature", 155, "degF", "machine_wash"),
            "it depends on what kind of machine it is: chemical, single or dual temperature, or conveyor: "
            "the limit is at least 120 °F, 150 °F, 160 °F or 165 °F",
        ),
        (
            Measured("temperature", 155, "degF", "cooking", "beef patty", held_s=60),
            "155 °F held 1 minute is 5 °F above the 150 °F that suffice for that time by the table",
        ),
        (
            Measured("temperature", 150, "degF", "cooking", "beef patty", held_s=60),
            "150 °F held 1 minute is exactly the 150 °F that suffice for that time by the table, within the "
            "thermometer's ±2 °F, on the passing side",
        ),
        (
            Measured("temperature", 140, "degF", "cooking", "prime rib", held_s=180),
            "140 °F held 3 minutes is 7 °F below the 147 °F that suffice for that time by the table; "
            "at 140 °F it takes 12 minutes",
        ),
        (
            Measured("temperature", 125, "degF", "cooking", "prime rib"),
            "125 °F is 5 °F below 130 °F, the coolest step of the table",
        ),
        (
            Measured("temperature", 140, "degF", "cooking", "prime rib"),
            "140 °F suffices when held 12 minutes, and the time was not said",
        ),
        (
            Measured("temperature", 161, "degF", "cooking", "prime rib"),
            "161 °F reaches the 158 °F at which an instant suffices",
        ),
        (
            Measured("temperature", 165, "degF", "reheating", "chili", held_s=10),
            "165 °F is exactly what is required for food cooked, cooled and reheated for hot holding, "
            "which meets it, within the thermometer's ±2 °F, on the passing side; held 10 seconds, "
            "and 15 seconds are needed",
        ),
        (
            Measured("temperature", 36, "degF", "thermometer_check", "probe"),
            "36 °F is 4 °F over 32 °F, and 2 °F either way is allowed for a food thermometer in ice water",
        ),
    ],
)
def test_the_sum_is_one_sentence(measured: Measured, why: str) -> None:
    assert check(measured, RULES).why == why


@pytest.mark.parametrize(
    ("item", "value", "verdict", "limit"),
    [
        ("burger", 138, "undetermined", 155),
        ("burger", 160, "meets", 155),
        ("salmon", 120, "undetermined", 145),
        ("prime rib", 128, "undetermined", 130),
        # a request does not excuse poultry or stuffed food
        ("chicken", 150, "violates", 165),
        ("stuffed pork chop", 150, "violates", 165),
        ("bread", 100, "none", None),
    ],
)
def test_food_undercooked_at_a_guests_request(
    item: str, value: float, verdict: str, limit: float | None
) -> None:
    """FDA Food Code 2022, 3-401.11(D), from memory."""
    found = check(
        Measured("temperature", value, "degF", "cooking", item, says=said("consumer_request")), RULES
    )
    assert (found.verdict, found.limit) == (verdict, limit)


@pytest.mark.parametrize(
    ("gap", "unit", "diameter", "needed", "verdict"),
    [
        # 5-202.13: twice the inside diameter, at least 1 inch (25 mm)
        (1.5, "inch", Quantity(0.75, "inch"), 1.5, "meets"),
        (1.49, "inch", Quantity(0.75, "inch"), 1.5, "violates"),
        (1.0, "inch", Quantity(0.5, "inch"), 1.0, "meets"),
        (0.99, "inch", Quantity(0.25, "inch"), 1.0, "violates"),
        (0.25, "foot", Quantity(1.5, "inch"), 0.25, "meets"),
        (0.08, "foot", Quantity(0.25, "inch"), 0.083333, "violates"),
        (2.5, "cm", Quantity(10, "mm"), 2.5, "meets"),
        (2.4, "cm", Quantity(10, "mm"), 2.5, "violates"),
        (50.8, "mm", Quantity(1, "inch"), 50.8, "meets"),
        (25, "mm", Quantity(1, "cm"), 25, "meets"),
        (50, "mm", Quantity(1, "inch"), 50.8, "violates"),
        (4, "cm", Quantity(0.0625, "foot"), 3.81, "meets"),
        (0.9, "inch", None, 1.0, "violates"),
    ],
)
def test_an_air_gap(gap: float, unit: str, diameter: Quantity | None, needed: float, verdict: str) -> None:
    found = check(Measured("length", gap, unit, "other", diameter=diameter, says=said("air_gap")), RULES)
    assert found.verdict == verdict
    assert found.limit == pytest.approx(needed, abs=1e-5)


def test_answers_that_all_pass_need_no_question_even_when_one_is_near_its_limit() -> None:
    found = check(Measured("temperature", 166, "degF", "cooking", "zorbleberry"), RULES)
    assert (found.verdict, found.limit, found.missing) == ("borderline", 165.0, ())


def test_answers_that_all_fail_give_the_mildest() -> None:
    found = check(Measured("temperature", 134, "degF", "cooking", "zorbleberry"), RULES)
    assert (found.verdict, found.limit, found.missing) == ("borderline", 135.0, ())


# ---------------------------------------------------------------- the instrument


def test_the_offset_of_the_days_ice_water_check_is_taken_off() -> None:
    reading = Measured("temperature", 45, "degF", "cold_holding", "ham")
    high = check(reading, RULES, instrument=Instrument(offset={"degF": 4.0}))
    assert (high.verdict, high.margin) == ("borderline", 0.0)
    assert high.why.startswith("45 °F read, less 4 °F that the thermometer reads high, is 41 °F; ")
    low = check(reading, RULES, instrument=Instrument(offset={"degF": -1.0}))
    assert (low.verdict, low.margin) == ("violates", 5.0)
    assert "plus 1 °F that the thermometer reads low" in low.why


def test_an_offset_known_in_one_unit_counts_in_the_other() -> None:
    reading = Measured("temperature", 6, "degC", "cold_holding", "ham")
    found = check(reading, RULES, instrument=Instrument(offset={"degF": 1.8}))
    assert found.margin == 0.0


@pytest.mark.parametrize(
    ("ice", "boiling", "elevation_m", "read", "true"),
    [
        # one check: the same offset over the whole range
        (Quantity(33, "degF"), None, 0, 165, 164),
        (None, Quantity(209, "degF"), 0, 41, 44),
        # at 1609 m water boils at 202.4 °F (CoolProp, IAPWS-95): a reading of 202.4 is right there
        (None, Quantity(202.4, "degF"), 1609, 41, 41),
        # both: straight between them; 2 °F high in ice, right in boiling water, 1 °F high half-way
        (Quantity(34, "degF"), Quantity(212, "degF"), 0, 122, 121),
        (Quantity(1, "degC"), Quantity(102, "degC"), 0, 50, 48.5),
        (None, None, 0, 41, 41),
    ],
)
def test_the_checks_of_the_day_correct_the_readings(
    ice: Quantity | None, boiling: Quantity | None, elevation_m: float, read: float, true: float
) -> None:
    unit = (ice or boiling or Quantity(0, "degF")).unit
    corrected = instrument(ice=ice, boiling=boiling, elevation_m=elevation_m).true(read, unit)
    assert corrected == pytest.approx(true, abs=0.06)


def test_the_thermometers_own_accuracy_sets_the_band() -> None:
    reading = Measured("temperature", 42.5, "degF", "cold_holding", "ham")
    assert check(reading, RULES, instrument=Instrument(accuracy={"degF": 1.0})).verdict == "violates"
    assert check(reading, RULES, instrument=Instrument(accuracy={"degF": 1.5})).verdict == "borderline"


@pytest.mark.parametrize(
    ("rule", "verdicts"),
    [
        # 38.9, 39.0, 40, 41, 42, 43, 43.1 °F against 41 °F with ±2 °F
        ("simple_acceptance", "meets borderline borderline borderline borderline borderline violates"),
        ("guarded_acceptance", "meets meets borderline borderline violates violates violates"),
        ("guarded_rejection", "meets meets meets meets borderline borderline violates"),
    ],
)
def test_the_decision_rule_is_the_rules_files_own(rule: str, verdicts: str) -> None:
    """After ILAC-G8:09/2019 and JCGM 106:2012, both from memory."""
    rules = replace(RULES, decision=replace(RULES.decision, rule=rule))  # type: ignore[arg-type]
    found = [
        check(Measured("temperature", value, "degF", "cold_holding", "ham"), rules).verdict
        for value in (38.9, 39.0, 40.0, 41.0, 42.0, 43.0, 43.1)
    ]
    assert " ".join(found) == verdicts


def test_without_any_accuracy_the_figure_alone_decides() -> None:
    rules = replace(RULES, decision=replace(RULES.decision, accuracy=MappingProxyType({})))
    for value, verdict in ((41.0, "meets"), (41.1, "violates"), (41, "meets")):
        assert check(Measured("temperature", value, "degF", "cold_holding", "ham"), rules).verdict == verdict


# ---------------------------------------------------------------- another county is another file


@pytest.mark.parametrize(
    ("stage", "item", "value", "federal", "county"),
    [
        ("hot_holding", "rice", 137.5, "meets", "violates"),
        ("hot_holding", "rice", 143, "meets", "meets"),
        ("cold_holding", "ham", 47.5, "violates", "violates"),
        ("cold_holding", "ham", 44, "violates", "borderline"),
        ("cooking", "pork chops", 147.5, "meets", "violates"),
        ("cooking", "chicken", 162, "violates", "violates"),
        ("cooking", "beef patties", 157.5, "meets", "borderline"),
        ("cooking", "beef patties", 155.9, "borderline", "violates"),
        ("cooking", "pork sausage", 157.5, "meets", "borderline"),
        ("reheating", "canned beans", 137.5, "meets", "violates"),
        ("reheating", "chili", 168, "meets", "meets"),
        ("handwashing", None, 88, "meets", "meets"),
    ],
)
def test_the_invented_county_differs_where_its_file_says_so(
    stage: str, item: str | None, value: float, federal: str, county: str
) -> None:
    """Figures of the county: common practice, no source."""
    reading = Measured("temperature", value, "degF", stage, item)
    assert (check(reading, RULES).verdict, check(reading, COUNTY).verdict) == (federal, county)


def test_the_county_takes_no_alternative_pair_for_ground_meat() -> None:
    patty = Measured("temperature", 151, "degF", "cooking", "beef patty", held_s=180)
    assert check(patty, RULES).verdict == "meets"
    assert check(patty, COUNTY).verdict == "violates"


@pytest.mark.parametrize(
    ("measured", "verdict"),
    [
        # exactly at a figure that decides whether a fact is still needed
        (Measured("concentration", 50, "ppm", "sanitizer", agent="chlorine", ph=8), "undetermined"),
        (Measured("concentration", 50, "ppm", "sanitizer", agent="chlorine", ph=10), "undetermined"),
        (Measured("concentration", 50, "ppm", "sanitizer", agent="chlorine", ph=10.1), "violates"),
        (
            Measured("concentration", 50, "ppm", "sanitizer", agent="chlorine", water=Quantity(75, "degF")),
            "undetermined",
        ),
        (
            Measured("concentration", 50, "ppm", "sanitizer", agent="chlorine", water=Quantity(74.9, "degF")),
            "violates",
        ),
        (Measured("temperature", 135, "degF", "cooling", "soup"), "none"),
        (Measured("temperature", 134.9, "degF", "cooling", "soup"), "undetermined"),
        (Measured("temperature", 41, "degF", "cooling", "soup"), "meets"),
        (Measured("temperature", 41.1, "degF", "cooling", "soup"), "undetermined"),
        (Measured("ph", 4.0, "pH", "other", "acid rice", label_min=4.0), "meets"),
        (Measured("ph", 3.9, "pH", "other", "acid rice", label_min=4.0), "violates"),
        (
            Measured(
                "duration", 7, "second", "sanitizer", agent="chlorine", ph=8, concentration_ppm=50,
                water=Quantity(75, "degF"),
            ),
            "meets",
        ),
        (
            Measured(
                "duration", 7, "second", "sanitizer", agent="chlorine", ph=8.1, concentration_ppm=50,
                water=Quantity(75, "degF"),
            ),
            "violates",
        ),
    ],
)  # fmt: skip
def test_exactly_at_a_figure(measured: Measured, verdict: str) -> None:
    assert check(measured, RULES).verdict == verdict


@pytest.mark.parametrize(
    ("value", "cooked", "verdict", "limit"),
    [
        (132.1, "roast_table", "meets", 130),
        (130, "roast_table", "borderline", 130),
        (129.9, "roast_table", "borderline", 130),
        (127.9, "roast_table", "violates", 130),
        (132.9, "cooked_otherwise", "violates", 135),
        (135, "cooked_otherwise", "borderline", 135),
    ],
)
def test_a_roast_is_held_hot_as_it_was_cooked(value: float, cooked: str, verdict: str, limit: float) -> None:
    """FDA Food Code 2022, 3-501.16(A)(1): 130 °F if cooked by 3-401.11(B) or reheated by 3-403.11(E)."""
    found = check(Measured("temperature", value, "degF", "hot_holding", "brisket", says=said(cooked)), RULES)
    assert (found.verdict, found.limit) == (verdict, limit)


def test_how_a_roast_was_cooked_is_asked_between_the_two_limits() -> None:
    found = check(Measured("temperature", 132, "degF", "hot_holding", "brisket"), RULES)
    assert found.missing == (
        "whether it was cooked by the roast table or reheated that way (3-401.11(B), 3-403.11(E))",
    )
    assert found.why.endswith("the limit is at least 130 °F or 135 °F")


def test_what_an_answer_would_leave_open_is_asked_with_the_question() -> None:
    """3-403.11(E): 149 °F needs 85 seconds, 151 °F 54; any other food 165 °F (3-403.11(A))."""
    found = check(Measured("temperature", 150, "degF", "reheating", "brisket"), RULES)
    assert found.missing[0].startswith("whether it is the unsliced rest of a roast")
    assert found.missing[1:] == ("how long the temperature was held",)
    assert found.why.endswith(
        "the limit is at least 165 °F, or 150 °F suffices when held 85 seconds, and the time was not said"
    )


def test_in_the_county_rare_roast_beef_is_held_at_130_and_other_roasts_are_asked_about() -> None:
    """The invented county: 140 °F held hot, rare roast beef 130 °F."""

    def held(item: str, value: float, *how: str) -> tuple[str, float | None]:
        measured = Measured("temperature", value, "degF", "hot_holding", item, says=said(*how))
        found = check(measured, COUNTY)
        return found.verdict, found.limit

    assert held("rare roast beef", 132.1) == ("meets", 130)
    assert held("rare roast beef", 127.9) == ("violates", 130)
    assert held("roast beef", 132.1)[0] == "undetermined"
    assert held("roast beef", 132.1, "roast_table") == ("meets", 130)
    assert held("roast beef", 137.9, "cooked_otherwise") == ("violates", 140)
    assert held("rare steak", 132.1) == ("violates", 140)


@pytest.mark.parametrize(
    ("item", "value", "asked"),
    [
        # 3-401.11(A): 155 °F for 17 seconds, 158 °F an instant; 145 °F for 15 seconds; 165 °F an instant
        ("burger", 157.9, "whether it was held 17 seconds"),
        ("burger", 158, None),
        ("salmon", 150, "whether it was held 15 seconds"),
        ("chicken", 168, None),
    ],
)
def test_a_time_that_a_passing_temperature_needs_is_asked_for(
    item: str, value: float, asked: str | None
) -> None:
    found = check(Measured("temperature", value, "degF", "cooking", item), RULES)
    assert found.missing == ((asked,) if asked else ())


@pytest.mark.parametrize(
    ("kind", "value", "unit"),
    [
        # absolute zero: −459.67 °F, −273.15 °C (NIST SP 811); a share and a logarithm have ends
        ("temperature", -459.68, "degF"), ("temperature", -273.16, "degC"), ("ph", 14.01, "pH"),
        ("ph", -0.01, "pH"), ("water_activity", -0.01, "aw"), ("water_activity", 1.01, "aw"),
        ("concentration", -1, "ppm"),
        ("length", -1, "inch"),
    ],
)  # fmt: skip
def test_a_figure_that_cannot_be_has_no_verdict(kind: str, value: float, unit: str) -> None:
    found = check(Measured(kind, value, unit, "storage"), RULES)
    assert (found.verdict, found.missing) == ("undetermined", ("a figure that can be",))


@pytest.mark.parametrize(
    ("kind", "value", "unit"),
    [("temperature", -459.67, "degF"), ("temperature", -273.15, "degC"), ("ph", 14, "pH"), ("ph", 0, "pH"),
     ("water_activity", 1, "aw"), ("concentration", 0, "ppm")],
)  # fmt: skip
def test_the_ends_of_a_scale_can_be(kind: str, value: float, unit: str) -> None:
    assert "a figure that can be" not in check(Measured(kind, value, unit, "storage"), RULES).missing


CONTROL = "temperature control"
HEAT_TREATED = "whether it was heat-treated and then packaged"


@pytest.mark.parametrize(
    ("aw", "ph", "told", "missing", "why"),
    [
        # 1-201.10, Tables A (heat-treated and then packaged) and B; W55 to W58 of the worked examples
        (0.94, 5, "packaged", (), f"water activity 0.94 and pH 5: it needs no {CONTROL} (1-201.10)"),
        (0.94, 5, "unpackaged", (), f"water activity 0.94 and pH 5: taken as food that needs {CONTROL} until "
         "a product assessment shows otherwise (1-201.10)"),
        (0.94, 5, "", (HEAT_TREATED,), f"water activity 0.94 and pH 5: whether it needs {CONTROL} depends on "
         f"{HEAT_TREATED} (1-201.10)"),
        (None, 5, "", ("its water activity",), f"pH 5: whether it needs {CONTROL} depends on its water "
         "activity (1-201.10)"),
        (None, 4.1, "", (), f"pH 4.1: it needs no {CONTROL} (1-201.10)"),
        (0.87, None, "", (), f"water activity 0.87: it needs no {CONTROL} (1-201.10)"),
    ],
)  # fmt: skip
def test_food_told_by_its_water_activity_and_ph(
    aw: float | None, ph: float | None, told: str, missing: tuple[str, ...], why: str
) -> None:
    says = said(*told.split())
    readings = []
    if aw is not None:
        readings.append(Measured("water_activity", aw, "aw", "storage", "sauce", ph=ph, says=says))
    if ph is not None:
        readings.append(Measured("ph", ph, "pH", "storage", "sauce", aw=aw, says=says))
    for reading in readings:
        found = check(reading, RULES)
        assert (found.verdict, found.missing, found.why) == ("none", missing, why)


def test_meat_of_some_kind_is_asked_about() -> None:
    found = check(Measured("temperature", 150, "degF", "cooking", "meat"), RULES)
    assert (found.verdict, found.missing[0]) == (
        "undetermined", "what the food is: plant food, whole meat or fish, ground meat, or poultry",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("item", "warm", "verdict"),
    [
        ("butter", 50, "undetermined"),
        ("butter", 39, "borderline"),
        ("butter", 36, "meets"),
        ("aged cheddar", 58, "undetermined"),
        ("pickled eggs", 60, "undetermined"),
        ("pudding cups", 50, "violates"),  # most need control
        ("cheddar", 58, "violates"),
    ],
)
def test_food_of_a_kind_that_seldom_needs_control_is_asked_about(
    item: str, warm: float, verdict: str
) -> None:
    """Butter, hard cheese, what is pickled: it hangs on pH and water activity (Food Code 2022, 1-201.10)."""
    found = check(Measured("temperature", warm, "degF", "cold_holding", item), RULES)
    assert found.verdict == verdict
    assert found.missing or verdict != "undetermined"


def test_food_that_needs_no_control_is_told_so_where_it_meets_the_limit() -> None:
    answer = check(Measured("temperature", 38, "degF", "cold_holding", item="whole heads of lettuce"), RULES)
    assert (answer.verdict, answer.section) == ("meets", "3-501.16(A)(2)")
    assert answer.why.endswith("would not even need")

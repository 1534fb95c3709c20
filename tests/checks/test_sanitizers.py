"""Sanitizers at, under and over each figure, with the limit that was used and the sentence that says so.

FDA Food Code 2022, 4-501.114 and 4-703.11, 40 CFR 180.940: the sources stand on the rows in shared/rules.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from extract.checks import Instrument, Measured, Quantity, check
from shared.rules import load

RULES = load("food_code_2022")
CHLORINE = Measured("concentration", 50, "ppm", "sanitizer", agent="chlorine")
QUAT = Measured("concentration", 300, "ppm", "sanitizer", agent="quat", label_min=200, label_max=400)


def water(value: float) -> Quantity:
    return Quantity(value, "degF")


@pytest.mark.parametrize(
    ("ppm", "ph", "warm", "verdict", "limit", "why"),
    [
        (200.1, None, None, "violates", 200, "200.1 ppm is over the 200 ppm allowed"),
        (200, None, None, "meets", 100,
         "200 ppm reaches the 100 ppm needed, given water at 55 °F or warmer"),
        (100, None, None, "meets", 100,
         "100 ppm reaches the 100 ppm needed, given water at 55 °F or warmer"),
        (24.9, None, None, "violates", 25,
         "24.9 ppm is under 25 ppm, the weakest that any water temperature allows"),
        (25, 7, 120, "meets", 25, "25 ppm reaches the 25 ppm needed at pH 7 and 120 °F"),
        (25, 10, 120, "meets", 25, "25 ppm reaches the 25 ppm needed at pH 10 and 120 °F"),
        (25, None, None, "undetermined", 100, "25 ppm: whether it suffices depends on the temperature of "
         "the solution and the pH of the solution"),
        (99, None, None, "undetermined", 100, "99 ppm: whether it suffices depends on the temperature of "
         "the solution and the pH of the solution"),
        (60, 7, None, "undetermined", 100, "60 ppm: whether it suffices depends on the temperature of the "
         "solution"),
        (60, 9, None, "undetermined", 100, "60 ppm: whether it suffices depends on the temperature of the "
         "solution"),
        (60, 10.1, None, "violates", 10,
         "at pH 10.1 no strength is shown to sanitize; the table ends at pH 10"),
        (60, None, 80, "undetermined", 100, "60 ppm: whether it suffices depends on the pH of the solution"),
        (60, 8, 80, "meets", 50, "60 ppm reaches the 50 ppm needed at pH 8 and 80 °F"),
        (60, 8.1, 80, "violates", 100, "60 ppm is 40 ppm under the 100 ppm needed at pH 8.1 and 80 °F"),
        (60, None, 74.9, "violates", 100, "60 ppm is 40 ppm under the 100 ppm needed at 74.9 °F"),
        (60, 7, 54.9, "violates", 55, "54.9 °F is below 55 °F, the coolest the table allows"),
        (60, 10, 54.9, "violates", 55, "54.9 °F is below 55 °F, the coolest the table allows"),
        (60, 10.5, 54.9, "violates", 10,
         "at pH 10.5 no strength is shown to sanitize; the table ends at pH 10"),
    ],
)  # fmt: skip
def test_the_strength_of_chlorine(
    ppm: float, ph: float | None, warm: float | None, verdict: str, limit: float | None, why: str
) -> None:
    solution = replace(CHLORINE, value=ppm, ph=ph, water=water(warm) if warm is not None else None)
    found = check(solution, RULES)
    assert (found.verdict, found.limit, found.why) == (verdict, limit, why)


def test_more_than_the_most_is_over_it() -> None:
    more = replace(CHLORINE, value=200, says=frozenset({"more_than"}))
    assert check(more, RULES).why == "more than 200 ppm is over the 200 ppm allowed"
    assert check(replace(more, value=199), RULES).verdict == "meets"


@pytest.mark.parametrize(
    ("strength", "ph", "warm", "verdict", "limit"),
    [
        # 25 ppm 120 °F; 50 ppm 100 °F, or 75 °F to pH 8; 100 ppm 55 °F; the thermometer ±2 °F
        (None, None, 52.9, "violates", 55), (None, None, 53, "borderline", 55),
        (None, None, 54.9, "borderline", 55), (None, None, 55, "undetermined", None),
        (None, None, 119.9, "undetermined", None), (None, None, 120, "borderline", 120),
        (None, None, 122.1, "meets", 120), (None, 10.1, 130, "violates", None),
        (24.9, 7, 130, "violates", None), (25, 7, 121, "borderline", 120), (25, 7, 119, "borderline", 120),
        (50, None, 74.9, "borderline", 75), (50, None, 75, "undetermined", None),
        (50, None, 99.9, "undetermined", None), (50, None, 100, "borderline", 100),
        (50, 8, 75, "borderline", 75), (50, 8.1, 75, "violates", 100), (50, 10, 100, "borderline", 100),
        (50, 10.1, 100, "violates", None), (99.9, 8.1, 55, "violates", 100), (100, 8.1, 55, "borderline", 55),
    ],
)  # fmt: skip
def test_the_water_of_chlorine(
    strength: float | None, ph: float | None, warm: float, verdict: str, limit: float | None
) -> None:
    reading = Measured(
        "temperature", warm, "degF", "sanitizer", agent="chlorine", concentration_ppm=strength, ph=ph
    )
    found = check(reading, RULES)
    assert (found.verdict, found.limit) == (verdict, limit)


@pytest.mark.parametrize(
    ("warm", "why"),
    [
        (78, "78 °F is 3 °F above the 75 °F required at 50 ppm and pH 8"),
        (75.5, "75.5 °F is 0.5 °F above the 75 °F required at 50 ppm and pH 8, within the thermometer's "
         "±2 °F, on the passing side"),
        (74.5, "74.5 °F is 0.5 °F below the 75 °F required at 50 ppm and pH 8, within the thermometer's "
         "±2 °F, on the failing side"),
        (75, "75 °F is exactly the 75 °F required at 50 ppm and pH 8, within the thermometer's ±2 °F, on "
         "the passing side"),
        (70, "70 °F is 5 °F below the 75 °F required at 50 ppm and pH 8"),
    ],
)  # fmt: skip
def test_the_water_of_a_solution_in_words(warm: float, why: str) -> None:
    reading = Measured(
        "temperature", warm, "degF", "sanitizer", agent="chlorine", concentration_ppm=50, ph=8
    )  # fmt: skip
    assert check(reading, RULES).why == why


def test_the_thermometers_offset_is_taken_off_the_water() -> None:
    reading = Measured("temperature", 79, "degF", "sanitizer", agent="chlorine", concentration_ppm=50, ph=8)
    found = check(reading, RULES, instrument=Instrument(offset={"degF": 4.0}))
    assert (found.verdict, found.margin) == ("borderline", 0.0)
    assert found.why.startswith("79 °F read, less 4 °F that the thermometer reads high, is 75 °F; 75 °F is ")


@pytest.mark.parametrize(
    ("agent", "warm", "verdict", "limit"),
    [
        ("iodine", 65.9, "violates", 68), ("iodine", 68, "borderline", 68), ("iodine", 70.1, "meets", 68),
        ("quat", 72.9, "violates", 75), ("quat", 75, "borderline", 75), ("quat", 77.1, "meets", 75),
        ("peracetic", 60, "none", None),
    ],
)  # fmt: skip
def test_water_that_hangs_on_no_strength(agent: str, warm: float, verdict: str, limit: float | None) -> None:
    found = check(Measured("temperature", warm, "degF", "sanitizer", agent=agent), RULES)
    assert (found.verdict, found.limit) == (verdict, limit)


@pytest.mark.parametrize(
    ("ph", "strength", "warm", "verdict", "limit", "why"),
    [
        (10.1, None, None, "violates", 10, "pH 10.1 is over the pH 10 that holds"),
        (10, None, None, "undetermined", None,
         "pH 10: it depends on the strength of the solution and the temperature of the solution"),
        (8.1, None, None, "undetermined", None,
         "pH 8.1: it depends on the strength of the solution and the temperature of the solution"),
        (8, None, None, "meets", 10, "pH 8 is within the pH 10 that holds"),
        (7.9, None, None, "meets", 10, "pH 7.9 is within the pH 10 that holds"),
        (8, 50, 75, "meets", 8, "pH 8 is within the pH 8 that holds at 50 ppm and 75 °F"),
        (8.1, 50, 75, "violates", 8, "pH 8.1 is over the pH 8 that holds at 50 ppm and 75 °F"),
        (8.1, 50, 100, "meets", 10, "pH 8.1 is within the pH 10 that holds at 50 ppm and 100 °F"),
        (8.1, 50, 99.9, "violates", 8, "pH 8.1 is over the pH 8 that holds at 50 ppm and 99.9 °F"),
        (10.1, 50, 75, "violates", 8, "pH 10.1 is over the pH 8 that holds at 50 ppm and 75 °F"),
        (8, 50, 74.9, "violates", None, "no pH makes up for it at 50 ppm and 74.9 °F"),
        (8, 24.9, None, "violates", None, "no pH makes up for it at 24.9 ppm"),
        (8, 25, None, "undetermined", None, "pH 8: it depends on the temperature of the solution"),
        (8, 99.9, None, "undetermined", None, "pH 8: it depends on the temperature of the solution"),
        (8, 100, None, "meets", 10, "pH 8 is within the pH 10 that holds at 100 ppm"),
        (9, 100, None, "undetermined", None, "pH 9: it depends on the temperature of the solution"),
        (9, None, 130, "undetermined", None, "pH 9: it depends on the strength of the solution"),
    ],
)  # fmt: skip
def test_the_ph_of_chlorine(
    ph: float, strength: float | None, warm: float | None, verdict: str, limit: float | None, why: str
) -> None:
    reading = Measured(
        "ph", ph, "pH", "sanitizer", agent="chlorine", concentration_ppm=strength,
        water=water(warm) if warm is not None else None,
    )  # fmt: skip
    found = check(reading, RULES)
    assert (found.verdict, found.limit, found.why) == (verdict, limit, why)


@pytest.mark.parametrize(
    ("changes", "verdict", "why"),
    [
        ({}, "meets", "300 ppm is within the label's 200 to 400 ppm"),
        ({"value": 199.9}, "violates", "199.9 ppm is under the 200 ppm that the label asks for"),
        ({"value": 400.1}, "violates", "400.1 ppm is over the 400 ppm that the label allows"),
        ({"label_max": None}, "meets", "300 ppm is within the label's 200 or more ppm"),
        ({"label_min": None}, "meets", "300 ppm is within the label's 0 to 400 ppm"),
        ({"label_min": None, "label_max": None}, "undetermined",
         "300 ppm: it depends on the range that the label gives; many say 150 to 400 ppm"),
        ({"water": water(72.9)}, "violates", "the solution is 72.9 °F, below the 75 °F needed"),
        ({"water": water(74.9)}, "borderline",
         "74.9 °F is 0.1 °F below the 75 °F required, within the thermometer's ±2 °F, on the failing side"),
        ({"water": water(74.9), "value": 199.9}, "violates",
         "199.9 ppm is under the 200 ppm that the label asks for"),
        ({"water": water(74.9), "hardness_ppm": 500.1}, "violates",
         "water hardness 500.1 ppm is over 500 ppm, unless the label allows more"),
        ({"water": water(75)}, "meets", "300 ppm is within the label's 200 to 400 ppm"),
        ({"water": water(90)}, "meets", "300 ppm is within the label's 200 to 400 ppm"),
        ({"hardness_ppm": 500.1}, "violates",
         "water hardness 500.1 ppm is over 500 ppm, unless the label allows more"),
        ({"hardness_ppm": 500}, "meets", "300 ppm is within the label's 200 to 400 ppm"),
        ({"hardness_ppm": 100}, "meets", "300 ppm is within the label's 200 to 400 ppm"),
        ({"kind": "ph", "unit": "pH", "value": 7, "label_min": 6, "label_max": 7}, "meets",
         "pH 7 is within what the label gives"),
        ({"kind": "ph", "unit": "pH", "value": 7.1, "label_min": 6, "label_max": 7}, "violates",
         "pH 7.1 is outside what the label gives"),
    ],
)  # fmt: skip
def test_a_sanitizer_that_goes_by_its_label(changes: dict[str, object], verdict: str, why: str) -> None:
    found = check(replace(QUAT, **changes), RULES)  # type: ignore[arg-type]
    assert (found.verdict, found.why) == (verdict, why)


@pytest.mark.parametrize(
    ("held", "strength", "ph", "warm", "limit"),
    [
        # chlorine 10 seconds; 7 seconds for 50 ppm at 100 °F to pH 10, or at 75 °F to pH 8
        (10, 50, 8, 74.9, 10), (7, 50, 8, 75, 7), (7, 60, 7, 80, 7), (10, 49.9, 8, 75, 10),
        (10, 50, 8.1, 75, 10), (7, 50, 8.1, 100, 7), (7, 50, 10, 110, 7), (10, 50, 10.1, 100, 10),
        (10, 50, 8.1, 99.9, 10), (7, None, 7, 80, 7), (7, 50, None, 80, 7), (10, 50, 7, None, 10),
        (10, 20, 7, None, 10),
    ],
)  # fmt: skip
def test_contact_with_chlorine(
    held: float, strength: float | None, ph: float | None, warm: float | None, limit: float
) -> None:
    dip = Measured(
        "duration", held, "second", "sanitizer", agent="chlorine", concentration_ppm=strength, ph=ph,
        water=water(warm) if warm is not None else None,
    )  # fmt: skip
    found = check(dip, RULES)
    assert (found.verdict, found.limit) == ("meets", limit)
    assert check(replace(dip, value=held + 1), RULES).verdict == "meets"
    assert check(replace(dip, value=held - 0.1), RULES).verdict == "violates"


def test_a_label_may_ask_for_longer_contact_but_not_for_less() -> None:
    dip = Measured("duration", 60, "second", "sanitizer", agent="quat", label_min=60)
    assert (check(dip, RULES).verdict, check(dip, RULES).limit) == ("meets", 60)
    assert check(replace(dip, value=59), RULES).verdict == "violates"
    assert check(replace(dip, label_min=10), RULES).limit == 30


@pytest.mark.parametrize(
    ("strength", "least", "verdict", "section"),
    [
        (0, None, "violates", "4-501.114"),
        (150, 200, "violates", "4-501.114"),
        (250, 200, "meets", "4-501.114"),
        (150, None, "undetermined", None),
    ],
)
def test_a_sanitizer_that_nobody_named(
    strength: float, least: float | None, verdict: str, section: str | None
) -> None:
    """None at all is too little of any, and a label is enough to know (Food Code 2022, 4-501.114)."""
    reading = Measured("concentration", strength, "ppm", "sanitizer", label_min=least, label_max=400)
    found = check(reading if least else replace(reading, label_max=None), RULES)
    assert (found.verdict, found.section) == (verdict, section)


def test_a_machine_with_chemicals_sanitizes_by_chlorine_unless_another_is_named() -> None:
    """Common practice, no source; 50 ppm of chlorine at pH 8 and 75 °F: 4-501.114(A)."""
    rinse = Measured("concentration", 50, "ppm", "machine_rinse", says=frozenset({"chemical_machine"}))
    warm = replace(rinse, water=water(100), ph=8.0)
    assert check(warm, RULES).verdict == "meets"
    assert check(replace(warm, agent="quat"), RULES).verdict == "undetermined"

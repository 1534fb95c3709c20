"""What rules and the second reader find together, in dictations that neither was written for.

Wording: common practice, no source; limits and sections: FDA Food Code 2022.
"""

from __future__ import annotations

import pytest

from extract import extract
from shared.types import Utterance
from tests.extract.said import SAID_AT, meant, rules, shorts


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ("Reach-in. Pumpkin halves 37.", "meets"),  # whatever it is, it is cold enough
        ("Reach-in. Pumpkin halves 55.", "none"),
        ("Hot line. Dinner rolls 150.", "meets"),
    ],
)
def test_food_that_needs_no_control_meets_the_limit_where_it_would_anyway(said: str, verdict: str) -> None:
    """3-501.16 asks 41 °F and 135 °F of food that needs control; nothing is asked of other food."""
    (reading,) = meant(said).readings
    assert reading.check is not None and reading.check.verdict == verdict


def test_food_whose_ph_frees_it_has_no_limit() -> None:
    """Food Code 2022, 1-201.10, table B: at a pH under 4.2 no food needs temperature control."""
    found = meant("Salsa on the ledge 68, and its pH is 3.8.")
    assert [(one.kind, one.check and one.check.verdict) for one in found.readings] == [
        ("temperature", "none"),
        ("ph", "none"),
    ]
    assert found.findings == ()


def test_cooling_is_judged_by_the_time_of_speaking_where_its_clock_was_told_before() -> None:
    """3-501.14(A): 70 °F within two hours. The reading itself keeps no clock, for none was said."""
    said = [
        (13, 40, "Cooling log, braised rib, 135 at 1 o'clock."),
        (14, 58, "Braised rib reads 66 now."),
    ]
    found = extract(
        [Utterance(text, at=SAID_AT.replace(hour=hour, minute=minute)) for hour, minute, text in said],
        rules=rules(),
    )
    last = found.readings[-1]
    assert (last.value, last.clock) == (66, None)
    assert last.check is not None and last.check.verdict == "meets"
    assert last.check.why.endswith("the time is that at which it was said")


def test_a_thing_called_off_takes_no_reading_with_it() -> None:
    found = meant("Hand sink 92. No paper towels though.", "Scratch the towels, they're behind the door.")
    assert [reading.value for reading in found.readings] == [92]
    assert found.findings == ()


def test_a_food_called_off_in_the_same_breath_falls() -> None:
    found = meant("Tofu 38, salmon 48. Scratch the salmon, the tip was in the marinade. Thick part, 40.")
    assert [reading.value for reading in found.readings] == [38, 40]
    assert [one.reading.value for one in found.withdrawn] == [48]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        (
            "Dish machine. Pressure on the final rinse though is 34, the plate on the front has it 15 to 25.",
            ["34 psi machine_rinse -"],
        ),
        ("Peracetic bath, label 100 to 250, strip in the dip tank one eighty.", ["180 ppm sanitizer -"]),
        ("On her water activity meter the jerky is point eight one.", ["0.81 aw other jerky"]),
        (
            "Milk 38, string cheese next to it the same.",
            ["38 cold_holding milk", "38 cold_holding string cheese"],
        ),
    ],
)
def test_a_bare_figure_is_of_what_is_spoken_of(said: str, expected: list[str]) -> None:
    assert shorts(said) == expected


def test_the_stage_of_a_machine_is_no_thing_that_was_measured() -> None:
    assert shorts("Stationary rack machine, hot water. Wash 158, rinse 185.") == [
        "158 machine_wash -",
        "185 machine_rinse -",
    ]


def test_a_second_span_under_the_same_plan_is_a_reading_too() -> None:
    found = shorts(
        "They run the subs on time, the plan's good. Egg subs, four and a half hours and still for sale.",
        "Turkey subs, an hour and a half, those can stay.",
    )
    assert found == ["4.5 hour time_control egg subs", "1.5 hour time_control turkey subs"]


def test_water_of_a_solution_is_judged_by_the_agent_of_its_strength() -> None:
    """4-501.114(A): chlorine of 50 ppm needs water of 75 °F or, at a high pH, 100 °F."""
    found = meant(
        "Third bay, chlorine strip comes up 50, and the water's cold, 66.",
        "Made a new one with hot, still 50, water 108 this time.",
    )
    assert [one.check and one.check.verdict for one in found.readings] == [
        "violates",
        "violates",
        "meets",
        "meets",
    ]


def test_limits_told_as_a_range_are_those_of_the_label() -> None:
    """Quat is judged by its label (4-501.114(C))."""
    found = meant("Quat bucket 150, one five zero, and on the bottle 150 until 300.")
    (reading,) = found.readings
    assert reading.check is not None and reading.check.verdict == "meets"


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        (
            "Light meter. Under the hood 62 foot candles, dish table 26, dry room 9.",
            ["meets", "meets", "violates"],
        ),
        ("Light meter, the back corner 19 foot candles, and that one only wants ten.", ["meets"]),
    ],
)
def test_light_is_judged_by_its_own_part_of_the_sentence(said: str, verdict: list[str]) -> None:
    """6-303.11: 50 foot candles where people work with food, 20 at washing, 10 in storage."""
    assert [one.check and one.check.verdict for one in meant(said).readings] == verdict


def test_where_it_was_measured_may_be_told_behind_it_and_leaves_its_trace() -> None:
    (reading,) = meant("Lamb stew is 151, that is the tall warmer by the stairs.").readings
    assert reading.place is not None and "warmer" in reading.place


def test_a_violation_is_proposed_although_a_pattern_hears_its_words_as_in_order() -> None:
    """2-201.12: an open cut needs a cover and a glove."""
    found = meant("Barback with an open cut on his thumb, it's red and weeping, no bandage and no glove.")
    assert [finding.provision for finding in found.findings] == ["2-201.12"]

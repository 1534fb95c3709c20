"""Rules that are said aloud beside a reading are no readings.

Wording: common practice, no source; limits: FDA Food Code 2022.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant, values


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("The tureen is at 131. The requirement for soup is 135.", 131),
        ("Egg salad 44. What the code asks for is 41.", 44),
        ("Final rinse 188. The minimum for this machine is 180.", 188),
        ("Plate got to 164. The rule for the plate, as you know, is 160 degrees.", 164),
        ("Noodles 128. The law on hot food says 135.", 128),
        ("The rule is that hot food stays at 135. The lentils are at 129.", 129),
        ("Meatballs 148. 155 on a meatball, so they go back.", 148),
        ("Duck 158. Nope, 165 for that. Back in.", 158),
        ("Cod off the grill 139. For fish it's 145.", 139),
        ("Bisque 52 at 1.15. You have till 2.40 for 41.", 52),
        ("Brisket 74 at 3.10, they have until 5 to reach 41.", 74),
        ("Pudding 45, that's four over 41.", 45),
    ],
)
def test_a_rule_said_aloud_is_no_reading(said: str, value: float) -> None:
    assert values(said) == [(value, "degF")]


def test_a_figure_worked_out_from_a_rule_is_no_reading() -> None:
    assert values("The gap is one inch. It must be twice the pipe, that is three inches.") == [(1, "inch")]


@pytest.mark.parametrize(
    "said",
    [
        "Somebody forgot the rule on cold food, but the tofu is 44.",
        "Under the limit for cold food, the tofu is 44.",
        "There's no rule on that pan, tofu 44.",
        "The rule hangs on the door and I got 44 on the tofu.",
    ],
)
def test_a_figure_measured_beside_a_rule_is_a_reading(said: str) -> None:
    assert values(said) == [(44, "degF")]


def test_a_second_food_is_no_rule() -> None:
    assert values("Chicken 158, 171 for the duck.") == [(158, "degF"), (171, "degF")]


@pytest.mark.parametrize(
    "said",
    [
        "Lentils 84 at 3.20, so they missed seventy.",
        "Chlorine 84 ppm, and sixty's only any use if the water's 75.",
        "Lentils 150 or 84, screen's fogged, second look 84.",
        "Lentils 150 or 84, I can't tell. It's 84.",
        "The lentils were 52 when I was here in June, tonight it's 84.",
    ],
)
def test_what_only_stands_beside_the_figure_settled_on_is_no_reading(said: str) -> None:
    assert [value for value, _ in values(said)] == [84]


def test_a_log_kept_in_celsius_is_read_in_celsius() -> None:
    said = "Borscht, Celsius on their sheet, 60 at 9.00, 19 at 10.40, 2 at 12.50."
    assert values(said) == [(60, "degC"), (19, "degC"), (2, "degC")]


def test_hours_spelled_out_once_more_are_no_second_figure() -> None:
    assert (16, "degF") not in values("Frozen at minus 35 for sixteen hours, one six, that's the tuna.")


def test_each_thermometer_in_the_ice_is_named_by_its_owner() -> None:
    names = [
        one.item for one in meant("Ice slush, mine 32, the cook's dial 29. He turned the nut, 32.").readings
    ]
    assert names == ["mine", "cook's dial", "cook's dial"]

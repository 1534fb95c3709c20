"""What sounds like a correction and is none: a wrong `corrected on site` closes what is still open.

A violation that was not corrected stays one of the report (FDA Food Code 2022, 8-405.11); wording: common
practice, no source. Limits that the figures break: 3-501.16(A) (41 and 135 °F), 3-401.11(A)(3) (165 °F,
poultry), 4-501.114(A) (chlorine), 5-202.12(A) (85 °F at a hand sink), 4-203.11 (2 °F in ice water).
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant


def corrected(*lines: str) -> list[bool]:
    return [finding.corrected_on_site for finding in meant(*lines).findings]


@pytest.mark.parametrize(
    "said",
    [
        "Nacho cheese 124. Second pan 139.",
        "Soup 120. Other well, soup 150.",
        "Turkey 46. Bottom shelf turkey 38.",
        "Chicken thigh 150. Another thigh 170.",
        "Chicken breast 155 on the grill. The other breast 168.",
        "Chicken salad 50. The one underneath is 39.",
        "Hand sink one 70 degrees. Hand sink two 101.",
        "Chlorine 10. Other bucket 100.",
        "Queso 129. I checked another spot, 140.",
        "Nacho cheese 124. The other end reads 139.",
        "Slaw 47. Bottom of the pan 40.",
        "Thermometer A 29, thermometer B 32 in ice water.",
        "Soup 112. Cook got 140 with his thermometer.",
    ],
)
def test_another_spot_pan_or_device_at_the_same_time_proves_nothing(said: str) -> None:
    assert corrected(said) == [False]


@pytest.mark.parametrize(
    "lines",
    [
        ("Mashed potatoes on the steam table 122.", "Mashed potatoes in the back pan 138."),
        ("Chili 98.", "It was 170 when they put it in at 8."),
    ],
)
def test_nor_does_another_pan_or_an_earlier_figure_later_on(lines: tuple[str, ...]) -> None:
    assert corrected(*lines) == [False]


@pytest.mark.parametrize(
    "said",
    [
        "Soup 120. Reheated it, 168 now.",
        "Soup 120 in the first well. They cranked it and it came up to 141.",
    ],
)
def test_what_was_done_between_two_readings_is_a_correction(said: str) -> None:
    assert corrected(said) == [True]


@pytest.mark.parametrize(
    "said",
    [
        "Ham 50, it was never discarded.",
        "Ham 50, no it was not discarded.",
        "Ham 48, owner refused to discard.",
        "Ham 50 should have been discarded.",
        "Ham 50 to be discarded.",
        "Ham 50, unless discarded.",
        "Ham 50, discarded? They said they would.",
        "Ham 50, was discarded last time.",
        "Ham 50, already discarded once this week.",
        "Ham 52, he's supposed to have discarded it.",
        "Ham 50. They tossed half.",
    ],
)
def test_what_was_denied_asked_owed_half_done_or_of_another_day_is_none(said: str) -> None:
    assert corrected(said) == [False]


@pytest.mark.parametrize(
    "lines",
    [
        ("Ham 50. They tossed the turkey.",),
        ("Ham 50.", "Chef threw out the moldy strawberries."),
        ("Ham 50, moved the milk to the walk-in.",),
        ("Chicken 120. They reheated the soup.",),
        ("Raw chicken over lettuce. They tossed the moldy cheese.",),
    ],
)
def test_what_was_done_to_another_food_is_none(lines: tuple[str, ...]) -> None:
    assert not any(corrected(*lines))


def test_a_thermometer_that_was_set_right_cools_no_ham() -> None:
    told = meant("Ham 50.", "Thermometer 36 in ice water. He recalibrated it.").findings
    assert [(f.provision, f.corrected_on_site) for f in told] == [
        ("3-501.16(A)(2)", False),
        ("4-203.11", True),
    ]


@pytest.mark.parametrize(
    "lines",
    [
        ("Ham 50. Tossed it.",),
        ("Ham 50, slaw 51.", "Everything in there got thrown out."),
        ("Raw chicken over lettuce. She moved it down.",),
        ("No soap at the hand sink.", "He refilled it."),
        ("Ham 50. It was not kept, they discarded it.",),
        ("Bleach stored over the flour bags, moved to the chemical shelf.",),
        ("Raw beef over cooked rice, moved to the bottom shelf.",),
        ("Ham not dated, dated it on site.",),
    ],
)
def test_what_was_done_to_it_is_one(lines: tuple[str, ...]) -> None:
    assert all(corrected(*lines))

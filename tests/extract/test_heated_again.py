"""Food that is heated again, sour food told by paper, and what only lies in or on a food.

Wording: common practice, no source; stages and sections: FDA Food Code 2022.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant, shorts


@pytest.mark.parametrize(
    "lines",
    [
        ["Pea soup 133 in the well.", "At one the pea soup has been boiled on the stove and measures 178."],
        ["Pea soup cooling, 84 at 3.20.", "Back in the kettle, 178, and now they split it."],
        ["Pea soup 120 in the well.", "They brought the pea soup back to the boil, 178 now."],
        ["The pea soup is fully cooked by the manufacturer. I measured the pea soup in the oven at 178."],
        ["Pea soup on its way to the warmer, 178."],
    ],
)
def test_food_that_was_heated_again_is_reheated(lines: list[str]) -> None:
    last = meant(*lines).readings[-1]
    assert (last.value, last.stage, last.check and last.check.verdict) == (178, "reheating", "meets")


@pytest.mark.parametrize(
    "said",
    [
        "One bowl of ramen warmed for a lady at the counter, 128, she's eating it right now.",
        "Heated a slice of quiche for a guest, 128, straight to the table.",
    ],
)
def test_food_warmed_for_one_guest_has_no_limit(said: str) -> None:
    """3-403.10: food prepared for immediate service may be served at any temperature."""
    (reading,) = meant(said).readings
    assert (reading.stage, reading.check and reading.check.verdict) == ("reheating", "none")


def test_a_ledge_over_the_range_cooks_nothing() -> None:
    assert shorts("Bearnaise on the ledge over the range 106.") == ["106 hot_holding bearnaise"]


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("Kimchi, dip paper shows 3.9.", "3.9 pH other kimchi"),
        ("Pickled beets are sour enough, 3.6 on the strip.", "3.6 pH other pickled beets"),
    ],
)
def test_a_paper_dipped_into_sour_food_tells_its_ph(said: str, told: str) -> None:
    assert shorts(said) == [told.lower()]


def test_a_bare_part_of_one_is_a_water_activity_where_one_was_spoken_of() -> None:
    (reading,) = meant(
        "Their variance says water activity 0.85 or lower. Jerky batch one reads 0.83."
    ).readings
    assert (reading.value, reading.unit) == (0.83, "aw")


@pytest.mark.parametrize(
    ("said", "item"),
    [
        ("Stuffed trout, crab and breadcrumb inside, 170 in the middle.", "stuffed trout"),
        ("Roast turkey, herbs under the skin, 170 in the thigh.", "roast turkey"),
        ("Fruit cups are out since 5.30 on the six hour plan. Ones in the sun are 66.", "fruit cups"),
    ],
)
def test_what_lies_in_or_around_a_food_is_not_what_was_measured(said: str, item: str) -> None:
    assert [(one.item or "").lower() for one in meant(said).readings] == [item]


@pytest.mark.parametrize(
    "said",
    [
        "The alfredo is the one that's low, 129. He's going to reheat it.",
        "Alfredo 129, she'll reheat it on the stove.",
    ],
)
def test_what_will_be_done_does_not_tell_what_was_measured(said: str) -> None:
    assert shorts(said) == ["129 hot_holding alfredo"]


@pytest.mark.parametrize(
    "said",
    [
        "Combi oven. Chicken breast 158 in the corner. He's saying it's got 6 minutes on the timer.",
        "Chicken breast 158, he hasn't pulled it.",
        "Chicken breast 158. It's still cooking.",
    ],
)
def test_food_that_nobody_called_cooked_is_asked_about(said: str) -> None:
    """Limit: 3-401.11(A)(3), 165 °F."""
    found = meant(said)
    (reading,) = found.readings
    assert reading.check is not None
    assert (reading.check.verdict, found.findings) == ("undetermined", ())
    assert "taken off the heat" in found.questions[0].text


@pytest.mark.parametrize(
    "said",
    [
        "Chicken breast out of the oven, 158. Not done. Back in it went.",
        "Chicken breast 158. Thighs 170, still cooking.",
    ],
)
def test_food_that_was_taken_off_too_soon_is_a_violation(said: str) -> None:
    assert [one.provision for one in meant(said).findings] == ["3-401.11(A)(3)"]

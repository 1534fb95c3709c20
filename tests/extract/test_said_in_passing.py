"""Figures put right in passing, in the words of people who talk while they walk.

Wording: common practice, no source; limits, stages and sections: FDA Food Code 2022.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant, shorts

PUT_RIGHT = [
    (
        ["Cut tomatoes 48, feta 37.", "I said 48 on the cut tomatoes and my screen's got 46, make it 46."],
        ["37 cold_holding feta", "46 cold_holding cut tomatoes"],
    ),
    (
        ["Cut tomatoes 48, feta 37.", "Ham 50. I said 48 on the cut tomatoes, make it 46."],
        ["37 cold_holding feta", "50 cold_holding ham", "46 cold_holding cut tomatoes"],
    ),
    (
        ["Chlorine, 50, hold on, I have to match it in the light. No that's 100. Put 100."],
        ["100 ppm sanitizer -"],
    ),
    (["Is the milk at 41? No, it's 47."], ["47 cold_holding milk"]),
    (
        ["Ham was measured at 47. Correction to the previous sentence. Ham was measured at 37."],
        ["37 cold_holding ham"],
    ),
    (["Hot well, maduros 141, or rather 144."], ["144 hot_holding maduros"]),
    (["Macaroni come out the oven at 181."], ["181 cooking macaroni"]),
]


@pytest.mark.parametrize(("lines", "expected"), PUT_RIGHT)
def test_the_figure_that_counts_is_the_one_said_last(lines: list[str], expected: list[str]) -> None:
    assert shorts(*lines) == expected


def test_food_that_went_on_cooling_has_two_readings() -> None:
    """`Now` tells of another moment, and not of a slip."""
    assert shorts("Soup 148.", "I said 148, and it's 131 now.")[-1] == "131 hot_holding soup"


def test_a_hot_well_in_the_visit_of_an_ice_point_holds_food() -> None:
    found = meant("Celsius. Ice point, mine's 0. Hot well, plantain 51, or rather 54.")
    assert [one.provision for one in found.findings] == ["3-501.16(A)(1)"]


@pytest.mark.parametrize("first", ["Celsius again.", "All of this is Celsius.", "Celsius as usual."])
def test_celsius_said_once_holds_for_the_visit(first: str) -> None:
    found = meant(f"Truck's in. {first} Ground beef 2.", "Smoker. Turkey legs 79.")
    assert [(one.value, one.unit) for one in found.readings] == [(2, "degC"), (79, "degC")]


def test_a_delivery_told_in_figures_of_either_scale_is_doubted() -> None:
    (fresh,) = meant("Truck's in. Ground beef 8.").readings
    (frozen,) = meant("Truck's in. Frozen chicken 8, rock hard.").readings
    assert "unit_assumed" in [doubt.code for doubt in fresh.doubts]
    assert "unit_assumed" not in [doubt.code for doubt in frozen.doubts]


@pytest.mark.parametrize(
    "said",
    [
        "Steamer, hot dogs, factory packed, 141 in the middle of the pan.",
        "Wild rice soup, that one's out of a sealed bag from the plant, heated to 151.",
    ],
)
def test_food_packed_by_a_plant_is_heated_to_135(said: str) -> None:
    """3-403.11(C)."""
    (reading,) = meant(said).readings
    assert reading.check is not None
    assert (reading.stage, reading.check.verdict) == ("reheating", "meets")


def test_cage_free_eggs_have_no_gauge() -> None:
    (reading,) = meant("Cage free eggs 44.").readings
    assert (reading.item or "").lower() == "cage free eggs"

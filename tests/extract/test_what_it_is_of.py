"""Figures of a width, of food that came cooked, of flavours in a hopper, of wash water changed.

Limits after the Food Code 2022: 5-202.13 (twice the width), 3-403.11(C), 3-501.16(A)(2) and (B), 4-501.19,
3-402.11 (all from memory); wordings: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import judged


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ("The faucet has an inner diameter of half an inch. It ends 2 inches above the rim.", "meets"),
        (
            "The faucet has an inner diameter of three quarters of an inch. It ends 1 inch above the rim.",
            "violates",
        ),
    ],
)
def test_a_width_names_no_thing_and_tells_how_far_the_gap_must_be(said: str, verdict: str) -> None:
    width, gap = judged(said)
    assert width[2:] == ("faucet", "none")
    assert gap[2:] == ("faucet", verdict)


def test_a_width_told_after_its_gap_is_no_gap() -> None:
    gap, width = judged("The tap ends an inch and a half above the rim, its opening is half an inch.")
    assert (gap[3], width[3]) == ("meets", "none")


@pytest.mark.parametrize(
    "said",
    [
        "The meatballs come in fully cooked, off the flat top 141.",
        "Precooked wings, in the fryer, 150.",
        "The nuggets are cooked by the manufacturer. I measured the nuggets in the oven at 151.",
    ],
)
def test_food_that_came_cooked_is_reheated_and_not_cooked(said: str) -> None:
    [(_, stage, _, verdict)] = judged(said)
    assert (stage, verdict) == ("reheating", "meets")


@pytest.mark.parametrize(
    "said", ["Raw chicken wings, in the fryer, 150.", "It's fully cooked, he says, wings off the grill 150."]
)
def test_raw_food_is_cooked_whatever_is_claimed(said: str) -> None:
    [(_, stage, _, verdict)] = judged(said)
    assert (stage, verdict) == ("cooking", "violates")


def test_each_flavour_in_a_hopper_is_of_a_milk_mix() -> None:
    assert [one[3] for one in judged("Both hoppers, vanilla 37, chocolate 47.")] == ["meets", "violates"]


def test_wash_water_changed_is_measured_again() -> None:
    first, again = judged(
        "The water in the wash bay measured 84.", "He drained it and filled it again, now it's 118."
    )
    assert first == (84, "manual_wash", "water", "violates")
    assert (again[1], again[3]) == ("manual_wash", "meets")


def test_hundreds_told_once_are_of_both_ends_of_a_label() -> None:
    assert [one[3] for one in judged("Jug says 2 to 400, the quat strip says 300.")] == ["meets"]
    assert [one[3] for one in judged("Jug says 2 to 400, the quat strip says 150.")] == ["violates"]


@pytest.mark.parametrize(
    "said",
    [
        "Blast chiller log minus 35, fifteen hours, tuna for sushi.",
        "The tuna was at minus 36 for 16 hours in the blast box.",
    ],
)
def test_hours_are_enough_for_fish_in_a_blast_freezer(said: str) -> None:
    assert [one[3] for one in judged(said)] == ["meets", "meets"]


def test_hours_are_not_enough_in_a_plain_freezer() -> None:
    assert [one[3] for one in judged("Tuna for sushi at minus 8 for 20 hours.")] == ["meets", "violates"]


@pytest.mark.parametrize(
    ("said", "stage", "item", "verdict"),
    [
        ("40 on the air around those eggs.", "cold_holding", "eggs", "meets"),
        ("The air near the raw eggs reads 50.", "cold_holding", "raw eggs", "violates"),
        ("Shell eggs in a basket. Air where they sit is 52.", "cold_holding", "Shell eggs", "violates"),
    ],
)
def test_the_air_around_shell_eggs_is_judged(said: str, stage: str, item: str | None, verdict: str) -> None:
    """Food Code 2022, 3-202.11(C) and 3-501.16(B): 45 °F around them."""
    assert judged(said)[0][1:] == (stage, item, verdict)

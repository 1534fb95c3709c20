"""Water of utensils, machines, hand taps and mixed solutions; 135 °F for utensils in water after 3-304.12(F),
85 °F for hands after 5-202.12(A), 160 °F for a single tank's wash after 4-501.110 (all from memory);
wordings: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import judged


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ("Gelato spades in a jar of water, 88.", "violates"),
        ("The rice paddle sits in a can of water, the water is 91.", "violates"),
        ("Ladles stand in a pitcher of water at 142.", "meets"),
    ],
)
def test_water_that_holds_a_utensil_is_judged_as_such(said: str, verdict: str) -> None:
    [(_, stage, item, found)] = judged(said)
    assert (stage, item, found) == ("other", "water", verdict)


def test_a_scoop_washed_under_running_water_is_not() -> None:
    told = judged("She rinsed the scoop under running water, 90 degrees.")
    assert {verdict for *_, verdict in told} <= {"none"}


def test_a_figure_after_a_part_of_the_machine_is_of_that_part() -> None:
    told = "The single tank conveyor, wash 150, rinse 184."
    assert judged(told, "Tank heater had tripped, he reset it. Now at 163.")[-1][:2] == (163, "machine_wash")
    assert judged(told, "Booster was off, he reset it. Now at 190.")[-1][:2] == (190, "machine_rinse")


@pytest.mark.parametrize("tap", ["Hand tap", "The handwash tap", "Hand washing unit"])
def test_a_tap_for_hands_is_judged_as_one(tap: str) -> None:
    [(value, stage, _, verdict)] = judged(f"{tap} 97.")
    assert (value, stage, verdict) == (97, "handwashing", "meets")


@pytest.mark.parametrize(
    "again",
    ["Pulled the plug and ran it new, 300.", "Drained it, made it fresh, 300.", "Mixed it over, 300."],
)
def test_a_bare_figure_after_mixing_again_is_the_strength(again: str) -> None:
    [*_, last] = judged("Bar sink, quat 150, label says 200 to 400.", again)
    assert last[:2] == (300, "sanitizer")


def test_a_thermometer_by_any_name_is_checked_in_ice() -> None:
    [(value, stage, item, verdict)] = judged("His pocket dial in my slush, 36.")
    assert (value, stage, verdict) == (36, "thermometer_check", "violates")
    assert item is not None
    assert "pocket dial" in item

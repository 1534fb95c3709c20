"""Foods told in a list and their figures in a list after it.

Wording: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant


def told(*lines: str) -> list[tuple[str | None, float]]:
    return [(reading.item, reading.value) for reading in meant(*lines).readings]


@pytest.mark.parametrize(
    "said",
    [
        "Steam table. Grits, gravy and greens, I've got 141, 150 and 139.",
        "Steam table, grits, gravy, greens, gives me 141, 150, 139.",
        "Grits, gravy, greens. 141, 150, 139.",
        "Grits, gravy and greens. My numbers are 141, 150, 139.",
        "Grits and gravy and greens we're looking at 141 and 150 and 139.",
        "Grits, gravy, greens, my probe gives 141, 150 and 139, in that order.",
        "On the steam table grits, gravy, greens come in at 141, 150, 139.",
    ],
)
def test_as_many_figures_as_foods_are_given_out_in_turn(said: str) -> None:
    assert [(item and item.lower(), value) for item, value in told(said)] == [
        ("grits", 141),
        ("gravy", 150),
        ("greens", 139),
    ]


def test_foods_on_ice_are_told_in_turn() -> None:
    assert told("Oysters and clams on ice were 38 and 40.") == [("Oysters", 38), ("clams", 40)]


def test_fewer_figures_than_foods_are_given_out_with_a_doubt_only() -> None:
    first, last = meant("Grits, gravy and peas, 141 and 150.").readings
    (doubt,) = first.doubts
    assert (first.value, first.item, doubt.code) == (141, "Grits", "item_unsure")
    assert "may be of the gravy or the peas" in doubt.why
    assert (last.value, last.item, [one.code for one in last.doubts]) == (150, "peas", ["item_unsure"])

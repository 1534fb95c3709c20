"""Foods that are named only after their figures, told of in a clause or sentence of their own.

Wording: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant


@pytest.mark.parametrize(
    ("said", "item"),
    [
        ("I wanted to see 41 there. It's 44, meatloaf.", "meatloaf"),
        ("139, the carnitas are fine.", "carnitas"),
        ("152, burgers need a little longer.", "burgers"),
        ("47, this tuna salad has to go.", "tuna salad"),
        ("45, the smoked salmon on the board.", "smoked salmon"),
        ("Now 71. Gumbo.", "Gumbo"),
        ("First I had 39, ten minutes later 41. The egg salad is warming.", "egg salad"),
        ("With two of mine I get 140 and 141 for the gravy.", "gravy"),
        ("141 at the back, 122 in front, same chili, stir it.", "chili"),
        ("It was 138 at ten and 101 at eleven, the minestrone won't make it.", "minestrone"),
    ],
)
def test_a_food_named_once_and_behind_is_what_every_figure_was_of(said: str, item: str) -> None:
    readings = meant(said).readings
    assert readings
    assert {reading.item for reading in readings} == {item}


@pytest.mark.parametrize(
    ("said", "items"),
    [
        ("Walk-in 38, milk's fine.", [None]),
        ("The gauge on the prep cooler says 38, slaw looks fine.", [None]),
        ("The reach-in reads 45. The raw chicken is over the lettuce.", [None]),
        ("Ham 41. 39, the turkey.", ["Ham", "turkey"]),
        ("Ham 41, and turkey 38.", ["Ham", "turkey"]),
        ("A dry room, 61 degrees, ten hams hang in there.", [None]),
    ],
)
def test_a_unit_keeps_its_own_figure_and_a_food_its_own(said: str, items: list[str | None]) -> None:
    assert [reading.item for reading in meant(said).readings] == items

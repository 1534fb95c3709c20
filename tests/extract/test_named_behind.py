"""Places told apart by their rank, and foods that are named behind their figure.

Wording: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant


@pytest.mark.parametrize(
    ("said", "item"),
    [
        ("Far drawer, 39, that's the chimichurri.", "chimichurri"),
        ("Lowboy 40, uh, that's the ricotta.", "ricotta"),
        ("Cold rail: 39, those are the sliced tomatoes.", "sliced tomatoes"),
        ("Drawer at the end 40 and that's the salsa.", "salsa"),
        ("Drawer by your knee 40, it's your crema.", "crema"),
    ],
)
def test_a_food_named_behind_its_figure_is_what_was_measured(said: str, item: str) -> None:
    (reading,) = meant(said).readings
    assert (reading.stage, reading.item) == ("cold_holding", item)


def test_a_second_figure_takes_the_food_said_behind_it() -> None:
    said = "Top left 40, that's the ricotta, next to it 41, that's the pesto."
    assert [reading.item for reading in meant(said).readings] == ["ricotta", "pesto"]


@pytest.mark.parametrize(
    ("said", "place"),
    [
        ("Second well, gravy 141.", "Second well"),
        ("The rice in the third insert measured 141.", "third insert"),
        ("Long table by the pass, grits 141.", "Long table by the pass"),
        ("Chili in the left crock 141.", "left crock"),
        ("Two door. Slaw 38.", "Two door"),
        ("The tall box, slaw 38.", "tall box"),
        ("Third drawer down, slaw 38.", "Third drawer"),
    ],
)
def test_a_place_keeps_the_word_that_tells_it_from_the_next(said: str, place: str | None) -> None:
    (reading,) = meant(said).readings
    assert reading.place == place


def test_the_same_for_a_second_food_in_a_short_utterance() -> None:
    found = meant(
        "The tall fridge by the back stairs, and the cut strawberries in there are 39.", "same for the ham"
    )
    assert [(one.item, one.value) for one in found.readings] == [("cut strawberries", 39), ("ham", 39)]

"""Light held against the figure for what the place is used for.

Limits: FDA Food Code 2022, 6-303.11: 50 foot candles where people work with food, 20 at self-service and
where hands and ware are washed, 10 in walk-ins, dry storage and other rooms. Wording: common practice, no
source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant

LIT = [
    ("Back prep, 22 foot candles, dim.", "violates", 50),
    ("Light over the slicer is 58 foot candles.", "meets", 50),
    ("Prep sink 41 foot candles.", "violates", 50),
    ("Buffet line light 25 foot candles.", "meets", 20),
    ("Over the salad bar line I get 18 foot candles.", "violates", 20),
    ("Dish pit 31 foot candles.", "meets", 20),
    ("Light at the hand sink is 240 lux.", "meets", 215),
    ("Mop closet 11 foot candles.", "meets", 10),
    ("In the walk-in I get 8 foot candles.", "violates", 10),
    ("62 foot candles in the hallway by the restrooms.", "meets", 20),
]


@pytest.mark.parametrize(("said", "verdict", "limit"), LIT)
def test_the_use_of_the_place_decides_on_its_light(said: str, verdict: str, limit: float) -> None:
    (reading,) = meant(said).readings
    assert reading.check is not None
    assert (reading.stage, reading.check.verdict, reading.check.limit) == ("lighting", verdict, limit)


def test_a_place_of_no_known_use_is_asked_about_between_the_limits() -> None:
    (dim,) = meant("Light by the back window is 30 foot candles.").readings
    (bright,) = meant("Light by the back window is 55 foot candles.").readings
    assert dim.check is not None and bright.check is not None
    assert (dim.check.verdict, bright.check.verdict) == ("undetermined", "meets")


def test_a_need_said_behind_several_figures_is_that_of_each() -> None:
    dim, bright = meant("Table one, 36 foot candles. Table two, 71. Needs 50 in there.").readings
    assert dim.check is not None and bright.check is not None
    assert (dim.check.verdict, bright.check.verdict) == ("violates", "meets")


def test_the_need_of_something_else_is_none_of_the_light() -> None:
    light, _ = meant("Back room, 14 foot candles. Soup 120, needs 135.").readings
    assert light.check is not None
    assert light.check.verdict == "undetermined"

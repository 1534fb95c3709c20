"""Words of the telling that stand before a figure and are not what it is of.

Wording: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant


@pytest.mark.parametrize(
    ("said", "item"),
    [
        ("The oat milk wears a ribbon of 7:00 and stands at 57.", "oat milk"),
        ("She had 142 for the queso on her notepad and I get 140.", "queso"),
        ("The almanac wants 165 for leftover chili and I'm at 149.", "leftover chili"),
        ("Lentils 29, nah hundred 29, still low.", "Lentils"),
        ("The clams are satisfactory at 37, the mussels are poor at 48.", "mussels"),
        ("A stuffed cabbage is held to 165. The probe states 154.", "stuffed cabbage"),
        ("The chowder, she stirs, it settles at 139.", "chowder"),
        ("He keeps the jollof in a crate by his bicycle, and I get 142.", "jollof"),
    ],
)
def test_the_food_that_the_sentence_is_about_keeps_its_figure(said: str, item: str) -> None:
    assert meant(said).readings[-1].item == item


@pytest.mark.parametrize(
    "said",
    [
        "I drove this highway for years, and yours is 141.",
        "I was told by his nephew the evening before, and the probe tells me 50.",
        "This icebox is an ancient trophy and it still makes 35.",
    ],
)
def test_a_word_from_which_nothing_leads_to_the_figure_is_no_item(said: str) -> None:
    assert meant(said).readings[-1].item is None


@pytest.mark.parametrize(
    ("said", "item"),
    [
        ("Crock of zobo sitting out, 64.", "zobo"),
        ("He finishes the trimmings on the plate, it is 171.", "trimmings"),
        ("The jollof is 142.", "jollof"),
        ("I checked the borani and it is 39.", "borani"),
        ("Slaw 38 and the borani 41.", "borani"),
    ],
)
def test_a_food_that_no_vocabulary_knows_is_still_one(said: str, item: str) -> None:
    assert meant(said).readings[-1].item == item


@pytest.mark.parametrize(
    ("said", "items"),
    [
        ("Brisket 146, sausage 141, gauge 160.", ["Brisket", "sausage", None]),
        ("Custard pie 51 and the case dial says 38.", ["Custard pie", None]),
        ("Hot dogs 127 and 137 over the display.", ["Hot dogs", "Hot dogs"]),
    ],
)
def test_what_a_gauge_shows_is_of_no_food_before_it(said: str, items: list[str | None]) -> None:
    assert [reading.item for reading in meant(said).readings] == items


@pytest.mark.parametrize(
    ("said", "items"),
    [
        ("Poke: 39 tuna, 40 salmon, 46 tako.", ["tuna", "salmon", "tako"]),
        ("I've got 36 on cottage cheese, 37 sliced ham, 39 the giardiniera.",
         ["cottage cheese", "sliced ham", "giardiniera"]),
        ("145 rice, 151 beans, 138 cochinita.", ["rice", "beans", "cochinita"]),
        ("36 for the milk, 37 diced chicken.", ["milk", "diced chicken"]),
    ],
)  # fmt: skip
def test_where_foods_follow_their_figures_an_unknown_one_does_too(said: str, items: list[str]) -> None:
    assert [reading.item for reading in meant(said).readings] == items


def test_a_bare_count_is_no_temperature_of_the_water() -> None:
    assert not meant(
        "Water beads on the hood and drops on the trays where they pleat, I watched two land."
    ).readings


@pytest.mark.parametrize(
    ("said", "item"),
    [
        ("The meatloaf has pork, 154.", "meatloaf"),
        ("The salsa's got shrimp and it is 72.", "salsa"),
        ("Quiche contains ham, 48.", "Quiche"),
        ("He has ham, 48.", "ham"),
        ("The batter's got egg wash 63.", "egg wash"),
        ("The walk-in has ham at 48.", "ham"),
    ],
)
def test_what_a_food_is_made_with_is_not_what_was_measured(said: str, item: str) -> None:
    assert meant(said).readings[-1].item == item

"""When a figure is doubted, and when not: a doubt that is always there is no doubt."""

from __future__ import annotations

from pathlib import Path

import pytest

from extract import extract
from extract.measured.mishearings import MISPRINTS, misheard, misprints
from extract.words.lexicon import lexicon, read
from extract.words.line import prepare
from shared.errors import InputError
from shared.types import Doubt, Utterance
from tests.extract.said import meant, rules


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("brisket holding at 1 31", "split_number"),
        ("chicken off the grill 1.69", "lost_point"),
        ("soup cooling, 135.915 and then 70.1115", "glued_time"),
        ("rice bag for inches off the floor", "homophone"),
        ("sanitizer bucket, bleach, well over 200 ppm on the strip", "approximate"),
        ("Bleach bucket on the line is off the end of my strip, more than 200.", "approximate"),
        ("quot sanitizer at the bar, 200 ppm", "misheard"),
        ("walk-in cooler, milk 4", "unit_assumed"),
        ("steam table, soup 15", "implausible_for_stage"),
    ],
)
def test_doubted(line: str, code: str) -> None:
    codes = [doubt.code for reading in meant(line).readings for doubt in reading.doubts]
    assert code in codes


@pytest.mark.parametrize(
    "line",
    [
        "walk-in cooler, milk 38",
        "soup 150 degrees",
        "steam table, beans 141 and rice 138",
        "freezer reads minus 6",
    ],
)
def test_not_doubted(line: str) -> None:
    assert all(not reading.doubts for reading in meant(line).readings)


def test_a_doubt_of_the_speech_stage_is_carried_to_the_reading_it_touches() -> None:
    heard = Doubt("passes_disagree", "a second hearing gave 154", (4, 7), ("154",))
    said = Utterance("ham 153, rice 140", doubts=(heard,))
    first, second = extract([said], rules=rules()).readings
    assert heard in first.doubts and 154 in first.alternatives
    assert heard not in second.doubts


def test_misheard_words_are_listed_even_without_a_reading() -> None:
    found = meant("mouse droppings under the friar")
    assert [(heard.utterance, heard.doubt.alternatives) for heard in found.doubts] == [(0, ("fryer",))]


def doubted_words(line: str) -> list[str]:
    """What the doubted words of a line may stand for."""
    return [word for doubt in misheard(prepare(line, 0, lexicon())) for word in doubt.alternatives]


def test_a_pair_that_sounds_alike_is_doubted_only_where_the_second_reader_finds_it_out_of_place() -> None:
    line = prepare("the rig a tony is 44", 0, lexicon())
    assert misheard(line, [((4, 7), 0.25)]) == []
    (doubt,) = misheard(line, [((4, 7), 0.35)])
    assert (doubt.span, doubt.alternatives) == ((4, 14), ("rigatoni",))


def test_a_word_surely_out_of_place_is_doubted_whatever_was_meant_but_no_word_of_the_inspection() -> None:
    line = prepare("the florbs bin is 44", 0, lexicon())
    assert misheard(line, [((4, 10), 0.75)]) == []
    assert [doubt.span for doubt in misheard(line, [((4, 10), 0.85), ((11, 14), 0.85)])] == [(4, 14)]
    assert misheard(line, [((4, 10), 0.95)], known=("Florbs",)) == []
    assert misheard(line, [((18, 20), 0.99)]) == []  # a figure is doubted by what it says


def test_a_misheard_food_is_named_by_what_was_meant_with_the_words_heard_in_its_doubt() -> None:
    (reading,) = meant("two pounds of morals from the forager, 39").readings
    assert reading.item == "morels"
    assert any("“morals” may stand for “morels”" in doubt.why for doubt in reading.doubts)


def test_pairs_that_sound_alike_have_a_source_and_hold_no_figure() -> None:
    first, *_ = MISPRINTS.read_text(encoding="utf-8").splitlines()
    pairs = misprints()
    assert "Source" in MISPRINTS.read_text(encoding="utf-8") and first.startswith("#")
    assert len(pairs) == len(set(pairs)) > 4000
    assert not [pair for pair in pairs if any(character.isdigit() for character in "".join(pair))]


def test_a_damaged_table_of_pairs_is_named_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "pairs.tsv"
    path.write_text("# own\nleaks\tleeks\nonly one\n", encoding="utf-8")
    with pytest.raises(InputError, match=r"pairs.tsv, line 3"):
        misprints(path)


def test_every_row_of_doubtful_words_doubts_what_it_lists_and_never_what_it_means() -> None:
    rows = read("doubtful_words.toml")["mishearing"]
    assert len(rows) > 250
    for row in rows:
        assert set(row) <= {"heard", "meant", "near", "not_near"}
        beside = row.get("near", [""])[0]
        for heard in row["heard"]:
            assert row["meant"] in doubted_words(f"{heard}. {beside}"), heard
            for forbidden in row.get("not_near", ()):
                assert row["meant"] not in doubted_words(f"{heard}. {beside} {forbidden}"), heard
        assert doubted_words(row["meant"]) == [], row["meant"]


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("two pounds of morals, no papers from the forager", "morels"),
        ("lime juice in a galvanized pale behind the bar", "galvanized pail"),
        ("spoons and forks times up in the caddy", "tines"),
        ("a sack of muscles without a tag", "mussels"),
        ("bond me with pickled carrots on the counter", "banh mi"),
        ("tub of pico de guy o on ice", "pico de gallo"),
        ("holiday brunch, holland days in a warm pitcher", "hollandaise"),
        ("no soup and paper at the hand sink, empty soup dispenser", "soap"),
        ("nobody could show me the has up plan", "HACCP"),
        ("coaches on a glue trap by the water heater", "roach"),
        ("cook was sent home with vomiting and diary", "diarrhea"),
        ("the jug says 200 parts for million", "parts per million"),
        ("cooked beans out for four ours", "hours"),
        ("shelf is ate inches up", "eight"),
        ("the third sink is at forty too", "two"),
    ],
)
def test_words_that_sound_like_others_are_doubted(line: str, word: str) -> None:
    assert word in doubted_words(line)


@pytest.mark.parametrize(
    "line",
    [
        "chicken stock on the stove",
        "good morals and a clean record",
        "the juice of the thigh was a pale pink in the bucket",
        "a muscle in his back hurts",
        "they ran out of time for the sauce",
        "the source of the mushrooms is approved",
        "the pipe leaks beside the soup",
        "let us see the salad bar",
        "flowers in a vase beside the sugar",
        "there is only one for each station and two to go",
        "hot water at the hand sink 104 and soap and paper towels",
        "sauté pans with a nonstick coating flaking off",
    ],
)
def test_the_same_words_in_their_own_sense_are_not(line: str) -> None:
    assert doubted_words(line) == []


def test_a_word_beside_counts_in_the_plural_too() -> None:
    assert doubted_words("times up on the fork") == doubted_words("times up on the forks") == ["tines"]


@pytest.mark.parametrize(
    ("line", "doubted"),
    [
        ("prep rail, ham 44, no, scratch that", ["taken_back"]),
        ("prep rail, ham 44, correction, ham 38", []),
    ],
)
def test_a_figure_taken_back_with_none_in_its_place_is_kept_in_sight(line: str, doubted: list[str]) -> None:
    (withdrawn,) = meant(line).withdrawn
    assert withdrawn.reading.value == 44
    assert [doubt.code for doubt in withdrawn.reading.doubts] == doubted

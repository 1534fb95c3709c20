"""When a figure is doubted, and when not: a doubt that is always there is no doubt."""

from __future__ import annotations

import pytest

from extract import extract
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

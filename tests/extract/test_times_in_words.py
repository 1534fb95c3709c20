"""Times of day in words, and in front of what was measured then.

Wordings and figures: common practice, no source.
"""

from __future__ import annotations

import pytest

from extract import extract
from shared.types import Utterance
from tests.extract.said import rules


def read(*said: str) -> list[tuple[float, str, str | None]]:
    found = extract([Utterance(text) for text in said], rules=rules())
    return [(one.value, one.stage, one.clock) for one in found.readings]


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("At eighteen minutes past three the gravy in the bain marie measured 144 degrees.", 144),
        ("At seven minutes to two the rice was 140.", 140),
        ("At 20 past 10 the potatoes were 141.", 141),
        ("It was five after nine and the beans were 138.", 138),
    ],
)
def test_minutes_past_the_hour_are_no_reading(said: str, value: float) -> None:
    assert [one[0] for one in read(said)] == [value]


def test_a_range_is_no_time() -> None:
    assert [one[0] for one in read("slaw 38 to 40")] == [38, 40]


def test_a_log_read_at_its_times_is_measured() -> None:
    assert read(
        "Tall pot of lentil soup on the counter, by the cooling log 135 at five past eight.",
        "At ten to ten the sheet says 82. At half past ten, which is four minutes ago, the cook wrote 76.",
    ) == [(135, "cooling", "08:05"), (82, "cooling", "09:50"), (76, "cooling", "10:30")]


def test_a_sheet_that_names_a_limit_is_not() -> None:
    assert read("Their sheet says 41 or below.") == []


@pytest.mark.parametrize(
    "said",
    ["I found the wings in the oven at 168.", "At 9.40 I measured the wings in the oven at 168 degrees."],
)
def test_food_probed_in_the_oven_is_measured(said: str) -> None:
    assert [one[:2] for one in read(said)] == [(168, "cooking")]


def test_what_the_oven_is_set_to_is_not() -> None:
    assert read("Oven at 190, nothing in it.") == []

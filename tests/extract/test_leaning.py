"""Figures said to lie on one side of a number, held against a limit that is the number itself.

Limits: FDA Food Code 2022, the section beside each; wording: common practice, no source.
"""

from __future__ import annotations

import pytest

from extract.figures.leaning import by_little, leans
from tests.extract.said import meant


@pytest.mark.parametrize(
    ("words", "side"),
    [
        ("over", 1), ("just a hair over", 1), ("more than", 1), ("just past", 1), ("a little under", -1),
        ("less than", -1), ("about", 0), ("almost", 0), (None, 0), ("", 0),
    ],
)  # fmt: skip
def test_words_before_a_figure_say_on_which_side_of_it_a_reading_lies(words: str | None, side: int) -> None:
    assert leans(words) == side


@pytest.mark.parametrize(
    "said",
    [
        "Sanitizer bucket at the bar, chlorine, over 200.",  # 7-204.11: at most 200 ppm (21 CFR 178.1010)
        "Strip says more than 200 ppm chlorine in the wipe bucket.",
        "Bleach in the bucket reads over two hundred.",
        "Quat in the three comp, label says 200 to 400, strip reads over 400.",
        "Light at the prep table, just under 50 foot candles.",  # 6-303.11
        "Flour bags less than 6 inches off the floor.",  # 3-305.11
    ],
)
def test_beyond_a_limit_is_not_the_limit(said: str) -> None:
    (reading,) = meant(said).readings
    assert reading.check and reading.check.verdict == "violates"
    assert reading.check.margin is None
    assert reading.context is None
    assert "approximate" in {doubt.code for doubt in reading.doubts}


@pytest.mark.parametrize(
    "said",
    [
        "Sanitizer bucket at the bar, chlorine, 200.",
        "Sanitizer bucket at the bar, chlorine, just under 200.",
        "The board's over there. Sanitizer bucket, chlorine, 200.",
        "Light at the prep table, over 50 foot candles.",
    ],
)
def test_on_the_passing_side_of_a_limit_it_is_met(said: str) -> None:
    (reading,) = meant(said).readings
    assert reading.check and reading.check.verdict == "meets"


@pytest.mark.parametrize("said", ["Final rinse just under 180.", "Pork chop on the grill just past 145."])
def test_a_figure_told_as_a_little_beside_a_limit_was_read(said: str) -> None:
    """4-501.112 and 3-401.11: within the thermometer's accuracy, so neither met nor broken."""
    (reading,) = meant(said).readings
    assert reading.check and reading.check.verdict == "borderline"


def test_what_is_asked_for_is_no_reading_though_told_as_a_little_beside_a_limit() -> None:
    assert by_little("just under")
    assert not meant("Get it down just under 41 by noon.").readings

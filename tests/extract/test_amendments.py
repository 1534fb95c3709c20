"""What is taken back or changed, in one utterance and across several.

Wording: common practice, no source; limits, stages and sections: FDA Food Code 2022.
"""

# ruff: noqa: E501  (a row is a line)

from __future__ import annotations

import pytest

from tests.extract.said import meant, shorts

AMENDED = [
    (["turkey 40, ham 41, no, 44"], ["40 cold_holding turkey", "44 cold_holding ham"]),
    (["turkey 40, no wait, that's the ham. Turkey's 38."], ["40 cold_holding ham", "38 cold_holding turkey"]),
    (["beans 1 45, that's one four five"], ["145 hot_holding beans"]),
    (["soup one fifteen. one one five."], ["115 hot_holding soup"]),
    (["salmon 41. Make that 39."], ["39 cold_holding salmon"]),
    (["milk 38", "scratch that, 43"], ["43 cold_holding milk"]),
    (["milk 38", "correction on the milk, 43"], ["43 cold_holding milk"]),
    (["milk 38, eggs 40", "the milk was 43 not 38"], ["40 cold_holding eggs", "43 cold_holding milk"]),
    (["milk 38, eggs 40", "strike the eggs"], ["38 cold_holding milk"]),
    (
        ["ham 44", "same for the turkey and the salami"],
        ["44 cold_holding ham", "44 cold_holding turkey", "44 cold_holding salami"],
    ),
    (["rice 150, beans the same"], ["150 hot_holding rice", "150 hot_holding beans"]),
    (["final rinse 118, sorry, 188"], ["188 machine_rinse -"]),
    (["lasagna 128, no wait 138 not 128"], ["138 hot_holding lasagna"]),
    (["soup 150 no problem there, rice 140"], ["150 hot_holding soup", "140 hot_holding rice"]),
    (["ham 44", "no problems at the bar"], ["44 cold_holding ham"]),
]


@pytest.mark.parametrize(("lines", "expected"), AMENDED, ids=lambda value: str(value)[:60])
def test_what_stands_in_the_end(lines: list[str], expected: list[str]) -> None:
    assert shorts(*lines) == expected


def test_what_was_withdrawn_stays_visible() -> None:
    found = meant("hummus 41", "correction on the hummus, that was 47")
    assert [reading.value for reading in found.readings] == [47]
    (withdrawn,) = found.withdrawn
    assert (withdrawn.reading.value, withdrawn.superseded_by) == (41, found.readings[0].id)
    assert "correction" in withdrawn.why


def test_a_retracted_violation_is_not_proposed() -> None:
    line = "Cream on the counter is 67, I was going to write it but it's on time control and the written plan is here."
    assert meant(line).findings == ()


def test_an_alike_correction_is_doubted() -> None:
    (reading,) = meant("eggs on the hot line 115, uh no, 151").readings
    assert "restated" in [doubt.code for doubt in reading.doubts]


@pytest.mark.parametrize(
    "turn",
    [
        ". I revise.",
        ". I beg your pardon,",
        ". I have to correct myself, it is",
        ". That was a slip of the tongue.",
        ". My apologies, I looked at the wrong line. It is",
        ". Wrong.",
        ", I swapped the digits, it's",
        ". Let me restate:",
        ", forgive me,",
        ". Excuse me, I said that wrong. It is",
        ". I read it upside down. It is",
    ],
)
def test_a_figure_is_taken_back_in_many_words(turn: str) -> None:
    assert shorts(f"The trout salad is at 57{turn} 37.") == ["37 cold_holding trout salad"]


def test_where_a_height_is_measured_does_not_hide_that_it_was_taken_back() -> None:
    said = "The shelf is 18 inches above the floor. Excuse me, I said that wrong. It is 8 inches."
    assert [one.value for one in meant(said).readings] == [8]


def test_a_corrected_figure_said_once_more_is_one_reading() -> None:
    said = "Shelf is 18 inches up. I mean 8 inches, I am looking at the tape again, 8 inches."
    assert [one.value for one in meant(said).readings] == [8]


@pytest.mark.parametrize("said", ["Not 41, it's 47, the ham.", "The ham. Not 41, it is 47."])
def test_what_a_figure_is_not_may_be_said_first(said: str) -> None:
    assert shorts(said) == ["47 cold_holding ham"]

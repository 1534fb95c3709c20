"""Misheard trade words: mended only where sound and context agree; heard and mended are both kept.

Mishearings: common practice, no source.
"""

import pytest

from capture.speech.hotwords import holds_number, hotwords, trade_words
from capture.speech.mending import mended, mishearings
from capture.speech.soundalike import alike, skeleton
from capture.speech.utterances import utterance
from shared.types import Word


def mend(text: str, *, known: tuple[str, ...] = (), probability: float = 0.9) -> str:
    said = utterance([Word(word, i / 2, i / 2 + 0.5, probability) for i, word in enumerate(text.split())])
    after = mended(said, known=known)
    assert after.heard == (None if after.text == text else text)
    assert " ".join(word.text for word in after.words) == after.text
    assert (after.start, after.end) == (said.start, said.end)
    return after.text


@pytest.mark.parametrize(
    ("heard", "meant"),
    [
        ("The quot sanitizer reads 200 ppm.", "The quat sanitizer reads 200 ppm."),
        ("Quad strip shows nothing.", "Quat strip shows nothing."),
        ("No soap at the hand sync.", "No soap at the hand sink."),
        ("Reaching cooler is 38.", "Reach-in cooler is 38."),
        ("Turkey in the wok in is 48.5", "Turkey in the walk-in is 48.5"),
        ("I swatter check, 32.", "Ice water check, 32."),
        ("38 full candles over the slicer.", "38 foot candles over the slicer."),
    ],
)
def test_mended(heard: str, meant: str) -> None:
    assert mend(heard) == meant


@pytest.mark.parametrize(
    "text",
    [
        "A quart container of milk.",
        "He gave me a quote for the hood.",
        "A quad strip of milk cartons, test lot.",
        "She is walking to the cooler.",
        "The wok is clean.",
        "I am reaching for the cooler door.",
        "Turkey is 48.5 degrees.",
    ],
)
def test_left_alone(text: str) -> None:
    assert mend(text) == text


def test_a_word_of_the_place_is_mended_by_sound_where_the_model_was_unsure() -> None:
    assert mend("Order Keller cutting board", known=("Ortikeler",), probability=0.9).startswith("Order")
    assert mend("bear ria takos", known=("Birria tacos",), probability=0.4) == "Birria tacos"


def test_numbers_are_never_mended() -> None:
    assert mend("sex tee two", known=("sixty-two",), probability=0.1) == "sex tee two"
    assert mend("one sixty", known=("Wan Sesti",), probability=0.1) == "one sixty"


def test_every_row_of_the_table_sounds_alike_and_is_reached() -> None:
    rows = mishearings()
    assert len(rows) > 50
    assert len({row.heard for row in rows}) == len(rows)


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        ("quot", "quat", True),
        ("hand sync", "hand sink", True),
        ("rich in cooler", "reach-in cooler", True),
        ("turkey", "tuna", False),
        ("ground beef", "brown rice", False),
    ],
)
def test_sound(one: str, other: str, expected: bool) -> None:
    assert alike(one, other) is expected
    assert skeleton(one) != ""


def test_the_bias_is_sentences_without_numbers_and_keeps_the_words_of_the_place() -> None:
    bias = hotwords(["goat curry", "cooler 3", "booth seven", "Chef Ilka"])
    assert bias.startswith("Goat curry. Chef Ilka. ")
    assert not holds_number(bias)
    assert bias.count(".") == len(bias.split(". "))


def test_no_trade_word_holds_a_number() -> None:
    assert [word for word in trade_words() if holds_number(word)] == []


@pytest.mark.parametrize("text", ["cooler 3", "seventeen", "forty-one", "half pan", "Two Sisters"])
def test_numbers_are_seen_in_a_bias(text: str) -> None:
    assert holds_number(text)


@pytest.mark.parametrize("text", ["walk-in cooler", "Tenby", "bone broth", "forte sauce", "wonton"])
def test_words_that_only_contain_a_number_word_are_no_numbers(text: str) -> None:
    assert not holds_number(text)

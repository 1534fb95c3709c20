"""What must not change the meaning, and what may never be invented."""

from __future__ import annotations

import string

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from num2words import num2words

from extract import extract
from shared.types import Utterance
from tests.extract.said import meant, rules

FOODS = ("ham", "turkey", "tuna salad", "sliced cheese", "potato salad", "milk", "cooked rice", "coleslaw")
COLD = st.integers(33, 60)
FILLERS = ("uh", "um", "okay", "so")
QUICK = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def told(*lines: str) -> list[tuple[float, str, str | None, str | None]]:
    return [
        (r.value, r.stage, (r.item or "").lower(), (r.place or "").lower()) for r in meant(*lines).readings
    ]


@QUICK
@given(food=st.sampled_from(FOODS), value=COLD)
def test_digits_or_words(food: str, value: int) -> None:
    assert told(f"walk-in cooler, {food} {value}") == told(f"walk-in cooler, {food} {num2words(value)}")


@QUICK
@given(food=st.sampled_from(FOODS), value=COLD)
def test_case(food: str, value: int) -> None:
    line = f"Walk-in cooler, the {food} is at {value} degrees."
    assert told(line) == told(line.upper()) == told(line.lower())


@QUICK
@given(
    foods=st.lists(st.sampled_from(FOODS), min_size=2, max_size=4, unique=True),
    values=st.lists(COLD, min_size=4, max_size=4),
)
def test_punctuation(foods: list[str], values: list[int]) -> None:
    parts = [f"{food} {value}" for food, value in zip(foods, values, strict=False)]
    expected = [(value, food) for food, value in zip(foods, values, strict=False)]
    for line in (", ".join(parts), " ".join(parts), "; ".join(parts), ". ".join(parts)):
        assert [(value, item) for value, _, item, _ in told(f"walk-in cooler. {line}")] == expected


@QUICK
@given(food=st.sampled_from(FOODS), value=COLD, filler=st.sampled_from(FILLERS))
def test_fillers(food: str, value: int, filler: str) -> None:
    plain = told(f"walk-in cooler, {food} is at {value}")
    assert told(f"{filler}, walk-in cooler, {food} is, {filler}, at {value}") == plain


@QUICK
@given(value=COLD, unit=st.sampled_from(("degrees", "degrees Fahrenheit", "°F", "F", "degrees F")))
def test_paraphrase_of_units(value: int, unit: str) -> None:
    assert told(f"walk-in cooler, ham {value} {unit}") == told(f"walk-in cooler, ham {value} fahrenheit")


@QUICK
@given(one=COLD, two=st.integers(136, 160))
def test_order_of_independent_utterances(one: int, two: int) -> None:
    lines = (f"Walk-in cooler, ham {one}.", f"Steam table, soup {two}.")
    assert sorted(told(*lines)) == sorted(told(*reversed(lines)))


@QUICK
@given(one=st.sampled_from(FOODS), two=st.sampled_from(FOODS), value=COLD)
def test_swapping_the_food_swaps_the_item_only(one: str, two: str, value: int) -> None:
    first, second = (told(f"walk-in cooler, {food} is {value}") for food in (one, two))
    assert [(v, s, p) for v, s, _, p in first] == [(v, s, p) for v, s, _, p in second]
    assert [item for _, _, item, _ in second] == [two]


WORDS = st.lists(
    st.sampled_from(
        [
            "ham",
            "the",
            "41",
            "is",
            "no",
            "wait",
            "150",
            "make",
            "that",
            "cooler",
            "degrees",
            "at",
            "one",
            "forty",
            "two",
            "and",
            ".",
            ",",
            "ppm",
            "quat",
            "not",
            "soup",
            "hand",
            "sink",
        ]
    ),
    max_size=25,
)


@settings(max_examples=150, deadline=None)
@given(words=WORDS)
def test_a_value_never_appears_that_the_text_does_not_support(words: list[str]) -> None:
    text = " ".join(words)
    found = extract([Utterance(text)], rules=rules())
    for reading in (*found.readings, *(w.reading for w in found.withdrawn)):
        assert text[slice(*reading.span)] == reading.said
        assert any(mark.isdigit() or mark.isalpha() for mark in reading.said)
        spelled = {"one", "forty", "two", "that", "same"}
        assert any(mark.isdigit() for mark in reading.said) or spelled & set(reading.said.split())
    for finding in found.findings:
        assert finding.evidence


@settings(max_examples=150, deadline=None)
@given(text=st.text(max_size=200))
def test_any_text_is_read_without_a_crash(text: str) -> None:
    found = extract([Utterance(text)], rules=rules())
    for reading in found.readings:
        assert text[slice(*reading.span)] == reading.said
    if not any(mark.isnumeric() for mark in text) and not set(text.lower()) & set(string.ascii_lowercase):
        assert found.readings == ()


GARBAGE = [
    "",
    "   ",
    "\t\n",
    "\x00\x01\x02 \x7f",
    "🍗🔥🥶 🧊",
    "температура сорок один",
    "温度は四十一度です",
    "٤١ ٤٢",
    "41" * 400,
    "…—–!?.,;:",
    "°°°° %% ##",
    "a" * 100_000,
    "ham 41 " * 3_000,
    "\u202e41 mah\u202c",
]


@pytest.mark.parametrize("text", GARBAGE, ids=range(len(GARBAGE)))
def test_garbage(text: str) -> None:
    found = extract([Utterance(text), Utterance("ham 47")], rules=rules())
    assert found.readings[-1].value == 47


def test_a_megabyte_on_one_line_is_read_in_time_and_nothing_is_invented() -> None:
    found = extract([Utterance("blah blah blah " * 70_000)], rules=rules())
    assert found.readings == () and found.findings == ()

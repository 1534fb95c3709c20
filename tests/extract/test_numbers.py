"""Spoken and printed numbers. Outside reference for numerals: num2words; the other rows are invented."""

from __future__ import annotations

import pytest
from num2words import num2words

from extract.figures.numbers import numbers
from extract.words.text import tokens


def read(text: str) -> list[float]:
    return [number.value for number in numbers(tokens(text))]


@pytest.mark.parametrize("value", [*range(2, 231), 350, 405, 500])
def test_numerals_as_num2words_writes_them(value: int) -> None:
    assert read(num2words(value)) == [value]


@pytest.mark.parametrize("value", [0.5, 2.5, 32.4, 40.1, 48.5, 101.7, 134.9, 165.25])
def test_decimals_as_num2words_writes_them(value: float) -> None:
    assert read(num2words(value)) == [pytest.approx(value)]


@pytest.mark.parametrize("value", [*range(101, 200, 7), 212, 225])
def test_hundreds_as_they_are_said(value: int) -> None:
    """`one sixty nine`: common usage, no source; the groups are written by num2words."""
    hundreds, rest = divmod(value, 100)
    tail = num2words(rest) if rest >= 10 else f"oh {num2words(rest)}"
    assert read(f"{num2words(hundreds)} {tail}") == [value]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("forty eight point five", [48.5]),
        ("48.5", [48.5]),
        ("one oh four", [104]),
        ("a hundred and thirty five", [135]),
        ("a hundred and 35", [135]),
        ("twelve and a half", [12.5]),
        ("12 and a half", [12.5]),
        ("7 1/2", [7.5]),
        ("7 ½", [7.5]),
        ("three quarters", [0.75]),
        ("minus four", [-4]),
        ("negative 12", [-12]),
        ("-6", [-6]),
        ("10 below zero", [-10]),
        ("1 31", [131]),
        ("one 35", [135]),
        ("4 3", [43]),
        ("five zero", [50]),
        ("one four five", [145]),
        ("1,702", [1702]),
        ("one thirty five at nine fifteen", [135, 915]),
        ("45 and 48", [45, 48]),
        ("the 3rd", []),
        ("no figures here", []),
    ],
)
def test_number(text: str, expected: list[float]) -> None:
    assert read(text) == expected


@pytest.mark.parametrize(
    ("text", "code", "others"),
    [("1 31", "split_number", (31,)), ("1.69", "lost_point", (169,)), ("135.915", "glued_time", (135.915,))],
)
def test_every_understanding_is_kept(text: str, code: str, others: tuple[float, ...]) -> None:
    (number,) = numbers(tokens(text))
    assert code in number.codes
    assert number.alternatives == others


def test_a_glued_time_is_told() -> None:
    (number,) = numbers(tokens("135.915"))
    assert number.glued == (9, 15)

"""Numbers in a line of words, as two hearings of one sound are compared."""

import pytest
from num2words import num2words

from capture.speech.numerals import numerals, sound, tokens


def keys(text: str) -> list[str]:
    return [numeral.key for numeral in numerals(tokens(text))]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("sliced turkey is at 48.5 degrees", ["48.5"]),
        ("forty eight point five", ["48.5"]),
        ("forty-eight point five", ["48.5"]),
        ("one sixty nine", ["169"]),
        ("one oh four", ["104"]),
        ("one 30", ["130"]),
        ("one 16.5", ["116.5"]),
        ("that one 3 inches", ["3"]),
        ("a hundred and four", ["104"]),
        ("one hundred thirty five", ["135"]),
        ("two hundred ppm", ["200"]),
        ("135 at 9.15", ["135", "9.15"]),
        ("135 at 9:15", ["135", "9:15"]),
        ("one thirty five at nine fifteen", ["135", "915"]),
        ("minus four", ["-4"]),
        ("minus one", ["-1"]),
        ("negative one at that one", ["-1"]),
        ("it says -4", ["-4"]),
        ("twelve and a half", ["12.5"]),
        ("half an inch", ["0.5"]),
        ("41°F and 5°C", ["41", "5"]),
        ("1, 69, that's good", ["1", "69"]),
        ("2,000 ppm", ["2000"]),
        ("three-compartment sink", ["3"]),
        ("one inch", ["1"]),
        ("17.1.5", ["17.1.5"]),
        ("4T4", ["4t4"]),
    ],
)
def test_numbers_said_or_printed(text: str, expected: list[str]) -> None:
    assert keys(text) == expected


@pytest.mark.parametrize(
    "text",
    [
        "that one is fine",
        "for inches",
        "the second shelf",
        "1st of the month",
        "no numbers here",
        "",
        "a walk-in",
    ],
)
def test_no_number(text: str) -> None:
    assert keys(text) == []


@pytest.mark.parametrize("number", [*range(2, 100), *range(100, 1000, 7)])
def test_spelled_by_a_reference_library(number: int) -> None:
    """Source: num2words (LGPL), English cardinals, with its "and" and hyphens."""
    assert keys(num2words(number)) == [str(number)]


@pytest.mark.parametrize("number", [32.5, 40.2, 101.7, 158.2, 4.1])
def test_decimals_spelled_by_a_reference_library(number: float) -> None:
    """Source: num2words."""
    assert keys(num2words(number)) == [str(number)]


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("1.69", "169", True),
        ("9:15", "915", True),
        ("9.15", "9:15", True),
        ("9.40", "940", True),
        ("86.40", "86.4", True),
        ("86.00", "86", True),
        ("86.45", "86.4", False),
        ("9:00", "9", True),
        ("48.5", "485", False),
        ("153", "154", False),
        ("135.915", "135", False),
    ],
)
def test_printings_of_one_sound(one: str, other: str, same: bool) -> None:
    assert (sound(one) == sound(other)) is same


@pytest.mark.parametrize("text", ["one hundred and seven", "a hundred and four", "4 point 5", "half an inch"])
def test_a_row_of_any_kind_holds_the_same_numbers(text: str) -> None:
    assert numerals(tuple(tokens(text))) == numerals(tokens(text))

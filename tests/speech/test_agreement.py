"""Where two hearings of the same sound differ in a number."""

import pytest

from capture.speech.agreement import differences, likeness
from capture.speech.numerals import tokens


def found(mine: str, theirs: str) -> list[tuple[str, str]]:
    line = tokens(mine)
    return [(" ".join(line[one.first : one.last]), one.other) for one in differences(line, tokens(theirs))]


@pytest.mark.parametrize(
    ("mine", "theirs", "expected"),
    [
        ("the ham is 40 degrees", "the ham is 14 degrees", [("40", "14")]),
        ("marinara 153", "marinara 154", [("153", "154")]),
        ("tuna 52 and egg 51", "tuna 52 and egg 61", [("51", "61")]),
        ("ham 40 turkey 41", "ham 14 turkey 51", [("40", "14"), ("41", "51")]),
        ("it is 4 inches off", "it is inches off", [("4", "")]),
        ("gravy at 112", "gravy at one twenty", [("112", "one twenty")]),
        ("two roaches", "food roaches", [("two", "food")]),
        ("freezer is at 2", "freezer is it ten", [("2", "ten")]),
        ("ham at 86.40", "ham at 86.5", [("86.40", "86.5")]),
        ("the rack holds 45", "the rack 40 holds 5", [("", "40"), ("45", "5")]),
        ("shows minus 1", "shows minus nine", [("minus 1", "minus nine")]),
        ("it stood at 129", "it stood at 1209", [("129", "1209")]),  # a time, perhaps
        ("plate at 186", "plate at 1809", [("186", "1809")]),
        ("chowder 148.8", "chowder 148.8.9", [("148.8", "148.8.9")]),
    ],
)
def test_different_numbers(mine: str, theirs: str, expected: list[tuple[str, str]]) -> None:
    assert found(mine, theirs) == expected


@pytest.mark.parametrize(
    ("mine", "theirs"),
    [
        ("the ham is 40", "a ham was forty"),
        ("chicken 1.69", "chicken one sixty nine"),
        ("chicken 1, 69 good", "chicken 169 good"),
        ("at 9.15", "at nine fifteen"),
        ("no numbers at all", "no number at hall"),
        ("slice turkey 48.5", "sliced turkey 48.5 degrees"),
        ("boxes 4 inches off", "boxes for inches off"),
        ("freezer is at 2", "freezer is it too"),
        ("only get the 86.40", "only get 86.4"),
        ("the rinse was 170.0", "the rinse was 170"),
        ("it is 186", "it is 100 and 86"),
        ("down to 97", "down to 97th"),
        ("baked ziti 162", "baked zd162"),
        ("chowder 148.8", "chowder 148. 8"),
        ("lettuce on ice 37", "lettuce on ice 30 7"),
        ("rice at 167", "rice at 160 seven"),
        ("rice at 167.5", "rice at 160 7.5"),
        ("plate hit 186", "plate hit 1806"),
        ("chowder 148.8", "chowder 148.8.8"),
        ("plate hit 186.5", "plate hit 1806.5"),
        ("shows minus 1", "shows minus one"),
    ],
)
def test_the_same_numbers(mine: str, theirs: str) -> None:
    assert found(mine, theirs) == []


def test_a_number_that_only_the_other_hearing_has() -> None:
    (one,) = differences(tokens("boxes stored for inches"), tokens("boxes stored four inches"))
    assert one.other == "four"


def test_likeness_counts_a_number_as_one_word() -> None:
    assert likeness(tokens("ham one thirty five"), tokens("ham 135")) == 1.0
    assert likeness(tokens("ham 135"), tokens("cam 120")) == 0.0

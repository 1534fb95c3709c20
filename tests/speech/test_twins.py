"""Numbers that are easily taken for each other. Common practice, no source; measured in docs/speech.md."""

import pytest

from capture.speech.numerals import numerals
from capture.speech.twins import confusable, twinned


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        ("14", "40", True),
        ("14.2", "40.2", True),
        ("115", "150", True),
        ("153", "154", True),
        ("48.5", "49.5", True),
        ("107.6", "170.6", True),
        ("154", "150.4", True),
        ("-4", "-40", True),
        ("-4", "4", True),
        ("14", "50", False),
        ("40", "140", False),
        ("137", "173", False),
        ("9:15", "915", False),
        ("40", "no number", False),
    ],
)
def test_numbers_easily_taken_for_each_other(one: str, other: str, expected: bool) -> None:
    assert confusable(one, other) is expected
    if numerals([other]):
        assert confusable(other, one) is expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [("14", True), ("40", True), ("107", True), ("170", True), ("7", False), ("146", False), ("9:15", False)],
)
def test_numbers_that_have_one_that_sounds_like_them(text: str, expected: bool) -> None:
    (number,) = numerals([text])
    assert twinned(number) is expected

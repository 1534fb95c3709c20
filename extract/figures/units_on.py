"""Units that go on to the next figure of a list: `ribs 2 days old, pork 9`, `40 gallons fresh, 50 waste`."""

from __future__ import annotations

from itertools import pairwise

from extract.figures.figure import Figure
from extract.words.line import NOUN, Line
from extract.words.text import word_set

_MEASURES = word_set(
    "gallons gallon quarts pints cups ounces pounds lbs dollars bucks percent liters litres watts amps"
)


def measures_on(line: Line, found: list[Figure]) -> None:
    """`40 gallons fresh, 50 waste`: the next figure of a list in gallons or pounds."""
    for one, two in pairwise(found):
        between = [token.low for token in line.tokens[one.last : two.first]]
        named = line.classes[two.last] == NOUN if two.last < len(line.tokens) else False
        measured = line.tokens[one.last - 1].low in _MEASURES and one.unit == "other"
        if (
            measured
            and two.role == "figure"
            and two.unit is None
            and "," in between
            and len(between) <= 4
            and named
        ):
            two.role = "other"


_MOST_DAYS = 14.0
"""Days up to which a bare figure behind `2 days old` goes on counting days: common practice, no source."""


def days_on(line: Line, found: list[Figure]) -> None:
    """`ribs 2 days old, pork 9`: the next food's days."""
    for one, two in pairwise(found):
        if one.unit != "day" or two.unit is not None or two.role != "figure" or two.number.decimals:
            continue
        between = [token.low for token in line.tokens[one.last : two.first]]
        if "old" in between and "," in between and two.value <= _MOST_DAYS and len(between) <= 5:
            two.unit, two.kind = one.unit, one.kind

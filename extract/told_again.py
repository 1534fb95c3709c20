"""One figure told twice in other words: its last digits again, what they are like, or the other scale."""

from __future__ import annotations

from extract.figure import Figure
from extract.line import Line
from extract.text import word_set

_EQUALS = word_set("is are was about that 's so or which equals roughly around call it in a = ( ) be")


def _likened(line: Line, one: Figure, begin: int, two: Figure) -> bool:
    """`113, thirteen like the unlucky one`: the last digits, told by what they are like."""
    after = [token.low for token in line.tokens[two.last : two.last + 2]]
    like = after[:1] == ["like"] or after in (["as", "in"], ["as", "with"])
    lows = [token.low for token in line.tokens[begin : two.first] if token.kind != "mark"]
    return like and lows in ([], ["that", "'s"], ["so"]) and two.value in (one.value, one.value % 100)


def tail_again(line: Line, one: Figure, begin: int, two: Figure, lows: list[str]) -> bool:
    """`one five five, that's five five`: the last digits said once more."""
    tail = f"{two.value:g}"
    whole = f"{one.value:g}"
    spelled = two.unit is None and two.number.words and two.last - two.first == len(tail) >= 2
    said_on = lows in (["that", "'s"], ["that", "is"], ["so"])
    return (spelled and said_on and whole != tail and whole.endswith(tail)) or _likened(line, one, begin, two)


def converted(one: Figure, two: Figure, lows: list[str]) -> bool:
    """`9 Celsius is about 48 Fahrenheit`: one temperature in both scales."""
    if not _EQUALS.issuperset(lows):
        return False
    scales = {"degC", "degF"}
    if {one.unit, two.unit} != scales and not (two.unit is None and lows and one.unit in scales):
        return False
    cold, warm = (one, two) if one.unit == "degC" else (two, one)
    return abs(cold.value * 9 / 5 + 32 - warm.value) <= 1.5

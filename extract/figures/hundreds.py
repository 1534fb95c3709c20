"""Hundreds that are said once for two figures of the same thing: `beans one thirty, thirty five`."""

from __future__ import annotations

from itertools import pairwise

from extract.figures.figure import Figure
from extract.words.line import Line

_HOT = 100.0
_LEAST, _MOST = 13, 99


def with_hundreds(line: Line, found: list[Figure]) -> None:
    """Gives a figure, in place, the hundred of the one right before it; it is doubted, and its other value
    kept. No food goes from hot to cold within a breath."""
    for one, two in pairwise(found):
        if not (one.role == two.role == "figure" and one.number.words and two.number.words):
            continue
        between = line.tokens[one.last : two.first]
        closed = two.last >= len(line.tokens) or line.tokens[two.last].kind == "mark"
        alone = bool(between) and all(token.kind == "mark" for token in between)
        bare = one.unit is None and two.unit is None and not two.number.decimals
        if alone and bare and closed and _HOT < one.value < 2 * _HOT and _LEAST <= two.value <= _MOST:
            two.alternatives = (*two.alternatives, two.value)
            two.value, two.codes = two.value + _HOT, (*two.codes, "unsure")

"""Bare figures of a pressure that is spoken of."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.figures.quantities import MOST_PSI
from extract.words.line import Line
from extract.words.text import word_set

_PRESSING = word_set("pressure psi pounds")
_STANDS = word_set("links auxiliaries adverbs prepositions fillers determiners predicates verbs")
"""Classes of the words between a pressure and its figure."""


def pressing(line: Line, figure: Figure) -> bool:
    """`pressure at 30 on the final rinse`, `psi's about 12`: only small words stand between."""
    i, first = figure.first - 1, line.sentence_span(figure.first)[0]
    if figure.unit is not None or figure.value > MOST_PSI:
        return False
    if _only_pressure(line, figure, first):
        return True
    while i >= first and line.classes[i] in _STANDS:
        i -= 1
    if i > first and line.tokens[i].low in ("gauge", "dial", "needle", "reading"):
        i -= 1
    return i >= first and _presses(line, i)


def _presses(line: Line, n: int) -> bool:
    """Whether a token speaks of a pressure; `twenty pounds of shrimp` are none."""
    low = line.tokens[n].low
    return low in _PRESSING and not (low == "pounds" and n > 0 and line.classes[n - 1] == "number")


def _only_pressure(line: Line, figure: Figure, first: int) -> bool:
    """`Pressure on the final rinse though is 34`: no other figure and no degrees stand between."""
    at = next((n for n in range(figure.first - 1, first - 1, -1) if _presses(line, n)), None)
    if at is None:
        return False
    between = line.tokens[at : figure.first]
    return not any(
        token.kind == "number" or token.kind == "mark" or token.stem in _OF_HEAT for token in between
    )


_OF_HEAT = word_set("temp temperature degree water wash food")

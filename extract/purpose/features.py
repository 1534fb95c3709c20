"""What is counted around a figure: the words on both sides, its value, and what the rules say of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from extract.figure import Figure
from extract.line import Line

FIGURE = "#"
"""Stands for another figure among the words."""
_REACH, _CLOSE, _NEXT = 10, 5, 3
"""Words on each side that are looked at, those counted as close, and those counted by their place."""
_STEPS = (0, 20, 32.5, 41.5, 45.5, 60, 75, 100, 120, 134.5, 144, 156, 166, 185, 215)
"""Bounds between sizes of figures in °F or without a unit: common practice, no source."""
_PRINTED = frozenset(
    (0, 2, 4, 4.2, 4.6, 5, 6, 7, 15, 17, 21, 24, 30, 32, 36, 41, 45, 50, 57, 63, 70, 74, 75, 85, 100, 110,
     120, 130, 135, 140, 145, 150, 155, 160, 165, 171, 180, 194, 200, 212)
)  # fmt: skip
"""Figures that stand in the FDA Food Code 2022 or a common label, so that people say them as rules."""
_NEAR = 25
"""Two figures nearer than this may be a reading and its limit: common practice, no source."""


def words_of(line: Line, found: Sequence[Figure]) -> list[str]:
    """The stem of each token of an utterance; `#` where a figure stands."""
    words = [token.stem for token in line.tokens]
    for figure in found:
        for n in range(figure.first, figure.last):
            words[n] = FIGURE
    return words


def features(line: Line, found: Sequence[Figure], at: int, words: Sequence[str]) -> list[str]:
    """What is counted of the figure at `at`; `words` as `words_of` gives them."""
    figure = found[at]
    first, last = line.sentence_span(figure.first)
    before = _words(words, range(figure.first - 1, max(first - 2, -1), -1))
    behind = _words(words, range(figure.last, min(last + 1, len(words))))
    return [
        *_itself(found, at, first, last),
        *_side("-", "<", before),
        *_side("+", ">", behind),
        *([f"<>{before[0]}_{behind[0]}"] if before and behind else []),
        *(f"s:{word}" for word in words[first:last] if word != FIGURE),
        *_sentence_before(line, words, first),
    ]


def _itself(found: Sequence[Figure], at: int, first: int, last: int) -> Iterator[str]:
    figure = found[at]
    others = [other for other in found if other is not figure and other.role == "figure"]
    yield f"u:{figure.unit}"
    yield _size(figure)
    yield "decimals" if figure.number.decimals else "whole"
    yield f"role:{figure.role}"
    if figure.value in _PRINTED:
        yield "printed"
        yield f"is:{figure.value:g}"
        if any(0 < abs(other.value - figure.value) <= _NEAR for other in others):
            yield "printed, another near"
    if any(other.value == figure.value for other in others):
        yield "said again"
    yield "others" if others else "alone"
    within = [n for n, other in enumerate(found) if first <= other.first < last]
    yield f"place:{min(within.index(at), 3)} of {min(len(within), 4)}"


def _size(figure: Figure) -> str:
    if figure.unit not in ("degF", None):
        return f"size:{figure.unit}"
    return f"size:{next((step for step in _STEPS if figure.value <= step), 'more')}"


def _words(words: Sequence[str], places: range) -> list[str]:
    """The words at these places in turn; a row of figure words is one."""
    found: list[str] = []
    for n in places:
        if words[n] != FIGURE or not found or found[-1] != FIGURE:
            found.append(words[n])
        if len(found) == _REACH:
            break
    return found


def _side(step: str, side: str, words: Sequence[str]) -> Iterator[str]:
    for n, word in enumerate(words):
        if n < _NEXT:
            yield f"{step}{n + 1}:{word}"
        yield f"{side}{word}" if n < _CLOSE else f"{side}{side}{word}"
    for one, two in pairwise(words[: _CLOSE + 1]):
        yield f"{side}{one}_{two}"


def _sentence_before(line: Line, words: Sequence[str], first: int) -> Iterator[str]:
    if first:
        for word in words[slice(*line.sentence_span(first - 1))]:
            if word != FIGURE:
                yield f"p:{word}"

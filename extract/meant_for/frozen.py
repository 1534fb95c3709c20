"""Fish frozen for parasites, told by a log: `their log has minus 31 for fifteen hours`."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.words.line import Line
from extract.words.text import stem, word_set

FROZEN = "frozen that long"
"""Why such a figure is a reading, whatever paper tells it."""
_BETWEEN = word_set("for degrees a full over the last at least held and ,")
_RULED = word_set("takes take needs need must should wants want requires rule rules law code")
_COLD_F, _COLD_C = -4, -15
"""Colder than this a log with a time tells of freezing for parasites: common practice, no source."""
_DEGREES = (None, "deg", "degF", "degC")
_PAPERS = frozenset(
    map(stem, ("letter", "supplier", "label", "poster", "policy", "booklet", "plan", "paper", "invoice"))
)


def frozen_for(line: Line, found: list[Figure], at: int, first: int) -> bool:
    """Whether a figure is of the cold that fish was kept at, or of how long: both stand side by side."""
    figure = found[at]
    if figure.kind == "duration":
        return at > 0 and found[at - 1].why == FROZEN and _beside(line, found[at - 1], figure)
    cold = figure.value <= (_COLD_C if figure.unit == "degC" else _COLD_F) and figure.unit in _DEGREES
    follows = found[at + 1] if at + 1 < len(found) else None
    if not cold or follows is None or follows.kind != "duration" or not _beside(line, figure, follows):
        return False
    if any(token.stem in _PAPERS for token in line.tokens[first : figure.first]):
        return False  # `the supplier's letter says minus 4 for seven days`
    begin = max(first, found[at - 1].last if at else first, figure.first - 4)
    return not any(token.low in _RULED for token in line.tokens[begin : figure.first])


def _beside(line: Line, one: Figure, two: Figure) -> bool:
    between = line.tokens[one.last : two.first]
    return len(between) <= 4 and all(token.low in _BETWEEN for token in between)

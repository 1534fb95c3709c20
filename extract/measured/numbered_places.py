"""The number of a place, said again without its word: `Section 118 bar`, then `back at 118`."""

from __future__ import annotations

from collections.abc import Sequence

from extract.figures.figure import Figure
from extract.scene import Scene
from extract.words.line import Line
from extract.words.text import word_set

_LEAST = 100
"""Lower numbers may as well be a reading: common practice, no source."""
_TO = frozenset(("at", "to", "in", "for", "from"))
_SHORT = 4
"""Words of a sentence that says only where somebody is."""
_NO_NAME = word_set("in at on for and or is was again now to of off from out inside under over by with")


def settle_numbered_places(line: Line, found: Sequence[Figure], scene: Scene) -> None:
    """Takes the number of a place that was named before for no measurement, and remembers those named."""
    for figure in found:
        if figure.role == "id" and _may_be(figure):
            scene.numbered_places.add(figure.value)
        elif (
            figure.role in ("figure", "mentioned")
            and figure.value in scene.numbered_places
            and _may_be(figure)
            and _stands_for_place(line, figure)
        ):
            figure.role, figure.why = "id", line.words(figure.first, figure.last)


def _may_be(figure: Figure) -> bool:
    return figure.unit is None and figure.number.decimals == 0 and figure.value >= _LEAST


def _stands_for_place(line: Line, figure: Figure) -> bool:
    first, end = line.sentence_span(figure.first)
    tokens = line.tokens
    if figure.first == first:
        after = tokens[figure.last] if figure.last < end else None
        again = figure.last + 1 < end and after is not None and after.low in ("again", "now")
        return again or (after is not None and after.kind == "word" and after.low not in _NO_NAME)
    words = [token for token in tokens[first:end] if token.kind != "mark"]
    return tokens[figure.first - 1].low in _TO and len(words) <= _SHORT and words[-1] is tokens[figure.first]

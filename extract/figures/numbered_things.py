"""Numbers that tell which of several things is meant: `carrier two`, `probe one`, `Point 5.`."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.words.line import Line
from extract.words.numerals import numbered, one_of_several
from extract.words.text import word_set

NAMES = "the number of a thing"
"""Why a figure is no measurement."""
_ENTRIES = word_set("point item number entry finding violation note")


def _of_a_list(line: Line, figure: Figure) -> bool:
    """The 5 of `Point 5. Light at the board, 62`."""
    before = figure.first - 1
    after = line.tokens[figure.last] if figure.last < len(line.tokens) else None
    return (
        before >= 0
        and line.tokens[before].low in _ENTRIES
        and line.sentence_span(figure.first)[0] == before
        and after is not None
        and after.kind == "mark"
    )


def numbers_a_thing(line: Line, figure: Figure) -> bool:
    """The `two` of `Carrier one, tenders 141. Carrier two, broccoli 128`."""
    if figure.unit is not None or figure.last - figure.first > 1:
        return False
    spelled = figure.number.words and one_of_several(line.tokens, figure.first)
    if spelled or _of_a_list(line, figure) or numbered(line.tokens, figure.first):
        figure.why = NAMES
        return True
    return False

"""Words of heat beside a figure: what stands next to it, came off it, or has left it long ago."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.words.line import Chunk, Line
from extract.words.text import word_set

_BESIDE = word_set("under below beneath beside by near next behind")


def next_to(line: Line, chunk: Chunk) -> bool:
    """The spit of `potatoes under the spit`, the range of `the ledge over the range`: it does not cook them.
    Nor was what stands in `the hot box by the dock` received."""
    if chunk.place is not None and chunk.place.stage == "receiving":
        return chunk.preposition in _BESIDE
    return _next_to_heat(line, chunk)


def _next_to_heat(line: Line, chunk: Chunk) -> bool:
    if chunk.place is None or chunk.place.stage != "cooking":
        return False
    at = line.chunk_at[chunk.prepared_at - 1] if chunk.prepared_at else -1
    if chunk.preposition in ("over", "above"):
        return at >= 0 and line.chunks[at].sort == "place"
    return chunk.preposition in _BESIDE


def long_over(line: Line, first: int, last: int) -> bool:
    """`nobody can tell when from the oven they came`, `out of the oven an hour ago`: held since then."""
    begin, end = line.sentence_span(first)
    before = {token.low for token in line.tokens[max(begin, first - 4) : first]}
    after = {token.low for token in line.tokens[last : min(end, last + 5)]}
    if before & {"when"} and _at_that_moment(line, begin, first):
        before -= {"when"}
    return bool(before & {"when", "since", "how", "until"}) or "ago" in after


def _at_that_moment(line: Line, begin: int, first: int) -> bool:
    """`131 when it comes from the pit`: read right then."""
    at = next(n for n in range(first - 1, begin - 1, -1) if line.tokens[n].low == "when")
    return (
        at > begin
        and line.classes[at - 1] in ("number", "fillers", "adverbs")
        and line.tokens[at - 1].low not in ("since", "knows", "sure")
    )


_NEVER_HOT = word_set("floor truck line menu shelf report ground ice list scale rail table counter clock")


def off_the_heat(line: Line, first: int, last: int) -> bool:
    """`off the trompo`, `out of the pot`: something hot that the vocabulary does not know."""
    for chunk in line.chunks:
        if (
            first <= chunk.first < last
            and chunk.sort in ("thing", "object")
            and chunk.determiner in ("the", "their", "his")
        ):
            out = chunk.preposition == "of" and line.tokens[chunk.prepared_at - 1].low == "out"
            if (chunk.preposition == "off" or out) and line.tokens[chunk.last - 1].low not in _NEVER_HOT:
                return True
    return False


_TO_COME = word_set("to will 'll gonna should must can could has needs wants would let")


def still_to_come(line: Line, first: int) -> bool:
    """`he's going to reheat it`, `she'll heat it again`: what is done about a figure after it was read."""
    begin, _ = line.sentence_span(first)
    return any(token.low in _TO_COME for token in line.tokens[max(begin, first - 3) : first])


_HOT_OR_TIME = (100.0, 215.0)
"""A whole figure that may be a time as well as a hot temperature: common practice, no source."""


def just_so_hot(line: Line, figure: Figure) -> bool:
    """`Rice 130 sharp`, `chili reads one thirty five sharp`: it is just that hot."""
    i = figure.first - 1
    while i >= 0 and (line.classes[i] == "links" or line.tokens[i].low in ("reads", "a", ",")):
        i -= 1
    named = i >= 0 and line.chunk_at[i] >= 0 and line.chunks[line.chunk_at[i]].known_food
    return named and not figure.number.decimals and _HOT_OR_TIME[0] <= figure.value < _HOT_OR_TIME[1]

"""The time as it is said in passing between one and two o'clock, when it sounds like a hot temperature:
`okay, it's one twenty`, `got here at one twenty`."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.words.line import Line
from extract.words.text import word_set

_FIRST, _LAST = 100, 159
"""Figures that are minutes past one as well as degrees; other times sound like no temperature of food, or are
told apart elsewhere."""
_NEAR_H = 0.35
"""Hours between a time and the moment that it was said at, at most: common practice, no source."""
_COMES = word_set("""got here arrived arrive arriving started start starts began left leaving closes opens met
walked""")
_BEGINS = word_set("starting beginning heading walking going moving entering arriving")
_BETWEEN = word_set("right about now like already only just almost nearly")
_IS = word_set("is 's")
_STREETS = word_set("street st avenue ave road rd lane drive boulevard main highway court place")


def tells_now(line: Line, found: list[Figure], at: int, hour: float | None) -> bool:
    """Whether a figure is the time of day. `hour`: when it was said, as hours of the day."""
    figure, tokens = found[at], line.tokens
    if figure.unit is not None or not figure.number.words or not _FIRST <= figure.value <= _LAST:
        return False
    named = any(_is_named(line, n) for n in range(figure.first))
    if _arrival(line, figure) and not named:
        return True
    its = _its(line, figure)
    opens = figure.first == 0
    follows = [token.low for token in tokens[figure.last : figure.last + 3]]
    now = "now" in follows or any(token.low == "now" for token in tokens[: figure.first])
    if opens and follows[:1] == [","] and follows[1:2] and follows[1] in _BEGINS:
        return True
    if not its:
        return False
    if any(one.role == "clock" for one in found[:at]) and "now" in follows:
        return True  # `went out at twelve, it's one thirty now`
    if hour is not None and _apart(figure, hour) <= _NEAR_H and (now or not named):
        return True
    goes_on = any(_is_named(line, n) for n in range(figure.last, len(tokens)))
    return not named and (now or goes_on)


def an_address(line: Line, figure: Figure) -> bool:
    """`we're at one forty Main Street`."""
    before = line.tokens[figure.first - 1].low if figure.first else ""
    after = [token.low for token in line.tokens[figure.last : figure.last + 3]]
    return before in ("at", "address", "is", "'s") and bool(_STREETS & set(after))


def _is_named(line: Line, n: int) -> bool:
    """Whether a token is of a food, a place or a thing that a figure could be of."""
    chunk = line.chunks[line.chunk_at[n]] if line.chunk_at[n] >= 0 else None
    return chunk is not None and (chunk.known_food or chunk.place is not None or chunk.object is not None)


def _its(line: Line, figure: Figure) -> bool:
    """Nothing but `it's`, and small words, before the figure."""
    n = figure.first - 1
    while n >= 0 and line.tokens[n].low in _BETWEEN:
        n -= 1
    return n >= 1 and line.tokens[n].low in _IS and line.tokens[n - 1].low in ("it", "time")


def _arrival(line: Line, figure: Figure) -> bool:
    """`got here at one twenty`."""
    n = figure.first - 1
    if n < 1 or line.tokens[n].low not in ("at", "around", "about"):
        return False
    first, _ = line.sentence_span(figure.first)
    return any(token.low in _COMES for token in line.tokens[max(first, n - 4) : n])


def _apart(figure: Figure, hour: float) -> float:
    """Hours between the time and when it was said, on a clock with twelve."""
    hours, minutes = figure.number.clock or (0, 0)
    return abs((hours + minutes / 60 - hour + 6) % 12 - 6)

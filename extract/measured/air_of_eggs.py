"""Air around shell eggs, which has a limit: FDA Food Code 2022, 3-202.11(C) and 3-501.16(B)."""

from __future__ import annotations

from itertools import pairwise

from extract.figures.figure import Figure
from extract.of_what.subject import Subject
from extract.words.line import Chunk, Line
from shared.foods import classify

_NEAR = frozenset(("around", "near", "by", "beside", "over", "above", "between", "at", "of"))


_SAYS, TO_SAY = 1, 3
"""Words between the eggs, or the air, and what it reads beside them."""
_WHERE_THEY = (
    ("where", "they"),
    ("right", "there"),
    ("there", "is"),
    ("there", "'s"),
    ("around", "them"),
    ("by", "them"),
)


def eggs_in_air(line: Line, figure: Figure, about: Subject, first: int, end: int) -> Chunk | None:
    """The eggs of `40 on the air around those eggs` and of `eggs in the shell. Air where they sit is 79`: the
    air around shell eggs has a limit."""
    inside = [chunk for chunk in line.chunks if first <= chunk.first < end and chunk.sort != "gone"]
    for air, eggs in pairwise(inside):
        near = about.chunk in (air, eggs) or 0 <= figure.first - eggs.last <= _SAYS
        around = is_air(air) and eggs.preposition in _NEAR and near
        if around and _are_eggs(line, eggs):
            return eggs
    told = [chunk for chunk in line.chunks if chunk.known_food and chunk.first < end]
    for air in inside:
        behind = tuple(token.low for token in line.tokens[air.last : air.last + 2])
        near = about.chunk in (air, None) or 0 <= figure.first - air.last <= TO_SAY
        if is_air(air) and near and behind in _WHERE_THEY:
            return told[-1] if told and _are_eggs(line, told[-1]) else None
    for air in inside:  # `shell eggs delivered, truck air 43`
        if is_air(air) and 0 <= figure.first - air.last <= _TO_NAME and len(inside) <= _AND_WHERE:
            heading = _headed(line, first)
            if heading is not None and _in_their_shells(line, heading):
                return heading  # `Eggs. Air in the back of the van is 41`
        if not is_air(air) or not 0 <= figure.first - air.last <= TO_SAY:
            continue
        other = max((n for n in range(first, air.first) if line.classes[n] == "number"), default=-1)
        named = [chunk for chunk in inside if chunk.known_food and other < chunk.first]
        foods = [chunk for chunk in named if chunk.first < figure.first] or named[:1]
        return foods[-1] if foods and all(_in_their_shells(line, food) for food in foods) else None
    return None


_TO_NAME, _AND_WHERE = 9, 3
"""Words between air and its figure that tell where it is, and things that its sentence then names, at most:
common practice, no source."""


def _headed(line: Line, first: int) -> Chunk | None:
    """The one thing that the sentence before names, where it is a heading of that and no more."""
    if first == 0:
        return None
    begin = line.starts[line.sentence[first] - 1]
    words = [n for n in range(begin, first) if line.tokens[n].kind != "mark"]
    chunks = [chunk for chunk in line.chunks if begin <= chunk.first < first]
    return chunks[0] if len(chunks) == 1 and len(words) <= chunks[0].last - chunks[0].first + 1 else None


def is_air(chunk: Chunk) -> bool:
    return chunk.object is not None and chunk.object.what == "air"


def _are_eggs(line: Line, chunk: Chunk) -> bool:
    return any(token.stem == "egg" for token in line.tokens[chunk.first : chunk.last])


def _in_their_shells(line: Line, chunk: Chunk) -> bool:
    """Eggs as they are delivered, and no egg roll."""
    food = classify(line.words(chunk.first, chunk.last))
    return food is not None and not food.tags.isdisjoint(("shell_egg", "egg_unsaid"))

"""Figures that are of another thing than the one they were said of: `turkey 40, no wait, that's the ham`."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.words.line import NOUN, Chunk, Line
from extract.words.text import word_set

TURNS = word_set("wait no sorry actually oops hang hold correction nope")
_CLOSES = word_set("and not i they he she we")
"""What may follow the food of `that was the sour cream dip I had in front of me`."""
_FIGURE_WORDS = word_set("number reading figure temp temperature one")


def was_of(line: Line, found: list[Figure], fallen: dict[int, str]) -> dict[int, Chunk]:
    """Figure → the thing it is of, as in `pate 45, the pate number was the pickle jar`: the figure before
    belongs to the thing named last, and stands where it was taken to have `fallen`."""
    given: dict[int, Chunk] = {}
    for n, token in enumerate(line.tokens[:-2]):
        if line.tokens[n + 1].low not in ("was", "is", "'s"):
            continue
        pointing = token.low == "that" and bool(TURNS & {t.low for t in line.tokens[max(0, n - 3) : n]})
        if token.low not in _FIGURE_WORDS and not pointing:
            continue
        other = that_is(line, n, pointing=pointing)
        before = [at for at, figure in enumerate(found) if figure.last <= n and figure.role == "figure"]
        if other is None or not before or n - found[before[-1]].last > 8:
            continue
        if pointing and found[before[-1]].role == "figure" and before[-1] not in fallen:
            given[before[-1]] = other
        elif line.tokens[n - 1].low in ("that", "the", "this") or line.classes[n - 1] == NOUN:
            given[before[-1]] = other
            fallen.pop(before[-1], None)
    return given


def the_ones(line: Line, found: list[Figure]) -> dict[int, tuple[int, Chunk]]:
    """Figure said again as the one of a thing → the figure said first, and the thing: `beans 138, cobbler
    166, no, backwards, the cobbler's the 138 and the beans are the 166`."""
    again: dict[int, tuple[int, Chunk]] = {}
    for at, figure in enumerate(found):
        n = figure.first - 1
        if n < 2 or line.tokens[n].low != "the" or line.tokens[n - 1].low not in ("'s", "is", "are", "was"):
            continue
        chunk = line.chunks[line.chunk_at[n - 2]] if line.chunk_at[n - 2] >= 0 else None
        first = next((a for a in range(at) if found[a].value == figure.value), None)
        if chunk is not None and chunk.known_food and first is not None:
            again[at] = first, chunk
    return again if len(again) > 1 else {}


def that_is(line: Line, at: int, *, pointing: bool = True) -> Chunk | None:
    """The food of `that's the ham` right behind a cue, when no figure follows it."""
    words = [token.low for token in line.tokens[at : at + 4]]
    start = at + 1 if words[:1] == [","] else at
    words = [token.low for token in line.tokens[start : start + 3]]
    if (
        len(words) < 3
        or words[1] not in ("'s", "is", "was")
        or (pointing and words[0] not in ("that", "this"))
    ):
        return None
    for n in range(start + 2, min(start + 5, len(line.tokens))):
        if line.chunk_at[n] >= 0:
            chunk = line.chunks[line.chunk_at[n]]
            follows = line.tokens[chunk.last] if chunk.last < len(line.tokens) else None
            closed = follows is None or follows.kind == "mark" or follows.low in _CLOSES
            named = chunk.known_food or (not pointing and chunk.sort == "thing")
            return chunk if named and closed else None
    return None

"""Words beside a figure that are not what was measured, though they stand nearer than that."""

from __future__ import annotations

from extract.figure import Figure
from extract.line import Chunk, Line
from extract.text import word_set

SKIPPED_BEFORE = word_set("for with by per since during until till like as after before about")
"""What stands before a thing that is only mentioned along the way."""


def holds_food(chunk: Chunk) -> bool:
    """A pan or tub, or the dish of `paneer in the steel dish`."""
    what = chunk.object.what if chunk.object is not None else ""
    return what in ("vessel", "bucket") or (what == "surface" and chunk.preposition in ("in", "on", "from"))


def said_aside(line: Line, found: list[Figure], chunk: Chunk, figure: Figure, floor: int) -> bool:
    """The glasses of `sorry, my glasses, 68`, the factory of `burritos, factory made, 141`."""
    if chunk.sort != "thing" or chunk.known_food:
        return False
    if chunk.determiner == "my":
        return True
    apart = any(token.low == "," for token in line.tokens[chunk.last : figure.first])
    return apart and food_further_left(line, found, chunk, floor)


def complement(line: Line, chunk: Chunk) -> bool:
    """The quality of `the water is cloudy, 73`: an unknown word that tells of the thing before it."""
    at = chunk.first - 1
    if chunk.sort != "thing" or chunk.known_food or chunk.determiner or chunk.preposition or at < 1:
        return False
    if chunk.last - chunk.first > 1 or line.classes[at] != "auxiliaries" or line.chunk_at[at - 1] < 0:
        return False
    told = line.chunks[line.chunk_at[at - 1]]
    return told.known_food or told.object is not None


def before_pronoun(line: Line, found: list[Figure], chunk: Chunk, floor: int) -> bool:
    """The words of `the curry was cold and we had words, and today it's 156`: `it` is the food before."""
    if chunk.sort != "thing" or chunk.known_food:
        return False
    foods = [c for c in line.chunks if floor <= c.first < chunk.first and c.known_food]
    if not foods or foods[-1].preposition in SKIPPED_BEFORE:
        return False
    return not any(held.role == "figure" and foods[-1].last <= held.first < chunk.first for held in found)


def food_further_left(line: Line, found: list[Figure], chunk: Chunk, floor: int) -> bool:
    """Whether the sentence opens with a food that no figure was said of yet: `dumplings, own pan, 135`."""
    for other in line.chunks:
        if (
            floor <= other.first < chunk.first
            and other.known_food
            and other.preposition not in SKIPPED_BEFORE
        ):
            return not any(held.role == "figure" and other.last <= held.first < chunk.first for held in found)
    return False


def food_just_before(line: Line, chunk: Chunk) -> bool:
    i = chunk.prepared_at - 1
    while i > 0 and chunk.preposition == "off" and line.classes[i] in ("links", "adverbs", "auxiliaries"):
        i -= 1  # `chicken tikka coming off the skewers`
    at = line.chunk_at[i] if i >= 0 else -1
    if at < 0:
        return False
    before = line.chunks[at]
    return before.known_food or (chunk.preposition == "with" and before.sort == "thing")


def told_what(line: Line, found: list[Figure], at: int) -> Chunk | None:
    """The salsa of `Drawer by the till, 37, that's the salsa`: what was measured, said behind its figure."""
    tokens, i = line.tokens, found[at].last
    _, end = line.sentence_span(found[at].first)
    while i < end and (tokens[i].low in (",", "and") or line.classes[i] == "fillers"):
        i += 1
    if i == found[at].last or i + 2 >= end or tokens[i].low not in ("that", "it", "this", "which", "those"):
        return None
    i += 1
    if tokens[i].low not in ("'s", "is", "was", "are", "were", "'re"):
        return None
    i += 1
    while i < end and line.classes[i] == "determiners" and tokens[i].low not in ("no", "not"):
        i += 1
    chunk = line.chunks[line.chunk_at[i]] if i < end and line.chunk_at[i] >= 0 else None
    if chunk is None or not chunk.known_food or chunk.first != i:
        return None
    closed = chunk.last >= end or tokens[chunk.last].kind == "mark" or tokens[chunk.last].low in ("in", "and")
    return chunk if closed else None

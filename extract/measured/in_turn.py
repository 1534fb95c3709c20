"""Foods listed first and their figures after them: `slaw, ham and tofu: 38, 39, 40`."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from extract.figures.figure import Figure
from extract.words.line import Chunk, Line
from extract.words.text import word_set

_JOINING = word_set(", and & the a an their his her then ; also")
_BETWEEN = word_set("links auxiliaries adverbs fillers pronouns determiners number verbs")
_LEADING = word_set(", : . - at both all each read reads temp temps temped in on of out with as")
_TOLD = word_set(
    "number numbers reading readings figure figures temp temps temperature temperatures probe order"
)
"""Words for the figures themselves: `my numbers are 150, 146`."""


def in_turn(line: Line, found: list[Figure]) -> dict[int, Chunk]:
    """Figure → its food, where as many foods were listed in a row as figures follow in a row."""
    given: dict[int, Chunk] = {}
    for row in _rows(line, found):
        foods = _foods(line, found[row[0]].first, len(row))
        if foods is not None:
            given.update(zip(row, foods, strict=True))
    return given


def too_few(line: Line, found: list[Figure]) -> dict[int, list[Chunk]]:
    """Figure → the foods of which it may be, where more foods were listed in a row than figures follow."""
    given: dict[int, list[Chunk]] = {}
    for row in _rows(line, found):
        first = found[row[0]].first
        most = sum(chunk.known_food for chunk in line.chunks if chunk.last <= first)
        lists = (_foods(line, first, count) for count in range(len(row) + 1, most + 1))
        foods = next((foods for foods in lists if foods is not None), None)
        if foods is not None:
            given.update(dict.fromkeys(row, foods))
    return given


def _rows(line: Line, found: list[Figure]) -> Iterator[list[int]]:
    """All rows of two figures or more."""
    at = 0
    while at < len(found):
        row = _row(line, found, at)
        at = row[-1] + 1
        if len(row) > 1:
            yield row


def _row(line: Line, found: list[Figure], at: int) -> list[int]:
    """Bare figures from one on with nothing but commas and `and` between them."""
    row = [at]
    while at + 1 < len(found) and _plain(found[at]) and _plain(found[at + 1]):
        between = [token.low for token in line.tokens[found[at].last : found[at + 1].first]]
        if not between or not all(low in (",", "and") for low in between):
            break
        at += 1
        row.append(at)
    return row


def _plain(figure: Figure) -> bool:
    return figure.role == "figure" and figure.unit in (None, "deg", "degF", "degC") and figure.clock is None


def _foods(line: Line, first: int, count: int) -> list[Chunk] | None:
    """Exactly `count` foods in a row before a token, with at most a place and small words behind them."""
    floor = _floor(line, first)
    before = [c for c in line.chunks if floor <= c.first and c.last <= first and c.sort != "gone"]
    while before and not before[-1].known_food:
        passed = before[-1]
        told = all(line.tokens[n].low in _TOLD for n in range(passed.first, passed.last))
        if not (told or passed.sort in ("place", "position", "instrument")) or not _small(
            line, passed.last, first
        ):
            break
        first = passed.prepared_at
        before.pop()
    while before and before[-1].preposition in ("in", "on") and line.tokens[before[-1].first].low == "ice":
        first = before.pop().prepared_at
    if len(before) < count or not _small(line, before[-1].last, first):
        return None
    foods = before[-count:]
    for one, two in pairwise(foods):
        between = [token.low for token in line.tokens[one.last : two.first]]
        if not between or not all(low in _JOINING for low in between):
            return None
    if not _all_foods(foods) or any(food.preposition for food in foods[1:]):
        return None
    longer = before[-count - 1] if len(before) > count else None
    if longer is not None and longer.known_food and all(
        token.low in _JOINING for token in line.tokens[longer.last : foods[0].first]
    ):  # fmt: skip
        return None
    return foods


def _floor(line: Line, first: int) -> int:
    """Where the list may begin: in the figures' sentence, or the one before when they open theirs: `Slaw,
    ham. 38, 41.`"""
    floor, _ = line.sentence_span(first)
    if not floor or not _small(line, floor, first, _TOLD):
        return floor
    before, _ = line.sentence_span(floor - 1)
    return floor if any(line.classes[n] == "number" for n in range(before, floor)) else before


def _all_foods(foods: list[Chunk]) -> bool:
    """Known foods, with at most one among them that the vocabulary does not know: `mash, corn, meatloaf`."""
    unknown = [food for food in foods if not food.known_food]
    return all(food.sort == "thing" and food.object is None for food in unknown) and (
        not unknown or (len(unknown) == 1 and len(foods) > 2)
    )


def _small(line: Line, first: int, end: int, told: frozenset[str] = frozenset()) -> bool:
    return all(
        line.tokens[n].low in _LEADING or line.tokens[n].low in told or line.classes[n] in _BETWEEN
        for n in range(first, end)
    )

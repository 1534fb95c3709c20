"""Foods listed first and their figures after them: `slaw, ham and tofu: 38, 39, 40`."""

from __future__ import annotations

from itertools import pairwise

from extract.figure import Figure
from extract.line import Chunk, Line
from extract.text import word_set

_JOINING = word_set(", and & the a an their his her then ; also")
_BETWEEN = word_set("links auxiliaries adverbs fillers pronouns determiners number")
_LEADING = word_set(", : - at both all each read reads temp temps temped in on of out")


def in_turn(line: Line, found: list[Figure]) -> dict[int, Chunk]:
    """Figure → its food, where as many foods were listed in a row as figures follow in a row."""
    given: dict[int, Chunk] = {}
    at = 0
    while at < len(found):
        row = _row(line, found, at)
        at = row[-1] + 1
        if len(row) < 2:
            continue
        foods = _foods(line, found[row[0]].first, len(row))
        if foods is not None:
            given.update(zip(row, foods, strict=True))
    return given


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
    floor, _ = line.sentence_span(first)
    before = [c for c in line.chunks if floor <= c.first and c.last <= first and c.sort != "gone"]
    while before and not before[-1].known_food:
        if not (
            before[-1].sort in ("place", "position", "instrument") and _small(line, before[-1].last, first)
        ):
            return None
        first = before[-1].prepared_at
        before.pop()
    if len(before) < count or not _small(line, before[-1].last, first):
        return None
    foods = before[-count:]
    for one, two in pairwise(foods):
        between = [token.low for token in line.tokens[one.last : two.first]]
        if not one.known_food or not between or not all(low in _JOINING for low in between):
            return None
    if not foods[0].known_food or any(food.preposition for food in foods[1:]):
        return None
    longer = before[-count - 1] if len(before) > count else None
    if longer is not None and longer.known_food and all(
        token.low in _JOINING for token in line.tokens[longer.last : foods[0].first]
    ):  # fmt: skip
        return None
    return foods


def _small(line: Line, first: int, end: int) -> bool:
    return all(line.tokens[n].low in _LEADING or line.classes[n] in _BETWEEN for n in range(first, end))

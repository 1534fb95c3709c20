"""Readings of several foods that a later word gives their foods: those of a list before in the same order
(`second cart, same four, 156, 150, 141, 137`), or another one (`those two are the curry goat`)."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from extract.scene import Draft, Read
from extract.words.naming import item_name
from extract.words.numerals import FEW

_COUNTS = FEW | {str(n): n for n in FEW.values()}


def same_list(read: Read, earlier: Sequence[Draft]) -> None:
    """Gives a row of figures behind `same four` the foods of as many readings before, in place. `earlier`:
    the readings of the utterances before, in the order said."""
    tokens = read.line.tokens
    for n in range(len(tokens) - 1):
        count = _COUNTS.get(tokens[n + 1].low, 0) if tokens[n].low == "same" else 0
        if not count:
            continue
        row = [draft for draft in read.drafts if draft.first > n + 1 and draft.fallen is None][:count]
        before = [*earlier, *(draft for draft in read.drafts if draft.last <= n)]
        foods = [draft for draft in before if draft.fallen is None and draft.food][-count:]
        if len(row) < count or len(foods) < count or not _in_a_row(read, row):
            continue
        for draft, food in zip(row, foods, strict=True):
            draft.item, draft.chunk, draft.food, draft.carried = food.item, food.chunk, True, True
            draft.place, draft.place_row = row[-1].place, row[-1].place_row
            draft.codes = [code for code in draft.codes if code[0] != "item_unsure"]
            draft.rules.append((f"the same foods in turn: “{food.item}”", read.line.index, *draft.span))


_THOSE = frozenset(("those", "these", "both"))
_WERE = frozenset(("are", "were", "is", "was", "'re"))
_TURNS = frozenset(("wrong", "wait", "no", "sorry", "hold", "hang", "correction", "oops", "actually"))


def of_another(read: Read, earlier: Sequence[Draft]) -> None:
    """`Hold on, wrong line. Those two are the curry goat.`: gives the last readings before the utterance to
    the food that they are of, in place. `earlier`: as for `same_list`."""
    line = read.line
    lows = [token.low for token in line.tokens]
    for n, low in enumerate(lows[:-3]):
        if low not in _THOSE or not _TURNS.intersection(lows[:n]):
            continue
        count = _COUNTS.get(lows[n + 1], 0)
        at = n + 1 + bool(count)
        if lows[at] not in _WERE:
            continue
        chunk = next((c for c in line.chunks if at < c.first <= at + 2 and c.known_food), None)
        stand = [draft for draft in earlier if draft.fallen is None]
        meant = [draft for draft in stand if draft.item == stand[-1].item][-(count or 2) :] if stand else []
        if chunk is None or len(meant) < (count or 2):
            continue
        for draft in meant:
            draft.item, draft.chunk, draft.food, draft.item_fixed = item_name(line, chunk), None, True, True
            draft.rules.append((f"“{line.words(n, chunk.last)}”", line.index, *line.span(n, chunk.last)))


def _in_a_row(read: Read, row: Sequence[Draft]) -> bool:
    """Whether nothing but commas and `and` stands between the figures, and no food of their own."""
    tokens = read.line.tokens
    return all(
        {token.low for token in tokens[one.last : two.first]} <= {",", "and", "degrees"}
        for one, two in pairwise(row)
    )

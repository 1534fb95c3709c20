"""The clauses of an utterance: what stands between marks, `and`, `but`, `so` and `then`."""

from __future__ import annotations

from collections.abc import Iterator

from extract.words.line import Line

BREAKS = frozenset((".", "!", "?", ";", "\n"))
_JOINS = frozenset((",", "but", "so", "and", "then"))


def clause(line: Line, at: int) -> tuple[int, int]:
    """The clause around a token: from mark, `and`, `but`, `so` or `then` to the next one."""
    tokens = line.tokens
    first, end = line.sentence_span(at)
    begin = at
    while begin > first and not (
        tokens[begin - 1].low in BREAKS or tokens[begin - 1].low in (",", "but", "so")
    ):
        if tokens[begin - 1].low == "and" and begin - 1 > first and _verb_like(line, begin):
            break
        begin -= 1
    stop = at + 1
    while stop < end and tokens[stop].low not in BREAKS and tokens[stop].low not in (",", "but", "so"):
        if tokens[stop].low == "and" and stop + 1 < end and _verb_like(line, stop + 1):
            break
        stop += 1
    return begin, stop


def _verb_like(line: Line, i: int) -> bool:
    verb = i < len(line.tokens) and line.classes[i] in ("verbs", "links", "pronouns", "auxiliaries")
    return verb or way_first(line, i)


def way_first(line: Line, i: int) -> bool:
    """`and down the disposal it went`: where it went stands first."""
    lows = [token.low for token in line.tokens[i : i + _INVERTED]]
    return bool(lows) and lows[0] in _WAYS and "went" in lows


_WAYS = frozenset(("down", "out", "in", "into", "off", "away", "back"))
_INVERTED = 6
"""Words in which such a clause comes to its verb: common practice, no source."""


def clauses(line: Line) -> Iterator[tuple[int, int]]:
    """The clauses of an utterance, with the mark that ends a sentence."""
    for number, first in enumerate(line.starts):
        last = line.starts[number + 1] if number + 1 < len(line.starts) else len(line.tokens)
        at = first
        while at < last:
            token = line.tokens[at]
            if token.low in _JOINS or token.kind == "mark" or line.classes[at] == "fillers":
                at += 1
                continue
            _, end = clause(line, at)
            ends = end < last and line.tokens[end].low in BREAKS
            yield at, end + ends
            at = end + 1 if end + ends < last else last

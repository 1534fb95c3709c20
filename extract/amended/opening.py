"""Utterances that begin by correcting an earlier one: `correction on the hummus, that was 47`."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.words.lexicon import Lexicon
from extract.words.line import Line
from extract.words.text import word_set

_OPENERS = word_set("uh um okay ok oh so and well actually , . hey hold on er")
_FAR, _FURTHER = 8, 14
"""Words between what opens a correction and its figure, and `that's a 64`: common practice, no source."""


def corrects_earlier(line: Line, found: list[Figure], words: Lexicon) -> bool:
    """Whether the words with which an utterance begins correct what an earlier one said."""
    i, tokens = 0, line.tokens
    while i < len(tokens) and tokens[i].low in _OPENERS and words.replaces.at(tokens, i) is None:
        i += 1
    if i >= len(tokens):
        return False
    again = words.revise.at(tokens, i)
    moved = again is not None and (_told_staff(line, i, again[0]) or _went_back(line, i, again[0]))
    if (again is not None and not moved) or tokens[i].low == "correction":
        return True
    hit = words.replaces.at(tokens, i)
    if hit is None:
        return False
    figure = next((f for f in found if f.role in ("figure", "clock") and f.first >= hit[0]), None)
    if figure is None:
        return False
    before = [token.low for token in tokens[max(0, figure.first - 3) : figure.first]]
    far = _FURTHER if tokens[i].low == "no" and before == ["that", "'s", "a"] else _FAR
    return figure.first - hit[0] <= far


_WAS = frozenset(("was", "were", "should", "make", "meant", "mean", "said", "correction"))


def _went_back(line: Line, first: int, end: int) -> bool:
    """`back to the second spit, 178 now`: the inspector goes back there and measures again; a correction says
    what the figure was or should be."""
    back = any(token.low == "back" for token in line.tokens[first:end])
    if line.tokens[end - 1].low in ("one", "step"):
        return False  # `go back one. Dumplings 69`
    return back and not any(token.low in _WAS for token in line.tokens[end : end + _FAR])


def _told_staff(line: Line, first: int, end: int) -> bool:
    """The `I said` of `I said not yet`: what was told to somebody, and no figure or thing corrected."""
    said = line.tokens[first].low == "i" and line.tokens[end - 1].low == "said"
    named = end < len(line.tokens) and (
        line.chunk_at[end] >= 0 or line.classes[end] in ("number", "determiners")
    )
    return said and not named

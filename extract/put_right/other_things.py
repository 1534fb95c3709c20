"""Deeds that were done to another thing than the one a violation is of: `ham 50. They tossed the turkey`."""

from __future__ import annotations

from extract.cases import Case
from extract.words.line import Line
from extract.words.text import Span, word_set, words_of

_WHERE_TO = frozenset(
    ("to", "in", "into", "on", "onto", "with", "for", "from", "under", "over", "by", "at", "of")
)
_OF_FOODS = ("3-302.11",)
"""Sections whose violations are of the foods that their sentence names."""
_ALL = word_set("both all everything each")
_ANY_FOOD = word_set(
    """food foods meat meats product products item items batch pan pans tray trays tub stuff rest all whole
    container containers everything lot load piece pieces portion portions case cases protein proteins"""
)


def of_another_food(case: Case, line: Line, span: Span, around: frozenset[str]) -> bool:
    """Whether the words of a deed, two characters of `line`, name foods and none that the violation is of.
    `around`: stems of the sentence in which the violation was told."""
    own = case.words | around | {word for draft in case.drafts for word in words_of(draft.item or "")}
    told = [token for token in line.tokens if span[0] <= token.start < span[1]]
    of_food = any(draft.food for draft in case.drafts) or case.section.startswith(_OF_FOODS)
    if not of_food or any(token.low in _ALL for token in told):
        return False
    named = [
        {token.stem for token in line.tokens[chunk.first : chunk.last]}
        for chunk in line.chunks
        if chunk.known_food
        and span[0] <= line.tokens[chunk.first].start < span[1]
        and chunk.preposition not in _WHERE_TO
    ]
    return bool(named) and all(not words & own and not words & _ANY_FOOD for words in named)

"""Places that only a heading names, alone before the comma or point: `Salad end, tuna 41`."""

from __future__ import annotations

from collections.abc import Mapping

from extract.words.lexicon import Phrases, Place
from extract.words.text import NOUN, SENTENCE_MARKS, Token

STALLS = frozenset(
    (
        "stall",
        "booth",
        "bay",
        "gate",
        "zone",
        "aisle",
        "kitchen",
        "station",
        "concession",
        "pitch",
        "register",
    )
)
"""Places that a printed number names rather than measures."""
_ALWAYS_NUMBERED = frozenset(("stall", "booth", "pitch", "concession"))
_MOST_WORDS = 4
MOST_STALLS = 40
"""A higher number behind such a place is rather a figure measured in it."""
_CLOSES = frozenset((",", ":", "."))
_NOT_IN_NAMES = frozenset(("links", "auxiliaries", "pronouns", "conjunctions", "number", "prepositions"))
_LEADS = frozenset(("fillers", "conjunctions"))
_HERE = frozenset(
    ("now", "then", "here", "there", "over", "again", "finally", "still", "just", "at", "in", "on")
)
_CLOSED = frozenset(("verbs", "adverbs", "fillers", "links", "predicates", "prepositions"))


def headings(line: list[Token], classes: list[str], heads: Phrases[Place]) -> Mapping[int, tuple[int, Place]]:
    """First token → end token and place, of each sentence that opens with nothing but the name of a place.

    `heads`: words that end such a name and name no place anywhere else, such as `end` or `well`.
    """
    found: dict[int, tuple[int, Place]] = {}
    opens, ends = True, set[int]()
    for i, token in enumerate(line):
        if opens and token.kind == "word":
            hit = _heading(line, classes, i, heads)
            if hit is not None:
                found[hit[0]] = hit[1], hit[2]
                ends.add(hit[1])
        if (
            i not in found
            and token.low in _ALWAYS_NUMBERED
            and i + 1 < len(line)
            and line[i + 1].low.isdigit()
        ):
            found[i] = i + 2, Place("", air=False)
        opens = (i in ends and _stall(line, i + 1)) or (token.kind == "mark" and token.low in SENTENCE_MARKS)
    return found


def _heading(
    line: list[Token], classes: list[str], first: int, heads: Phrases[Place]
) -> tuple[int, int, Place] | None:
    last = first
    while last < len(line) and line[last].kind == "word" and last - first <= _MOST_WORDS + 2:
        last += 1
    end = last
    if end + 1 < len(line) and last > first and _numbered(line, last):
        end += 1
    if end >= len(line) or line[end].low not in _CLOSES or _figure_next(line, classes, end + 1):
        return None
    hit = heads.ending(line, last, longest=3)
    if hit is None or line[last - 1].low == "stands":
        return None  # `Slaw stands.`: what was said of it does
    begin, place = hit
    article = max((n for n in range(first, begin) if classes[n] == "determiners"), default=first - 1)
    first = article + 1
    while first < begin and (classes[first] in _LEADS or line[first].low in _HERE):
        first += 1
    named = last - first
    if named > _MOST_WORDS or any(classes[n] in _NOT_IN_NAMES and n > first for n in range(first, begin)):
        return None
    if named == 1 and classes[begin] in _CLOSED and (line[end].low != "," or classes[begin] == "fillers"):
        return None  # `Well, ham 41`, `Pass. Ham 41`
    return first, end, place


def _stall(line: list[Token], i: int) -> bool:
    """The second name of `Food hall, stall 4, ham 44`."""
    return i + 1 < len(line) and _numbered(line, i + 1)


def _numbered(line: list[Token], i: int) -> bool:
    low = line[i].low
    return line[i - 1].low in STALLS and low.isdigit() and int(low) <= MOST_STALLS


def _figure_next(line: list[Token], classes: list[str], i: int) -> bool:
    """`Other side, 137.`: a second go at the same thing."""
    return i >= len(line) or classes[i] == "number"


def noun_here(line: list[Token], classes: list[str], i: int) -> bool:
    """A one-word name that is also a closed-class word (`pass`, `display`, `stand`) counts only after a
    determiner, or where it ends a sentence of names: `Ball field stand.`"""
    if i > 0 and classes[i - 1] == "determiners":
        return True
    begin = i
    while begin > 0 and classes[begin - 1] == NOUN:
        begin -= 1
    if (
        begin < i
        and begin > 1
        and classes[begin - 1] == "determiners"
        and classes[begin - 2] == "prepositions"
    ):
        return True  # `in the glass warmer`
    if i + 1 < len(line) and line[i + 1].low not in SENTENCE_MARKS:
        return False
    while i > 0 and classes[i - 1] == NOUN:
        i -= 1
    return i == 0 or line[i - 1].low in SENTENCE_MARKS

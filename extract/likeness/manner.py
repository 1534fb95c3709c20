"""How a clause tells of a doing: who did it, in what form of the verb, to what, and where that went.

`she bagged the toast` and `he's wheeling the fish out back` share no word, but their manner: a person, a verb
in the past or going on, a thing, a way out. Learned beside the words, so that verbs which no saying holds
tell of something done too.
"""

from __future__ import annotations

from functools import cache

from extract.likeness.features import NUMBER, neighbours, sounds_of
from extract.words.lexicon import read
from extract.words.line import Line
from extract.words.people import people
from extract.words.text import NOUN, stem, word_set

_KEPT_MARKS = frozenset("?%,;")
_ONCE = frozenset(("thing", "food", "place", "person"))
"""Kinds of which a run counts as one: `rubber gloves` is one thing."""


@cache
def _kinds() -> dict[str, str]:
    table = read("corrections.toml")["manner"]
    return {word: kind for kind, words in table.items() if kind != "ends" for word in word_set(words)}


@cache
def _ends() -> frozenset[str]:
    return frozenset(stem(word) for word in word_set(read("corrections.toml")["manner"]["ends"]))


def manner_of(line: Line, first: int, end: int) -> list[str]:
    """The clause with each word replaced by its kind, small words kept as they are."""
    known = _kinds()
    persons = {
        at for start, last, _ in people().words.find(line.tokens, first, end) for at in range(start, last)
    }
    made: list[str] = []
    for at in range(first, end):
        token = line.tokens[at]
        if token.kind == "mark":
            if token.low in _KEPT_MARKS:
                made.append(token.low)
            continue
        kind = _kind(line, at, known, persons)
        if not (kind in _ONCE and made and made[-1] == kind):
            made.append(kind)
    return made


def _kind(line: Line, at: int, known: dict[str, str], persons: set[int]) -> str:
    token = line.tokens[at]
    if token.kind == "number":
        return NUMBER
    if at in persons:
        return "person"
    kind = known.get(token.low)
    if token.stem in _ends() and (kind == "done" or line.classes[at] != NOUN or line.chunk_at[at] < 0):
        return f"ends {kind or _form(token.low)}"
    if kind is not None:
        return kind
    chunk = line.chunks[line.chunk_at[at]] if line.chunk_at[at] >= 0 else None
    if chunk is not None and chunk.sort == "place":
        return "place"
    if chunk is not None and (chunk.known_food or chunk.sort == "food"):
        return "food"
    form = _form(token.low)
    if line.classes[at] == "verbs" or form in ("done", "doing"):
        return form
    return "thing" if line.classes[at] == NOUN else token.low


def _form(word: str) -> str:
    if word.endswith("ed") and len(word) > 4:
        return "done"
    if word.endswith("ing") and len(word) > 5:
        return "doing"
    return "does" if word.endswith("s") else "do"


def ending_of(line: Line, first: int, end: int, manner: list[str]) -> list[str]:
    """All that the rule for things put right counts in a clause: its words, their forms, and its `manner`."""
    tokens = line.tokens[first:end]
    told = neighbours(sounds_of(tokens))
    told += [f"said {token.low}" for token in tokens if token.kind == "word"]
    told += [f"manner {kind}" for kind in neighbours(manner)]
    return told

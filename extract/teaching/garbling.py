"""Walks as a speech model might misprint them, so that the second reader learns which words it cannot trust.

In each walk some words are printed as others that sound like them: by the known misprints of the vocabulary,
and by sound (`sounds.py`). Figures, small words and what is marked as misheard already stay.
"""

from __future__ import annotations

import math
import random
import re
from collections.abc import Iterator, Sequence
from functools import cache

from extract.measured.mishearings import misprints
from extract.second_reader.marked import Mark, Said, in_other_words
from extract.teaching.sounds import Sounds
from extract.words.lexicon import lexicon, read
from extract.words.line import NOUN, prepare
from extract.words.text import Span

_FOR_EACH = 0.75
"""Words that are misprinted, for each utterance of a walk."""
_SHORTEST = 4
_KNOWN, _OF_INTEREST, _OTHER_NOUN, _OTHER = 5.0, 3.0, 1.0, 0.4
"""How likely a word is chosen: one with a known misprint, one of an item or a violation, other nouns, the
rest."""
_LESS_LIKELY = 3.0
"""How fast what sounds less alike gets rarer."""


class Garbler:
    """Misprints walks."""

    def __init__(self, sounds: Sounds, known: dict[str, list[str]]) -> None:
        """`known`: what is printed for words, by what was said, both in lower case."""
        self._sounds, self._known = sounds, known
        self._first: dict[str, list[str]] = {}
        for said in known:
            self._first.setdefault(said.split()[0], []).append(said)
        self._like: dict[str, list[tuple[str, float]]] = {}

    def garbled(self, walk: Sequence[Said], chance: random.Random) -> list[Said]:
        """The walk with some words misprinted, each one wherever it stands."""
        choices = dict(self._choices(walk))
        for _ in range(max(1, round(_FOR_EACH * len(walk)))):
            if not choices:
                break
            (words,) = chance.choices(list(choices), list(choices.values()))
            del choices[words]
            printed = self._printed(words, chance)
            if printed is not None:
                walk = [misprinted(said, words, printed) for said in walk]
                choices = {each: share for each, share in choices.items() if not _share_words(each, words)}
        return list(walk)

    def _choices(self, walk: Sequence[Said]) -> Iterator[tuple[str, float]]:
        for said in walk:
            named = " ".join(mark.item.lower() for mark in said.marks if mark.item)
            line = prepare(said.text, 0, lexicon())
            for token, kind in zip(line.tokens, line.classes, strict=True):
                low = token.low
                here = said.text[token.start :].lower()
                for known in self._first.get(low, ()):
                    if re.match(rf"{re.escape(known)}(?!\w)", here):
                        yield known, _KNOWN
                if len(low) < _SHORTEST or not low.isalpha() or kind not in (NOUN, "verbs"):
                    continue
                told = any(each.span[0] <= token.start < each.span[1] for each in said.told or ())
                of_interest = kind == NOUN and (told or low in named)
                yield low, _OF_INTEREST if of_interest else _OTHER_NOUN if kind == NOUN else _OTHER

    def _printed(self, words: str, chance: random.Random) -> str | None:
        if words in self._known:
            return chance.choice(self._known[words])
        if words not in self._like:
            self._like[words] = self._sounds.like(words)
        like = self._like[words]
        if not like:
            return None
        shares = [math.exp(-_LESS_LIKELY * cost) for _, cost in like]
        return chance.choices([printed for printed, _ in like], shares)[0]


def _share_words(one: str, two: str) -> bool:
    return bool(set(one.split()) & set(two.split()))


def misprinted(said: Said, words: str, printed: str) -> Said:
    """With `printed` wherever `words` stand; marks keep to their words."""
    pattern = re.compile(rf"(?<![\w'’]){re.escape(words)}(?![\w'’])", re.IGNORECASE)
    text, moved, misheard = "", [], []
    done = 0
    for match in pattern.finditer(said.text):
        if any(mark.span[0] < match.end() and match.start() < mark.span[1] for mark in said.marks):
            continue
        word = printed.capitalize() if match[0][0].isupper() else printed
        text += said.text[done : match.start()]
        misheard.append((len(text), len(text) + len(word)))
        text += word
        done = match.end()
        moved.append((match.end(), len(word) - (match.end() - match.start())))
    text += said.text[done:]
    if not misheard:
        return said

    def shifted(at: int) -> int:
        return at + sum(by for end, by in moved if end <= at)

    def place(span: Span) -> Span:
        return shifted(span[0]), shifted(span[1])

    def renamed(one: Mark) -> Mark:
        item = pattern.sub(printed, one.item) if one.item else one.item
        where = pattern.sub(printed, one.place) if one.place else one.place
        return one._replace(item=item, place=where)

    new = in_other_words(said, text, place)
    return new._replace(
        marks=tuple(map(renamed, new.marks)), misheard=tuple(sorted([*new.misheard, *misheard]))
    )


@cache
def known_misprints() -> dict[str, list[str]]:
    """The misprints that the vocabulary lists, by what was said."""
    rows = [*read("mishearings.toml")["mishearing"], *read("doubtful_words.toml")["mishearing"]]
    found: dict[str, list[str]] = {}
    for row in rows:
        found.setdefault(row["meant"].lower(), []).extend(each.lower() for each in row["heard"])
    for printed, meant in misprints():
        found.setdefault(meant, []).append(printed)
    return found

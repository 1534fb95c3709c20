"""What the words of a sentence are counted as: those with meaning for its subject, all for its tone."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from extract.conditions.content import COMMA, STOP, Content
from extract.words.text import Token

_HEARD = frozenset("?%")
NUMBER = "#"
"""Stands for any figure: which one it is tells nothing of the section."""


def stems_of(read: Content, first: int = 0, last: int | None = None) -> list[str]:
    """The stems of words `first` to `last` of an utterance, without marks, figures as `#`."""
    return [
        NUMBER if stem[0].isdigit() else stem
        for stem in read.stems[first:last]
        if stem != COMMA and stem != STOP
    ]


def sounds_of(line: Sequence[Token]) -> list[str]:
    """The stems of all words of a sentence, small ones too: `will`, `not` and `was` tell how it is meant."""
    return [
        NUMBER if token.kind == "number" else token.stem
        for token in line
        if token.kind != "mark" or token.low in _HEARD
    ]


def neighbours(stems: Sequence[str]) -> list[str]:
    """The stems with each pair of neighbours, and pairs that leave one word out, from `^` to `$`."""
    framed = ["^", *stems, "$"]
    made = list(framed)
    made += [f"{one} {two}" for one, two in pairwise(framed)]
    made += [f"{one} _ {two}" for one, two in zip(framed, framed[2:], strict=False)]
    return made

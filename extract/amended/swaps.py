"""Words that tell that two readings had been taken for each other: `other way around`."""

from __future__ import annotations

from functools import cache

from extract.words.lexicon import Phrases, read
from extract.words.line import Line
from extract.words.text import plain


def tells_swap(line: Line, begin: int = 0, end: int | None = None) -> int | None:
    """The token, from `begin` up to `end`, with which the words begin that two were swapped."""
    return next((first for first, _, _ in _words().find(line.tokens, begin, end)), None)


@cache
def _words() -> Phrases[bool]:
    return Phrases(((text, True) for text in read("said.toml")["swapped"]["words"]), form=plain)

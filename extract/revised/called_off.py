"""What is called off by its name: `retract the ham`, `scratch the towels`."""

from __future__ import annotations

from collections.abc import Iterator

from extract.words.line import Chunk, Line
from extract.words.text import word_set

DROPS = word_set("scratch strike disregard forget delete drop ignore")
"""Verbs that call a thing off that was said; common practice, no source."""
_WITHDRAWS = DROPS | {"retract"}
_AMONG = 8
"""Words of an utterance among which such a verb takes back what was said before it."""


def called_off(line: Line) -> tuple[Chunk | None, str]:
    """The thing that the utterance calls off by its name, and the words that do; none and nothing where it
    calls none off."""
    found = next((each for each in all_called_off(line) if each[2] < _AMONG), None)
    return found[:2] if found is not None else (None, "")


def all_called_off(line: Line) -> Iterator[tuple[Chunk, str, int]]:
    """Each thing that is called off by its name, the words that do it, and their first token."""
    for i, token in enumerate(line.tokens):
        if line.chunk_at[i] < 0 and token.low in _WITHDRAWS:
            chunk = chunk_near(line, i + 1)
            if chunk is not None:
                yield chunk, line.words(i, chunk.last), i


def chunk_near(line: Line, i: int, *, reach: int = 4) -> Chunk | None:
    """The first noun phrase among the few words from `i`, before the next mark."""
    for n in range(i, min(i + reach, len(line.tokens))):
        if line.tokens[n].kind == "mark":
            return None
        if line.chunk_at[n] >= 0:
            return line.chunks[line.chunk_at[n]]
    return None

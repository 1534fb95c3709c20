"""Asks the second reader about a prepared utterance."""

from __future__ import annotations

from collections.abc import Sequence

from extract.figure import Figure
from extract.line import Line
from extract.second_reader.reader import UtteranceTold, told_of
from extract.text import Span


def ask(line: Line, found: Sequence[Figure], before: Sequence[str]) -> UtteranceTold:
    """What it takes each of the figures `found` and each sentence of `sentences_of` for."""
    figures = tuple((line.tokens[figure.first].start, line.tokens[figure.last - 1].end) for figure in found)
    return told_of(line.text, tuple(before), figures, tuple(sentences_of(line).values()))


def sentences_of(line: Line) -> dict[int, Span]:
    """First and last character of each sentence that has words, by its number."""
    ends = [*line.starts[1:], len(line.tokens)]
    return {
        number: (line.tokens[first].start, line.tokens[end - 1].end)
        for number, (first, end) in enumerate(zip(line.starts, ends, strict=True))
        if any(token.kind != "mark" for token in line.tokens[first:end])
    }

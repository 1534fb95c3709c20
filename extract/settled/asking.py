"""Asks the second reader about a prepared utterance, part by part where it is long."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from extract.figures.figure import Figure
from extract.second_reader.pieces import BACK
from extract.second_reader.reader import FigureTold, Named, SentenceTold, UtteranceTold, told_of
from extract.words.line import Line
from extract.words.text import Span

_AT_ONCE = 600
"""Characters that are asked about at once, if sentences end within them: some 150 word pieces."""


def ask(line: Line, found: Sequence[Figure], before: Sequence[Line]) -> UtteranceTold:
    """What it takes each of the figures `found` and each sentence of `sentences_of` for; `before`: all
    utterances so far."""
    places = [line.span(figure.first, figure.last) for figure in found]
    sentences = list(sentences_of(line).values())
    figures: list[FigureTold | None] = []
    told: list[SentenceTold | None] = []
    words: list[tuple[Span, float]] = []
    said = [earlier.text for earlier in before[-BACK:]]
    starts: list[int] = []
    for first, end in _parts(line.text, sentences):
        here = tuple((a - first, b - first) for a, b in places if first <= a < end)
        whole = tuple((a - first, b - first) for a, b in sentences if first <= a < end)
        answer = told_of(line.text[first:end], tuple(said[-BACK:]), here, whole)
        figures += [_moved(one, first, starts) for one in answer.figures]
        told += answer.sentences
        words += [((a + first, b + first), share) for (a, b), share in answer.words]
        said.append(line.text[first:end])
        starts.append(first)
    return UtteranceTold(tuple(figures), tuple(told), tuple(words))


def _parts(text: str, sentences: Sequence[Span]) -> list[Span]:
    """The text in parts of whole sentences."""
    starts = [0]
    for (_, before), (first, end) in pairwise(sentences):
        if end - starts[-1] > _AT_ONCE and before > starts[-1]:
            starts.append(first)
    return list(zip(starts, [*starts[1:], len(text)], strict=True))


def _moved(one: FigureTold | None, first: int, starts: Sequence[int]) -> FigureTold | None:
    """With what it names by its place in the whole utterance; `starts`: where the parts before begin."""
    if one is None:
        return None
    return replace(one, item=_in_whole(one.item, first, starts), place=_in_whole(one.place, first, starts))


def _in_whole(named: Named | None, first: int, starts: Sequence[int]) -> Named | None:
    if named is None:
        return None
    back, (begin, end) = named
    parts = len(starts)
    if back > parts:
        return Named(back - parts, (begin, end))
    shift = first if back == 0 else starts[-back]
    return Named(0, (begin + shift, end + shift))


def sentences_of(line: Line) -> dict[int, Span]:
    """First and last character of each sentence that has words, by its number."""
    ends = [*line.starts[1:], len(line.tokens)]
    return {
        number: (line.tokens[first].start, line.tokens[end - 1].end)
        for number, (first, end) in enumerate(zip(line.starts, ends, strict=True))
        if any(token.kind != "mark" for token in line.tokens[first:end])
    }

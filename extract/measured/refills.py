"""Solutions that are mixed again, solutions for produce, and paper that tells a pH without naming it."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.of_what.subject import Subject
from extract.scene import Draft, Scene
from extract.words.lexicon import Phrases, read
from extract.words.line import Chunk, Line
from extract.words.text import word_set

_ROWS = read("solutions.toml")
_REFILLED = Phrases((text, True) for text in _ROWS["refilled"])
_PRODUCE = word_set(" ".join(_ROWS["produce"]))
_WASHES = word_set(" ".join(_ROWS["produce_washes"]))
_PAPER = word_set(" ".join(_ROWS["ph_paper"]))
_REACH = 4
"""Utterances back to the test before a solution was mixed again: common practice, no source."""


def mixed_again(line: Line, figure: Figure, scene: Scene) -> Draft | None:
    """The test before, where a bare figure follows on words of mixing again: `Remixed. 300. Good.`"""
    if figure.unit is not None or figure.number.halved or figure.number.decimals:
        return None
    first, _ = line.sentence_span(figure.first)
    begin = line.starts[line.sentence[figure.first] - 1] if line.sentence[figure.first] else first
    told = _REFILLED.find(line.tokens, begin, figure.first)
    if not told or any(
        chunk.known_food and told[-1][1] <= chunk.first < figure.first for chunk in line.chunks
    ):
        return None
    return last_test(line, scene)


def last_test(line: Line, scene: Scene) -> Draft | None:
    """The concentration measured last, in this utterance or the few before it."""
    for draft in reversed(scene.drafts):
        if draft.line.index < line.index - _REACH:
            return None
        if draft.kind == "concentration" and draft.fallen is None:
            return draft
    return None


def of_produce(line: Line, first: int, end: int) -> Chunk | None:
    """The name of a solution for produce in a sentence: `produce rinse`, `fruit wash`."""
    for chunk in line.chunks:
        if first <= chunk.first < end and line.tokens[chunk.last - 1].low in _WASHES and any(
            line.tokens[n].low in _PRODUCE for n in range(chunk.first, chunk.last - 1)
        ):  # fmt: skip
            return chunk
    return None


def tells_ph(line: Line, figure: Figure, about: Subject, scene: Scene) -> bool:
    """`paper reads 8 and a half` beside a sanitizer: a figure of that size, told by a paper."""
    if figure.unit is not None or not _LEAST <= figure.value <= _MOST:
        return False
    tested = last_test(line, scene)
    if tested is None or tested.line.index < line.index - 1:
        return False
    chunk = about.chunk
    paper = chunk is not None and is_paper(line, chunk)
    if chunk is not None and not paper:
        return False
    whole = figure.value == int(figure.value)
    return paper and (not whole or figure.value <= _MOST_WHOLE)


def is_paper(line: Line, chunk: Chunk) -> bool:
    """Whether the words name a paper that tells a pH."""
    return line.tokens[chunk.last - 1].low in _PAPER


_LEAST, _MOST, _MOST_WHOLE = 5.0, 12.0, 9.0
"""pH of a sanitizing solution. Paper for chlorine shows 10 first, so a whole 10 is no pH: common practice, no
source."""

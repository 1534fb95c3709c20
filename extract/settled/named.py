"""The words and the noun phrase of what the second reader names, in the utterance that holds it."""

from __future__ import annotations

from extract.scene import Scene
from extract.words.line import Chunk, Line
from extract.words.text import Span, word_set


def line_back(back: int, line: Line, scene: Scene) -> Line | None:
    """The utterance so many before `line`; None where it is not kept."""
    lines = scene.lines[-1 - back :] if back else [line]
    return lines[0] if lines and lines[0].index == line.index - back else None


def chunk_of(line: Line, span: Span) -> Chunk | None:
    """The noun phrase that a span stands in, without what it lies in or is made with; None: there is none."""
    inside = [
        chunk
        for chunk in line.chunks
        if chunk.sort != "gone"
        and line.tokens[chunk.first].start < span[1]
        and span[0] < line.tokens[chunk.last - 1].end
    ]
    chosen = inside[0] if inside else None
    for chunk in inside[1:]:
        if chunk.preposition:
            break  # what it lies in, or is made with
        chosen = chunk
    return chosen


_LEADING = word_set("the a an his her their our my this that these those some")


def trimmed(words: str) -> str:
    """Without article, and without marks around it."""
    words = words.strip(" ,.;:!?'\"“”-")
    first, _, rest = words.partition(" ")
    return rest if rest and first.lower() in _LEADING else words

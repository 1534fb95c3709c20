"""Food that came cooked from its maker: heating it is no cooking of raw animal food."""

from __future__ import annotations

from functools import cache

from extract.scene import Draft
from extract.words.lexicon import Phrases, read
from extract.words.line import Line
from extract.words.text import plain, singular


@cache
def _ways() -> Phrases[bool]:
    rows = read("said.toml")["condition"]
    return Phrases(
        ((text, True) for row in rows if row.get("came_cooked") for text in row["words"]), form=plain
    )


def came_cooked(line: Line, draft: Draft) -> str | None:
    """The words by which an utterance tells so of a food: `the nuggets come in fully cooked`."""
    for first, last, _ in _ways().find(line.tokens):
        begin, end = line.sentence_span(first)
        if draft.chunk is not None and begin <= draft.chunk.first < end:
            return line.words(first, last)
        head = singular(draft.item.lower().split()[-1]) if draft.item else ""
        if any(singular(line.tokens[n].low) == head for n in range(begin, end)):
            return line.words(first, last)
    return None

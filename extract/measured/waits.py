"""Spans of time that are of people and machines: free of symptoms, or in use without being cleaned."""

from __future__ import annotations

from extract.scene import Draft
from extract.words.lexicon import Phrases, read
from extract.words.line import Chunk, Line
from extract.words.naming import item_name
from extract.words.text import word_set

_ROWS = read("spans.toml")
_SICK = Phrases((text, True) for text in _ROWS["symptoms"])
_SINCE = Phrases((text, True) for text in _ROWS["over"])
_DIRTY = Phrases((text, True) for text in _ROWS["uncleaned"])
_MACHINES = word_set(" ".join(_ROWS["machines"]))
_PLANNED = word_set("every within needs must allowed need each")


def waiting(line: Line, draft: Draft, first: int, end: int) -> bool:
    """Whether a span of hours is one that a worker is free of symptoms, or equipment in use uncleaned; then
    sets stage, item and kind."""
    if draft.unit not in ("hour", "day"):
        return False
    if _PLANNED & {token.low for token in line.tokens[max(first, draft.first - 3) : draft.first]}:
        return False
    if _SICK.find(line.tokens) and _SINCE.find(line.tokens, first, end):
        draft.stage, draft.item, draft.chunk, draft.food = "other", None, None, False
        draft.place = draft.place_row = None
        draft.facts = draft.facts | {"symptom_free"}
        return True
    machine = _machine(line, draft)
    if machine is not None and _DIRTY.find(line.tokens):
        draft.stage, draft.item, draft.chunk, draft.food = "other", item_name(line, machine), None, False
        draft.facts = draft.facts | {"in_use"}
        return True
    return False


def _machine(line: Line, draft: Draft) -> Chunk | None:
    before = [c for c in line.chunks if c.first < draft.first and c.last > c.first]
    named = [c for c in before if line.tokens[c.last - 1].low in _MACHINES and c.determiner != "no"]
    return named[-1] if named else None

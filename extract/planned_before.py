"""Food under a time plan that was told of it earlier."""

from __future__ import annotations

from collections.abc import Sequence

from extract.line import Line
from extract.naming import item_name
from extract.scene import Draft
from extract.staging import fahrenheit, heads_agree

_HELD = frozenset(("cold_holding", "hot_holding"))
_COLD, _HOT = 41.0, 135.0
"""°F between which food needs a plan (Food Code 2022, 3-501.16(A))."""
_LINES = 2
"""Utterances that a plan is remembered for."""
_SURELY_HELD = 0.8
"""Share of its stage from which food is held by temperature, whatever was said before."""


def planned_before(draft: Draft, lines: Sequence[Line]) -> bool:
    """`pico and crema with no ice, they're doing the four hour thing`, and then `crema's 66`: food
    no words put under a plan was named in a sentence before that did; `lines`: all utterances so far."""
    told = draft.figure.told
    if draft.stage not in _HELD or draft.stage_told or draft.stage_fixed or not draft.food or not draft.item:
        return False
    if not _COLD < fahrenheit(draft.value, draft.unit) < _HOT:
        return False
    if told is None or told.stages[draft.stage] > _SURELY_HELD:
        return False
    return any(
        cue.stage == "time_control" and _names(line, start, draft.item)
        for line in lines
        if draft.line.index - _LINES <= line.index < draft.line.index
        for start, _, cue in line.cues
    )


def _names(line: Line, at: int, item: str) -> bool:
    """Whether the sentence of a word names a food."""
    first, end = line.sentence_span(at)
    return any(
        chunk.known_food and first <= chunk.first < end and heads_agree(item_name(line, chunk), item)
        for chunk in line.chunks
    )

"""Food under a time plan that was told of it earlier."""

from __future__ import annotations

from collections.abc import Sequence

from extract.of_what.staging import COLD, HELD, HOT, fahrenheit, heads_agree
from extract.scene import Draft
from extract.words.line import Line
from extract.words.naming import item_name

_LINES = 2
"""Utterances that a plan is remembered for."""
_SURELY_HELD = 0.8
"""Share of its stage from which food is held by temperature, whatever was said before."""


def keep_to_plans(drafts: Sequence[Draft], lines: Sequence[Line]) -> None:
    """Puts food under the plan, in place and with a doubt, that it was named with before; `lines`: all
    utterances so far."""
    for draft in drafts:
        if _planned_before(draft, lines):
            draft.stage, draft.stage_fixed = "time_control", True
            draft.codes.append(("stage_unsure", "It is taken to be under the time plan told before", ()))


def _planned_before(draft: Draft, lines: Sequence[Line]) -> bool:
    """`pico and crema with no ice, they're doing the four hour thing`, and then `crema's 66`."""
    told = draft.figure.told
    if draft.stage not in HELD or draft.stage_told or draft.stage_fixed or not draft.food or not draft.item:
        return False
    if not COLD < fahrenheit(draft.value, draft.unit) < HOT:
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

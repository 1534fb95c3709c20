"""Stages that only the next utterance tells: when food was cooked, or that it is under a time plan."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from extract.of_what.staging import COLD, HELD, HOT, fahrenheit
from extract.scene import Read
from extract.words.lexicon import Phrases, read
from extract.words.text import word_set

_DONE = Phrases((text, True) for text in read("cooling_since.toml")["done"])


def stages_told_later(reads: Sequence[Read]) -> None:
    """Gives a stage, in place, to food without one of its own where the next utterance begins by telling it:
    cooling, in `Rice in four pans, 109, 112`, then `Cooked at 10.30`; time control, in `Burritos, 108`, then
    `Tag 7.05`."""
    for told, after in pairwise(reads):
        stage = _told(after)
        if not stage:
            continue
        span = (after.line.tokens[0].start, after.line.tokens[-1].end)
        for draft in told.drafts:
            guessed = draft.stage in HELD and not (draft.stage_told or draft.stage_fixed)
            between = COLD < fahrenheit(draft.value, draft.unit) < HOT
            if draft.fallen is None and draft.kind == "temperature" and draft.food and guessed and between:
                draft.stage = stage
                draft.rules.append((f"stage: {stage}, as it is told next", after.line.index, *span))


def _told(after: Read) -> str:
    """The stage that an utterance without a temperature of its own begins by telling of food before it."""
    if any(draft.kind == "temperature" for draft in after.drafts):
        return ""
    if _begins_with_cooking(after):
        return "cooling"
    return "time_control" if _begins_with_plan(after) else ""


def _begins_with_plan(read: Read) -> bool:
    """`Tag 7.05, so just under two hours`, `Plan's on the wall`, and no `no time plan here`."""
    line = read.line
    opens = next((n for n, token in enumerate(line.tokens[:_SOON]) if token.low in _ON_IT), None)
    if opens is None or any(chunk.known_food for chunk in line.chunks if chunk.first < opens):
        return False
    if any(token.low in _DENIED for token in line.tokens[:opens]):
        return False
    if line.tokens[opens].low == "plan":
        return True
    return any(figure.role == "clock" and 0 < figure.first - opens <= _NEAR for figure in read.figures)


_ON_IT = word_set("tag tags sticker stickers card cards timer dot plan clock")
_DENIED = word_set("no not never nobody without date n't")
_NEAR = 4
"""Words between a sticker and its time: common practice, no source."""


def _begins_with_cooking(read: Read) -> bool:
    """Whether an utterance begins with when a food was cooked, and names no other food before that."""
    times = [figure for figure in read.figures if figure.role == "clock"]
    hit = next(iter(_DONE.find(read.line.tokens, 0, min(_SOON, len(read.line.tokens)))), None)
    if hit is None or not times or not 0 <= times[0].first - hit[1] <= 2:
        return False
    return not any(chunk.known_food for chunk in read.line.chunks if chunk.first < times[0].first)


_SOON = 5
"""Tokens with which an utterance begins: common practice, no source."""

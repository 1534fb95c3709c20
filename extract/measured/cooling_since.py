"""How long food has been cooling, where the words beside a single reading tell when it began.

`Stew cooling for four hours, 78`; `came off the stove at 10, it's one now, 84`; `cooked last night, still
52`.
"""

from __future__ import annotations

from typing import NamedTuple

from extract.figures.figure import Figure
from extract.figures.times_of_day import day_part, hour_of
from extract.scene import Draft, Read
from extract.words.lexicon import Phrases, read
from extract.words.line import Line

_ROWS = read("cooling_since.toml")
_BEGAN, _A_NIGHT_AGO, _BEHIND, _AHEAD, _PAST, _TO_COME = (
    Phrases((text, True) for text in _ROWS[name])
    for name in ("began", "a_night_ago", "behind", "ahead", "past", "to_come")
)
_NEAR = 7
"""Words between what was done and its time: common practice, no source."""
_NIGHT_H = 6.0
"""Hours that lie at least between a night's end and the evening before: common practice, no source."""
_STEPS_H = (2.0, 6.0)
"""Hours of the stages, as `past the two hours` tells them; FDA Food Code 2022, 3-501.14(A)."""
_LONGEST_H = 12.0
"""Hours beyond which two times of day, without the day, tell nothing: common practice, no source."""


class Cooling(NamedTuple):
    """For how long, in hours, and what time of day it is now, as hours from midnight."""

    hours: float
    now: float


def cooling_for(draft: Draft, told: Read) -> Cooling | None:
    """How long a reading's food has been cooling, by the words of its utterance; None where they do not tell,
    or where they may tell it of other food."""
    now = _now(draft, told)
    if now is None:
        return None
    first, end = _about(draft, told)
    line = draft.line
    hours = _by_span(line, told, first, end)
    if hours is None:
        hours = _by_clock(line, told, first, end, now)
    if hours is None and _A_NIGHT_AGO.find(line.tokens, first, end):
        hours = _NIGHT_H
    return None if hours is None else Cooling(hours, now)


def began_at(line: Line, clock: Figure) -> bool:
    """Whether a time of day is when something was done, and not when it was measured: `came off at noon`."""
    first, _ = line.sentence_span(clock.first)
    told = list(_BEGAN.find(line.tokens, max(first, clock.first - _NEAR), clock.first))
    return any(
        all(line.tokens[n].kind == "word" and line.classes[n] != "number" for n in range(end, clock.first))
        for _, end, _ in told
    )


def _about(draft: Draft, told: Read) -> tuple[int, int]:
    """The tokens that may tell of the reading: its utterance, or its sentence where there are other foods."""
    others = [d for d in told.drafts if d is not draft and d.fallen is None and d.kind == "temperature"]
    if all(d.item == draft.item for d in others):
        return 0, len(draft.line.tokens)
    first, end = draft.line.sentence_span(draft.first)
    apart = [d for d in others if d.item != draft.item]
    first = max([first, *(d.last for d in apart if d.last <= draft.first)])
    return first, min([end, *(d.first for d in apart if d.first >= draft.last)])


def _now(draft: Draft, told: Read) -> float | None:
    """The time of the reading: said for it, said as the time it is now, or that of the recording."""
    return hour_of(draft.clock) if draft.clock is not None else told.now


def _by_span(line: Line, told: Read, first: int, end: int) -> float | None:
    tokens = line.tokens
    for figure in told.figures:
        if figure.kind != "duration" or figure.unit not in ("hour", "minute"):
            continue
        if not first <= figure.first < end or _TO_COME.at(tokens, figure.last) is not None:
            continue
        hours = figure.value / (60 if figure.unit == "minute" else 1)
        start = max(0, figure.first - 4)
        if figure.role == "limit":
            if hours in _STEPS_H and _PAST.find(tokens, start, figure.first):
                return hours
            continue
        if _BEHIND.at(tokens, figure.last) is not None or _AHEAD.find(tokens, start, figure.first):
            return hours
    return None


def _by_clock(line: Line, told: Read, first: int, end: int, now: float) -> float | None:
    for figure in told.figures:
        if figure.role != "clock" or figure.clock is None or not first <= figure.first < end:
            continue
        if not began_at(line, figure):
            continue
        sure = _half_of_day_told(line, figure) and told.hour is not None and now == told.hour
        hours = (now - hour_of(figure.clock)) % (24.0 if sure else 12.0)
        if _A_NIGHT_AGO.find(line.tokens, *line.sentence_span(figure.first)):
            return max(hours, _NIGHT_H)
        return hours if 0 < hours <= _LONGEST_H else None
    return None


def _half_of_day_told(line: Line, clock: Figure) -> bool:
    last = line.tokens[clock.last - 1].low
    return last in ("am", "pm", "m", "noon", "midnight", "morning") or day_part(line, clock) is not None

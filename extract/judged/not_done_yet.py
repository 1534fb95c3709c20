"""Food that is on the heat yet: `in the steamer since 1700, at 1841 it's 148`, `158, he hasn't pulled it`."""

from __future__ import annotations

import re
from dataclasses import replace

from extract.figures.times_of_day import hour_of
from extract.scene import Draft, Read
from extract.words.people import people
from shared.rules.model import Rules
from shared.types import Check

_TIME = "reheat_within"
"""The limit of the rules on how long reheating may take: 3-403.11(D)."""
_SERVED = re.compile(r"\b(?:serv(?:e|es|ed|ing)|ladl\w+|plat(?:ed|ing)|sold|selling|dished)\b", re.I)
"""Food that is given out is not on its way any more: common practice, no source."""
_BEGAN = (("since",), ("started", "at"), ("in", "at"), ("on", "at"))


def with_time_left(draft: Draft, read: Read, found: Check, rules: Rules) -> Check:
    """What is found of food that has not reached its limit, where the words tell when its reheating began and
    the time for it is not over: nobody can say yet whether it will."""
    row, began = rules.limits.get(_TIME), _began(draft, read)
    now = hour_of(draft.clock) if draft.clock is not None else read.now
    if draft.stage != "reheating" or found.verdict != "violates":
        return found
    if row is None or now is None or began is None:
        return found
    most = row.values.get("hour", 0.0)
    passed = (now - began) % 24
    if not 0 < passed < most or _SERVED.search(read.line.text):
        return found
    missing = (f"whether it reaches the limit within {most:g} hours of when it was put on",)
    why = f"{passed:.1f} of the {most:g} hours for reheating are over, and it is not hot enough yet"
    return Check(
        "undetermined", row.section, found.operator, found.limit, found.unit, found.margin, missing, why
    )


def on_the_heat(draft: Draft, read: Read, found: Check) -> Check:
    """What is found of food that is being cooked and has not reached its limit, where the words behind it,
    before the next reading, tell that it is not done: nobody called it cooked."""
    guessed = draft.stage == "hot_holding" and not draft.stage_told
    heated = draft.stage == "cooking" or guessed
    if not heated or found.verdict != "violates" or draft.said is not None:
        return found
    line = draft.line
    first, _ = line.sentence_span(draft.first)
    figures = (f for f in read.figures if f.role == "figure" and f.kind != "duration")
    next_read = next((f.first for f in figures if f.first >= draft.last), len(line.tokens))
    own = line.sentence[draft.first]
    ends = [*line.starts, len(line.tokens)][own + 1 :][:_SENTENCES]
    end = min(next_read, ends[-1])
    told = people().in_progress.find(line.tokens, first, end)
    before = line.starts[max(0, own - 1)]  # `out of the fryer, 137. Sorry, 127. Not done.`
    if not told or _TAKEN_OFF.search(line.text, *line.span(before, end)):
        return found
    said = line.words(*told[0][:2])
    why = f"it is not hot enough yet, and “{said}” was said of it"
    missing = ("whether it reaches the limit before it is taken off the heat",)
    return replace(found, verdict="undetermined", missing=missing, why=why)


_SENTENCES = 4
"""Sentences, its own among them, in which a reading is said to be of food that is not done."""
_TAKEN_OFF = re.compile(
    r"\b(?:out of the|off the|(?<!n't )pulled|plated|served|back (?:in|on)"
    r"|(?:is|it's|they're|called it|was) done)\b",
    re.IGNORECASE,
)
"""Food that was called done, and was not. Both: common practice, no source."""


def _began(draft: Draft, read: Read) -> float | None:
    tokens = read.line.tokens
    for figure in read.figures:
        if figure.role != "clock" or figure.clock is None or figure.clock == draft.clock:
            continue
        before = tuple(token.low for token in tokens[max(0, figure.first - 3) : figure.first])
        if any(before[-len(words) :] == words for words in _BEGAN):
            return hour_of(figure.clock)
    return None

"""Readings of food that cools, held against the time that it has had."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from extract.checks import Instrument
from extract.checks.cooling_stages import Point, each_reading, rule_of
from extract.checks.days import as_told
from extract.figures.times_of_day import hour_of
from extract.judged.cooling_log import of_both
from extract.measured.cooling_since import Cooling, cooling_for
from extract.of_what.staging import heads_agree
from extract.scene import Draft, Read
from extract.words.text import word_set
from shared.foods import classify
from shared.rules.model import Rules
from shared.types import Check


def judge_cooling(
    draft: Draft, near: Sequence[Draft], reads: Sequence[Read], rules: Rules, instrument: Instrument
) -> Check | None:
    """The verdict on a reading by the times that were told; None where a reading alone tells no more than its
    figure. `near`: the readings around it; `reads`: the utterances."""
    found = _in_sequence(draft, near, reads, rules, instrument)
    timed = any(d.clock for d in near if d.line is draft.line)
    if found is None and draft.clock is None and timed and not _of_now(draft):
        return None  # one of a log that tells its time no more: when it was written nobody knows
    return found or _since(draft, cooling_for(draft, reads[draft.line.index]), rules, instrument)


def _in_sequence(
    draft: Draft, near: Sequence[Draft], reads: Sequence[Read], rules: Rules, instrument: Instrument
) -> Check | None:
    """The verdict on one of several readings of a food that cools, by the time since its clock started."""
    of_it = [
        d for d in near
        if d.kind == "temperature" and d.stage == "cooling" and d.unit == draft.unit
        and (d.item is None or draft.item is None or heads_agree(d.item, draft.item) or of_both(d, draft))
    ]  # fmt: skip
    hours = {d.order: hour for d in of_it if (hour := _hour(d, of_it, reads)) is not None}
    same = [d for d in of_it if d.order in hours]
    if draft.order not in hours or len(same) < 2:
        return None
    food = classify(draft.item or "")
    if food is not None and food.needs_control("cooling") is False:
        return None
    told = [reads[d.line.index].hour for d in same]
    times = as_told(
        [_DAY + timedelta(minutes=round(hours[d.order] * 60)) for d in same],
        [d.value for d in same],
        [None if hour is None else _DAY + timedelta(minutes=round(hour * 60)) for hour in told],
    )
    points = [Point(at, d.value, d.unit) for at, d in zip(times, same, strict=True)]
    started = _started(draft, same, points, reads)
    hot = rules.cooling[_COOKED].start.get(draft.unit) if _COOKED in rules.cooling else None
    if started is not None and hot is not None and started <= points[0].at and points[0].value < hot:
        name = _COOKED  # first read when it was no longer hot: `cooked at 11.30, 90 at noon, 75 at 2`
    else:
        name, started = rule_of(points), None
    rule = rules.cooling.get(name)
    if rule is None or not rule.in_force or any(draft.unit not in stage.target for stage in rule.stages):
        return None
    found = each_reading(points, rules, rule=name, started=started, instrument=instrument)[same.index(draft)]
    if draft.clock is None:
        return replace(found, why=f"{found.why}; the time is that at which it was said")
    return found


def _hour(draft: Draft, of_it: Sequence[Draft], reads: Sequence[Read]) -> float | None:
    """When a reading was taken, in hours from midnight: as the words tell; else, of food whose clock was told
    in an utterance before, or in the same one before a figure of now, when it was said."""
    if draft.clock is not None:
        return hour_of(draft.clock)
    read = reads[draft.line.index]
    said, clock = read.now, read.told_now
    now = _is_now(draft) or (clock is not None and clock.first < draft.first)
    told = [
        hour_of(d.clock) for d in of_it
        if d.clock is not None and (d.line.index < draft.line.index or (now and d.order < draft.order))
    ]  # fmt: skip
    unsure = draft.figure.perhaps_mentioned or draft.figure.codes
    if said is None or unsure or not told or (said - told[-1]) % 24 > _SAME_CLOCK:
        return None
    return said


def _of_now(draft: Draft) -> bool:
    """Whether the sentence of a reading speaks of now: `it's 6 o'clock now and I get 14`."""
    first, end = draft.line.sentence_span(draft.first)
    return any(token.low in ("now", "today", "currently") for token in draft.line.tokens[first:end])


def _is_now(draft: Draft) -> bool:
    """`135 at 8:30, 70 at 10:15, 41 now`, `Now it's 47.`"""
    tokens, n = draft.line.tokens, draft.last
    while n < len(tokens) and tokens[n].low in _UNITS:
        n += 1
    if [token.low for token in tokens[n : n + 1]] in (["now"], ["currently"]):
        return True
    n = draft.first - 1
    while n >= 0 and (draft.line.classes[n] in ("links", "pronouns", "adverbs") or tokens[n].low in _SMALL):
        if tokens[n].low in ("now", "currently"):
            return True
        n -= 1
    return n >= 0 and tokens[n].low in ("now", "currently")


_UNITS = word_set("degrees degree f c fahrenheit celsius right just as of")
_SMALL = word_set("at , reads reading i get got have 's")


_SAME_CLOCK = 12
"""Hours beyond which a time that was told may be of the other half of the day."""


def _started(
    draft: Draft, same: Sequence[Draft], points: Sequence[Point], reads: Sequence[Read]
) -> datetime | None:
    """When the food began to cool, as the words beside one of its readings tell, its own first."""
    for one, point in sorted(zip(same, points, strict=True), key=lambda pair: pair[0] is not draft):
        began = cooling_for(one, reads[one.line.index])
        if began is not None:
            return point.at - timedelta(hours=began.hours)
    return None


def _since(draft: Draft, began: Cooling | None, rules: Rules, instrument: Instrument) -> Check | None:
    """The verdict on a reading alone whose food the words tell to have cooled for too long; None where it is
    in time, or where they do not tell."""
    name = _ROOM if _FROM_ROOM.search(draft.line.text) else _COOKED
    rule = rules.cooling.get(name)
    if began is None or rule is None or any(draft.unit not in stage.target for stage in rule.stages):
        return None
    food = classify(draft.item or "")
    if draft.value >= rule.start.get(draft.unit, draft.value + 1) or (
        food and food.needs_control("cooling") is False
    ):
        return None
    at = _DAY + timedelta(days=1, hours=began.now)
    (found,) = each_reading(
        [Point(at, draft.value, draft.unit)],
        rules,
        rule=name,
        started=at - timedelta(hours=began.hours),
        instrument=instrument,
    )
    if found.verdict not in ("violates", "borderline"):
        return None
    return replace(found, why=f"{found.why}; how long it has cooled is told by the words")


_COOKED, _ROOM = "cooked", "room_temperature_ingredients"
"""The rules for food that was hot, and for food made from things that stood at room temperature."""
_FROM_ROOM = re.compile(
    r"\broom temp|\b(?:off|from) (?:the )?(?:dry )?(?:shelf|storage)\b|"
    r"\bshelf stable (?:stuff|things|ingredients)",
    re.I,
)
"""Words for what it was made from: common practice, no source."""
_DAY = datetime(2000, 1, 1, tzinfo=UTC)
"""Any day: only the time between readings counts."""

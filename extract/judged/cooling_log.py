"""Readings of one food at several times, recognised as cooling when they fall."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from itertools import pairwise

from extract.figures.times_of_day import hour_of
from extract.of_what.staging import fahrenheit, heads_agree
from extract.scene import Draft
from extract.words.text import word_set

_MAY_COOL = frozenset(("cooking", "hot_holding", "cold_holding", "cooling", "freezing", "reheating"))
_LEAST_DROP_F = 20.0
"""A fall by less is no cooling but the same food twice; common practice, no source."""


_HALVES = frozenset(("am", "pm", "a", "p", "morning", "afternoon", "evening", "night", "noon", "midnight"))


def _carry_half_of_day(standing: Sequence[Draft]) -> None:
    """`135 at 9 pm, 68 at 10.40, 38 at 1.15`: a time without a half of the day is the next such time after
    the one before it of the same food."""
    for one, two in pairwise(standing):
        if one.clock is None or two.clock is None or one.line is not two.line or one.item != two.item:
            continue
        if fahrenheit(one.value, one.unit) <= fahrenheit(two.value, two.unit) or _half_told(two):
            continue
        if _on_24_hours(one) or _on_24_hours(two):
            continue
        before, after = hour_of(one.clock), hour_of(two.clock)
        hours = min((after, (after + 12) % 24), key=lambda hour: (hour - before) % 24 or 24)
        two.clock = f"{int(hours):02d}:{two.clock[3:]}"


def _half_told(draft: Draft) -> bool:
    """Whether the words right around a reading tell the half of the day."""
    return any(word in _HALVES for word in _around(draft))


def _on_24_hours(draft: Draft) -> bool:
    """Whether the time of a reading is written on a clock of 24 hours: `20:00`, `09:00`."""
    return any(_OF_24.match(word) for word in _around(draft))


_OF_24 = re.compile(r"(?:0\d|1[3-9]|2[0-3])[:.]\d\d\Z")


def _around(draft: Draft) -> Iterator[str]:
    """The words around a reading, between marks."""
    tokens, first, end = draft.line.tokens, draft.first, draft.last
    while first > 0 and tokens[first - 1].kind != "mark":
        first -= 1
    while end < len(tokens) and tokens[end].kind != "mark":
        end += 1
    return (token.low for token in tokens[first:end])


_BEGINS_F, _NOT_HOT_F = 145.0, 100.0
"""°F from which cooling is written down at most, and below which food is no longer hot: common practice, no
source."""


def _fell_far(hot: Draft, later: Draft) -> bool:
    """`from yesterday's lunch, 135 at 12.40, 67 at 2.40`: food that is being reheated does not fall so."""
    timed = hot.clock is not None and later.clock is not None
    began, ended = fahrenheit(hot.value, hot.unit), fahrenheit(later.value, later.unit)
    return timed and began <= _BEGINS_F and ended < _NOT_HOT_F


def settle_cooling(drafts: Sequence[Draft]) -> None:
    """Gives the stage cooling to readings of one food whose times and falling figures tell a cooling log,
    in place."""
    standing = [
        d
        for d in drafts
        if d.fallen is None and d.kind == "temperature" and d.item is not None and d.stage in _MAY_COOL
    ]
    _carry_half_of_day(standing)
    lines = [d.line.index for d in standing]
    for hot in standing:
        if hot.clock is None or fahrenheit(hot.value, hot.unit) < 110:
            continue
        after = [
            d
            for d in standing[
                bisect_left(lines, hot.line.index - 2) : bisect_right(lines, hot.line.index + 2)
            ]
            if d is not hot
            and d.item is not None
            and hot.item is not None
            and (heads_agree(d.item, hot.item) or of_both(hot, d))
            and fahrenheit(hot.value, hot.unit) - fahrenheit(d.value, d.unit) >= _LEAST_DROP_F
            and (d.clock is not None or d.line is hot.line or d.order > hot.order)
            and ("reheating" not in (d.stage, hot.stage) or _fell_far(hot, d))
        ]
        if not after or not (
            any(d.clock is not None for d in after) or any(d.line is hot.line for d in after)
        ):
            continue
        for draft in [hot, *after]:
            if draft.stage != "cooling":
                draft.stage = "cooling"
                first, end = draft.line.tokens[0].start, draft.line.tokens[-1].end
                draft.rules.append(
                    ("stage: cooling, as the figures fall over time", draft.line.index, first, end)
                )


def of_both(one: Draft, draft: Draft) -> bool:
    """`Two soups, both hit 135 at 12.40. Minestrone 66, split pea 92`: a figure told of all that follow."""
    first, _ = one.line.sentence_span(one.first)
    told = {token.low for token in one.line.tokens[first : one.first]}
    return not _ALL.isdisjoint(told) and one.line is draft.line and one.order < draft.order


_ALL = word_set("both all everything")

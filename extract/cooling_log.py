"""Readings of one food at several times, recognised as cooling when they fall."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence

from extract.scene import Draft
from extract.staging import fahrenheit, heads_agree

_MAY_COOL = frozenset(("cooking", "hot_holding", "cold_holding", "cooling", "freezing"))
_LEAST_DROP_F = 20.0
"""A fall by less is no cooling but the same food twice; common practice, no source."""


def settle_cooling(drafts: Sequence[Draft]) -> None:
    """Gives the stage cooling to readings of one food whose times and falling figures tell a cooling log,
    in place."""
    standing = [
        d
        for d in drafts
        if d.fallen is None and d.kind == "temperature" and d.item is not None and d.stage in _MAY_COOL
    ]
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
            and heads_agree(d.item, hot.item)
            and fahrenheit(hot.value, hot.unit) - fahrenheit(d.value, d.unit) >= _LEAST_DROP_F
            and (d.clock is not None or d.line is hot.line or d.order > hot.order)
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

"""Telling the same proposal again in a later run of the pipeline, so that its name and its decision stay.

A later run may hear a word differently, so names are not derived from content. Two proposals of a kind are
the same when they rest on the same seconds of the same recording (or the same line of typed text); where
several do, the nearest pair goes first.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

Anchor = Mapping[str, Any]
"""`recording`, `start`, `end` in seconds, and what must be equal: `same`."""

SLACK_S = 0.75
"""By how much a later run may place the same words elsewhere."""


def names(anchors: Sequence[Anchor], earlier: Mapping[str, Anchor], *, letter: str) -> list[str]:
    """A name for each of `anchors`: that of the earlier proposal it is, else the next free one (`r7`)."""
    pairs = sorted(
        (distance, at, name)
        for at, anchor in enumerate(anchors)
        for name, before in earlier.items()
        if (distance := _distance(anchor, before)) is not None
    )
    given: dict[int, str] = {}
    taken: set[str] = set()
    for _, at, name in pairs:
        if at not in given and name not in taken:
            given[at] = name
            taken.add(name)
    following = 1 + max((int(re.sub(r"\D", "", name)) for name in earlier), default=0)
    for at in range(len(anchors)):
        if at not in given:
            given[at] = f"{letter}{following}"
            following += 1
    return [given[at] for at in range(len(anchors))]


def _distance(one: Anchor, other: Anchor) -> float | None:
    """How far apart two anchors are in seconds, None when they cannot be the same."""
    if one["recording"] != other["recording"] or one["same"] != other["same"]:
        return None
    gap = max(one["start"], other["start"]) - min(one["end"], other["end"])
    if gap > SLACK_S:
        return None
    nearness = abs(one["start"] - other["start"]) + abs(one["end"] - other["end"])
    return float(nearness) + (0.0 if one.get("value") == other.get("value") else 0.25)

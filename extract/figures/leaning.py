"""Figures said to lie on one side of the number told: `over 200`, `just under 165`.

Held against a limit that is that number itself, they are on the wrong side of it though the number is not.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from extract.words.text import word_set
from shared.types import Check

_SIDES = {"over": 1, "above": 1, "past": 1, "under": -1, "below": -1}
_MORE = {"more than": 1, "better than": 1, "less than": -1}
_BY_LITTLE = word_set("just hair little bit tad touch shade whisker fraction smidge smidgen barely slightly")
_STEP = 0.001
"""In the unit of the reading; finer than any instrument of the trade tells."""


def leans(approximate: str | None) -> int:
    """1: more than the number told; -1: less; 0: neither. `approximate`: the words before it."""
    words = (approximate or "").split()
    return _SIDES.get(words[-1], 0) if words and words[-1] in _SIDES else _MORE.get(approximate or "", 0)


def by_little(approximate: str | None) -> bool:
    """`just under`, `a hair over`: so a figure is told that was read, hardly a limit."""
    return leans(approximate) != 0 and bool(_BY_LITTLE & set((approximate or "").split()))


def beyond(value: float, approximate: str | None, found: Check, again: Callable[[float], Check]) -> Check:
    """What is found of a figure that leans to one side of `value`; `found`: of the number itself; `again`:
    what would be found of another number."""
    side = leans(approximate)
    if not side or found.verdict != "meets":
        return found
    other = again(value + side * _STEP)
    if other.verdict == found.verdict:
        return found
    why = f"the limit is this number itself, and it was said to be {approximate} it"
    return replace(other, margin=None, why=why)

"""Fish frozen in a blast freezer against parasites: how cold tells which time is enough."""

from __future__ import annotations

from collections.abc import Sequence

from extract.scene import Draft
from extract.staging import fahrenheit, heads_agree

_BLAST = -31.0
"""°F from which hours do instead of days; FDA Food Code 2022, 3-402.11(A)(2)."""


def blast_frozen(draft: Draft, near: Sequence[Draft]) -> frozenset[str]:
    """What `minus 31 for fifteen hours, on the salmon` tells of both figures. `near`: the readings around."""
    if draft.stage != "freezing":
        return frozenset()
    told = [
        other
        for other in near
        if other.stage == "freezing"
        and abs(other.line.index - draft.line.index) <= 1
        and (not other.item or not draft.item or heads_agree(other.item, draft.item))
    ]
    cold = any(one.kind == "temperature" and fahrenheit(one.value, one.unit) <= _BLAST for one in told)
    timed = any(one.kind == "duration" for one in told)
    return frozenset(("parasites", "blast_frozen")) if cold and timed else frozenset()

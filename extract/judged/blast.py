"""Fish frozen against parasites: how cold tells which time is enough."""

from __future__ import annotations

from collections.abc import Sequence

from extract.of_what.staging import fahrenheit, heads_agree
from extract.scene import Draft

_COLD = -4.0
"""°F at which days are enough; FDA Food Code 2022, 3-402.11(A)(1)."""
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
        and (
            not other.item or not draft.item or heads_agree(other.item, draft.item) or _same_lot(other, draft)
        )
    ]
    own = [one for one in told if one.kind == "temperature" and one.item]
    if own and any(one.kind == "duration" for one in told):
        # `salmon was minus 31 for 15 hours. Freezer, minus 8 on the gauge`: the unit is no part of the record
        if draft.kind == "temperature" and not draft.item and not _in_a_sentence_of(draft, own):
            return frozenset()
        told = [one for one in told if one.kind != "temperature" or one.item or _in_a_sentence_of(one, own)]
    degrees = [fahrenheit(one.value, one.unit) for one in told if one.kind == "temperature"]
    cold = any(each <= _BLAST for each in degrees)
    timed = any(one.kind == "duration" for one in told)
    if degrees[:1] and degrees[0] <= _BLAST and _BLAST < degrees[-1] <= _COLD:
        return frozenset(("parasites", "frozen_solid_at_minus_31"))
    if cold and timed:
        return frozenset(("parasites", "blast_frozen"))
    days = any(one.unit == "day" for one in told) and any(each <= _COLD for each in degrees)
    return frozenset(("parasites",)) if days else frozenset()


def _in_a_sentence_of(draft: Draft, others: Sequence[Draft]) -> bool:
    return any(
        one.line is draft.line and one.line.sentence[one.first] == draft.line.sentence[draft.first]
        for one in others
    )


def frozen_lot(draft: Draft, near: Sequence[Draft]) -> str | None:
    """The fish that a freezer was measured for, which its own words do not name: `minus 9. The sockeye's
    been in there 5 days`."""
    if draft.stage != "freezing" or draft.item is not None:
        return None
    frozen = [one for one in near if one.stage == "freezing" and one.item]
    lot = next((one.item for one in frozen if one.kind == "duration"), None)
    own = any(one.kind == "temperature" and heads_agree(one.item or "", lot or "") for one in frozen)
    return None if own and not _in_a_sentence_of(draft, frozen) else lot


def _same_lot(one: Draft, other: Draft) -> bool:
    """`minus 9, wild salmon for the poke. This lot in for 4 days`: a freezer and the days in it."""
    return "day" in (one.unit, other.unit) and one.place == other.place

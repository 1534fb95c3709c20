"""For what use a place is lit, where its name does not tell: by its sentence, or by the need that is said."""

from __future__ import annotations

from extract.checks.surroundings import LIGHT, conditions
from extract.scene import Draft, Read

_NEEDED = {
    50.0: "light_50", 540.0: "light_50", 20.0: "light_20",
    215.0: "light_20", 10.0: "light_10", 108.0: "light_10",
}  # fmt: skip
"""What a use needs in foot candles and in lux; FDA Food Code 2022, 6-303.11."""

_SAID_LIMITS = ("limit", "label")


def lit_for(draft: Draft, told: Read) -> frozenset[str]:
    """For what use the words of the sentence say that a place is lit, where its name does not: `back prep, 22
    foot candles`, `bench 31, should be 50`."""
    light = frozenset(LIGHT)
    if conditions(draft.item, draft.place) & light:
        return frozenset()
    first, end = draft.line.sentence_span(draft.first)
    others = [f for f in told.figures if f.role == "figure" and f is not draft.figure]
    begin = max([first, *(f.last for f in others if f.last <= draft.first)])
    until = min([end, *(f.first for f in others if f.first >= draft.last)])
    named = conditions(None, draft.line.words(begin, until)) & light
    named = named or conditions(None, draft.line.words(first, end)) & light
    behind = [f for f in told.figures if f.first >= draft.last and f.role in ("figure", *_SAID_LIMITS)]
    after = next((f for f in behind if f.first < end or f.role in _SAID_LIMITS), None)
    if named or after is None or after.role not in _SAID_LIMITS:
        return named
    return frozenset((_NEEDED[after.value],)) if after.value in _NEEDED else frozenset()

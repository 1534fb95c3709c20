"""Figures that the rules give no limit for, though they look like others that have one.

FDA Food Code 2022, 4-501.110 and 4-501.112: limits for a machine's wash, and for the fresh hot water of its
final rinse at the manifold, alone; 4-501.114: for sanitizers, and not for the water from the tap."""

from __future__ import annotations

from extract.measured.solutions import MOST_DRUNK
from extract.scene import Draft
from extract.words.text import word_set

_ALONE = word_set("prewash scrapper booster recirculated pumped")
_PAIRS = (
    ("pre", "wash"), ("power", "rinse"), ("first", "rinse"), ("pumped", "rinse"), ("tank", "rinse"),
    ("recirculating", "rinse"),
)  # fmt: skip
_BACK, _BEHIND = 12, 4
"""Tokens between a part and its figure, and behind it, at most: common practice, no source."""


def of_no_limit(draft: Draft) -> bool:
    """Whether a reading is of the water supply, of a part of a machine, or of a food, without a limit."""
    if draft.stage == "cooking":
        return _inside_of_steak(draft)
    if draft.kind == "concentration":
        return draft.stage == "other" and draft.agent == "chlorine" and draft.value <= MOST_DRUNK
    return (
        draft.stage in ("machine_rinse", "machine_wash") and draft.kind == "temperature" and _of_part(draft)
    )


_INSIDE = word_set("inside inside's center centre middle internal")


def _inside_of_steak(draft: Draft) -> bool:
    """`whole muscle intact, surface 152. Inside's 118`: of such a beef steak its surfaces are judged (FDA
    Food Code 2022, 3-401.11(C))."""
    first, _ = draft.line.sentence_span(draft.first)
    told = {token.low for token in draft.line.tokens[first : draft.first]}
    text = draft.line.text.lower()
    intact = "intact" in text and ("whole muscle" in text or "whole-muscle" in text)
    return intact and "surface" in text and not _INSIDE.isdisjoint(told)


def _of_part(draft: Draft) -> bool:
    """`prewash 108`, `power rinse 163`, the booster's own display: told right before the figure."""
    tokens = draft.line.tokens
    sentence, end = draft.line.sentence_span(draft.first)
    behind = [token.low for token in tokens[draft.last : min(end, draft.last + _BEHIND)]]
    if behind[:1] in (["on"], ["at"], ["in"]) and not {"final", "rinse", "wash", "manifold"}.isdisjoint(
        behind
    ):
        return False  # `reset the booster. 186 on the final rinse now`
    begin = draft.first
    while begin > sentence and draft.first - begin < _BACK and tokens[begin - 1].kind != "number":
        begin -= 1
    lows = [token.low for token in tokens[begin : draft.first]]
    named = [n for n, low in enumerate(lows) if low in _ALONE]
    named += [n for n in range(len(lows) - 1) if (lows[n], lows[n + 1]) in _PAIRS]
    others = [n for n, low in enumerate(lows) if low in ("wash", "final", "rinse", "manifold")]
    return bool(named) and all(n <= max(named) + 1 for n in others)

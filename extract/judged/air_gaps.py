"""Air gaps: which length is the gap, and which the width of the pipe above it."""

from __future__ import annotations

from collections.abc import Sequence
from collections.abc import Set as AbstractSet
from dataclasses import replace
from itertools import takewhile

from extract.checks import Measured, Quantity
from extract.scene import Draft
from extract.words.text import word_set


def air_gap(measured: Measured, draft: Draft, near: Sequence[Draft]) -> Measured:
    """The measured length with the pipe that it is a gap of, where one was told beside it. `near`: the
    readings of its utterance."""
    pair = [d for d in near if d.kind == "length" and d.stage == "other" and d.line is draft.line]
    bores = [d for d in pair if _is_bore(d)] or _beside_gap(pair)
    if draft in bores:
        return measured
    line = draft.line
    words = {token.low for token in line.tokens}
    told = bool(words & _TOLD or "air gap" in line.text.lower()) or _stops_above(words)
    if not pair or draft.facts:
        return measured
    if not bores and len(pair) == 2 and pair[0] is not draft and told:
        bores = [pair[0]]
    gap = (draft.item or "").lower().endswith("air gap") or "rim" in words
    if bores or ("air gap" in line.text.lower() and gap) or _clears(draft):
        bore = Quantity(bores[0].value, bores[0].unit) if bores else None
        return replace(measured, diameter=bore, says=measured.says | {"air_gap"})
    return measured


_PIPES = ("pipe", "line", "inlet", "tube", "hose", "spout", "faucet")
_TOLD = word_set("rim overflow spout inlet")


def _stops_above(words: AbstractSet[str]) -> bool:
    """`it stops two and a half inches above`, of a pipe."""
    return "above" in words and bool(words & {"stops", "ends", "stop", "end"}) and bool(words & set(_PIPES))


def _beside_gap(pair: Sequence[Draft]) -> list[Draft]:
    """The pipe of `the gap is an inch and a half, the pipe is one inch`."""
    gaps = [d for d in pair if (d.item or "").lower().endswith(("gap", "clearance"))]
    pipes = [d for d in pair if (d.item or "").lower().endswith(_PIPES)]
    return pipes if len(gaps) == 1 and len(pipes) == 1 else []


def _clears(draft: Draft) -> bool:
    """`the faucet clears by 4`: an air gap, whatever it is called."""
    line = draft.line
    first, _ = line.sentence_span(draft.first)
    return any(token.low in ("clears", "clear", "clearing") for token in line.tokens[first : draft.first])


def _is_bore(draft: Draft) -> bool:
    """`half inch spout`, `1 inch across`, `its opening is one inch`: the width of a pipe rather than a
    distance."""
    tokens, i = draft.line.tokens, draft.last
    after = [token.low for token in takewhile(lambda token: token.kind != "mark", tokens[i : i + 2])]
    start = max(draft.line.sentence_span(draft.first)[0], draft.first - 4)
    before = [token.low for token in tokens[start : draft.first]]
    if len(before) > 1 and before[-1] in ("is", "'s") and before[-2] in _PIPES and "above" not in after:
        return True  # `drain pipe is one inch`
    if {"opening", "diameter", "bore"}.intersection(before) and not {",", "and"}.intersection(before[1:]):
        return True
    return bool(
        {
            "across",
            "diameter",
            "wide",
            "spout",
            "pipe",
            "line",
            "inlet",
            "faucet",
            "hose",
            "tube",
            "supply",
            "in",
        }
        & set(after[:2])
    ) and after[:1] != ["above"]

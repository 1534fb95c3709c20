"""Later readings that show that what a reading broke was put right."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise

from extract.cases import Case
from extract.of_what.staging import elsewhere, heads_agree
from extract.scene import Draft
from extract.words.numerals import SMALL
from extract.words.text import word_set

_AHEAD = 30
"""Utterances ahead in which a second reading still shows that the first was put right."""


def measure_again(cases: Sequence[Case], drafts: Sequence[Draft]) -> None:
    """A later reading of the same thing that meets its limit shows that it was put right."""
    for case in cases:
        if case.corrected or not case.drafts:
            continue
        settled = [_later(draft, drafts) for draft in case.drafts]
        if all(later is not None for later in settled):
            later = settled[-1]
            assert later is not None
            case.corrected = case.measured_again = True
            line = later.line
            first, end = line.sentence_span(later.first)
            case.correction = line.words(first, end)
            case.spans.append((line.index, (line.tokens[first].start, line.tokens[end - 1].end)))


def undo_by_later_readings(cases: Sequence[Case], drafts: Sequence[Draft]) -> None:
    """Takes corrections off cases, in place, whose thing was read again behind them and breaks its limit as
    before: `they turned the fire up, and it was still 131`."""
    for case in cases:
        if not (case.corrected and case.drafts) or case.plainly_corrected:
            continue
        line, span = case.deed or max([(case.line, case.span), *case.spans])
        first = case.drafts[0]
        begin = bisect_right(drafts, first.order, key=lambda other: other.order)
        end = bisect_right(drafts, case.line + _AHEAD, key=lambda other: other.line.index)
        later = [
            draft
            for draft in drafts[begin:end]
            if draft.kind == first.kind
            and draft.stage == first.stage
            and (draft.line.index, draft.span[1]) > (line, span[0])
            and draft.order > first.order
            and _same_thing(first, draft)
        ]
        if later and later[-1].verdict == "violates":
            case.corrected, case.correction, case.asks_whether_corrected = False, None, True


def _same_thing(one: Draft, other: Draft) -> bool:
    if elsewhere(one.place, other.place) or one.agent != other.agent:
        return False
    if one.item is None or other.item is None:
        return one.item == other.item
    return heads_agree(one.item, other.item)


_OTHERS = word_set("other second third next another")
_TRIES = word_set("again probe time try tries reading go round rack check test take attempt run cycle load")
_PLACED = word_set("up out in at by behind near next beside down")
_SIDES = word_set("back front left right top bottom upper lower")
_VESSELS = word_set("pan pans well wells tray trays tub tubs shelf drawer container insert bin rack one")
_AGAIN = word_set(
    """now again after then later recheck rechecked retest retested reheated reheat back turned adjusted
    remade changed refilled fixed until till came comes up down moved added calibrated recalibrated stirred
    mixed cranked reset replaced new fresh dumped iced ran run flipped waited minutes minute once redo redid
    made put retook"""
)


def _at_once(draft: Draft, other: Draft) -> bool:
    """Whether two readings of one utterance were taken without anything done or any time between: of two
    spots or pans. `Soup 120, other well 150`, and not `soup 120, reheated, 168`."""
    if other.line is not draft.line:
        return False
    _, end = draft.line.sentence_span(other.first)
    return not any(token.low in _AGAIN for token in draft.line.tokens[draft.last : end])


def _of_another(draft: Draft) -> bool:
    """Whether a reading is of another sink or unit: `the one up front gives me 104`, `the other one's 98`."""
    first, _ = draft.line.sentence_span(draft.first)
    lows = [token.low for token in draft.line.tokens[first : draft.first]]
    if not _OTHERS.isdisjoint(lows) and _TRIES.isdisjoint(lows):
        return True
    if any(one in _SIDES and two in _VESSELS for one, two in pairwise(lows)):
        return True
    return any(
        low in ("one", "ones")
        and n > 0
        and (
            lows[n - 1] in _OTHERS
            or (lows[n - 1] == "the" and lows[n + 1 : n + 2] and lows[n + 1] in _PLACED)
        )
        for n, low in enumerate(lows)
    )


_ORDINALS = {"first": "one", "second": "two", "third": "three", "fourth": "four", "fifth": "five"}


def _by_its_number(draft: Draft, other: Draft) -> bool:
    """`Kettle three, beans 127`, and later `the beans in the third kettle`."""
    first, end = draft.line.sentence_span(draft.first)
    before = {token.low for token in draft.line.tokens[first:end]} | set((draft.place or "").lower().split())
    start, stop = other.line.sentence_span(other.first)
    told = {token.low for token in other.line.tokens[start:stop]} & _ORDINALS.keys()
    return bool(told) and all(_ORDINALS[low] in before or low in before for low in told)


_NUMBERED = word_set(
    """number machine dishwasher washer sink bucket pan well unit kettle tank line station drawer oven case
    cooler freezer warmer cart truck rack bay tub box bar"""
)
_DIGIT = re.compile(r"[1-9]")


def _numbers(draft: Draft) -> set[int]:
    """The numbers of things named before a reading in its sentence: `number two`, `machine 2`."""
    first, _ = draft.line.sentence_span(draft.first)
    named = {two.low for one, two in pairwise(draft.line.tokens[first : draft.first]) if one.low in _NUMBERED}
    return {SMALL[low] for low in named & SMALL.keys()} | {int(low) for low in named if _DIGIT.fullmatch(low)}


def _numbered_otherwise(draft: Draft, other: Draft) -> bool:
    """`The rinse on number two is 201. Number one is 188`."""
    own, its = _numbers(draft), _numbers(other)
    return bool(own) and bool(its) and own.isdisjoint(its)


def _of_the_same(draft: Draft) -> bool:
    """`New mix off the dispenser, same bucket, 300`."""
    first, _ = draft.line.sentence_span(draft.first)
    return any(token.low == "same" for token in draft.line.tokens[first : draft.first])


def _moved_on(draft: Draft, other: Draft) -> bool:
    """Food that was reheated goes elsewhere then: `collards on the back burner 139`, and at the steam table
    172."""
    return draft.stage == "reheating" and draft.item is not None and other.item is not None


def _of_then(draft: Draft) -> bool:
    """`it was 170 when they put it in`: what was so before."""
    tokens = draft.line.tokens
    before = tokens[draft.first - 1].low if draft.first else ""
    return before in ("was", "were") and any(
        token.low == "when" for token in tokens[draft.last : draft.last + 3]
    )


def _later(draft: Draft, drafts: Sequence[Draft]) -> Draft | None:
    """The later reading that shows that what a reading broke was put right. Food that missed a stage of
    cooling stays so; another pan or machine of the kind proves nothing about the first one."""
    if draft.stage == "cooling":
        return None
    for at in range(bisect_right(drafts, draft.order, key=lambda other: other.order), len(drafts)):
        other = drafts[at]
        if other.line.index > draft.line.index + _AHEAD:
            return None
        if other.kind != draft.kind or other.verdict not in ("meets", "borderline"):
            continue
        stages = {draft.stage, other.stage}
        if (
            other.stage != draft.stage
            and not stages <= {"cooking", "reheating", "hot_holding"}
            and not (
                draft.stage == "receiving" and draft.value > 90 and other.stage in ("reheating", "cooking")
            )
        ):
            continue
        if other.line is draft.line and draft.figure.range_with is not None:
            continue  # the other end of its range
        if (
            _at_once(draft, other)
            or _numbered_otherwise(draft, other)
            or _of_then(other)
            or (_of_another(other) and not _by_its_number(draft, other))
            or (
                other.stage == draft.stage
                and elsewhere(draft.place, other.place)
                and not (_of_the_same(other) or _moved_on(draft, other))
            )
        ):
            continue
        if draft.item is not None and other.item is not None:
            if not heads_agree(draft.item, other.item):
                continue
        elif (
            draft.item != other.item
            and not (draft.stage in ("sanitizer", "thermometer_check") or draft.stage.startswith("m"))
        ) or (
            draft.item is None
            and draft.stage == "lighting"
            and draft.place != other.place
            and not (draft.place and other.place and heads_agree(draft.place, other.place))
        ):
            continue
        if draft.stage in ("hot_holding", "cold_holding") and other.line.index == draft.line.index and (
            draft.item is None or (draft.item == other.item and not other.carried)
        ):  # fmt: skip
            continue
        return other
    return None

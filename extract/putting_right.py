"""Which proposed violations were corrected during the visit."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence

from extract.cases import Case
from extract.corrections import Correction, corrections
from extract.scene import Draft, Read
from extract.staging import heads_agree
from extract.text import word_set

_REACH = 4
"""Utterances back that a correction may speak of."""

_AHEAD = 30
"""Utterances ahead in which a second reading still shows that the first was put right."""

_EMPTY = word_set("""it that them the a an and he she they i so now then out of off on in up down to back
is was 's had have
  all both those these this some new one two not no with for right away there here 're 've whol put got get
  went go take
  took thing stuff him her me at by from into over guy cook chef manag own clerk""")

_SURE = frozenset(
    ("washed hands", "strength", "supplied", "reheated", "discarded", "stated", "refused", "labelled")
)


def put_right(cases: Sequence[Case], reads: Sequence[Read], drafts: Sequence[Draft]) -> None:
    """Marks the cases that were corrected on site, in place."""
    lines = [case.line for case in cases]
    for read in reads:
        begin, end = bisect_left(lines, read.line.index - _REACH), bisect_right(lines, read.line.index)
        for correction in corrections(read.line) if begin < end else ():
            for case in _reached(cases[begin:end], correction):
                if not case.corrected:
                    case.corrected = True
                    case.correction = correction.text
                    case.spans.append((correction.line, correction.span))
    _measured_again(cases, drafts)


def _reached(cases: Sequence[Case], correction: Correction) -> list[Case]:
    near = [
        case
        for case in cases
        if case.position < (correction.line, correction.span[1])
        and correction.line - case.line <= _REACH
        and _can(case, correction)
        and not (case.line == correction.line and _inside(case, correction))
    ]
    if not near:
        return []
    told = correction.words - _EMPTY
    named = [(len(case.words & told), case) for case in near if case.words & told]
    if not named and not correction.sure:
        return []
    if named:
        most = max(count for count, _ in named)
        best = [case for count, case in named if count == most]
        latest = max(case.line for case in best)
        return [case for case in best if case.line == latest or correction.widely]
    last = max(case.position for case in near)
    recent = [case for case in near if case.line == last[0]]
    if correction.line - last[0] > 2:
        return []
    if correction.widely:
        return recent
    if (
        correction.pronoun
        or not _other_things(correction)
        or (correction.action.name in _SURE and correction.line - last[0] <= 1)
    ):
        return [max(recent, key=lambda case: case.position)]
    return []


def _can(case: Case, correction: Correction) -> bool:
    action = correction.action
    if action.name == "chilled" and case.section.startswith("3-202.11"):
        return False  # taken in all the same: nothing was put right
    if not action.reaches:
        return True
    if case.drafts and any(draft.food for draft in case.drafts):
        return action.food and (case.form_item in action.reaches)
    return case.form_item in action.reaches


def _inside(case: Case, correction: Correction) -> bool:
    """The words of the violation themselves sound like an action (`dumped in the hand sink`)."""
    begin, end = correction.span
    return not case.drafts and case.span[0] >= begin and case.span[1] <= end and not correction.pronoun


def _other_things(correction: Correction) -> bool:
    return len(correction.words - _EMPTY) > 2


def _measured_again(cases: Sequence[Case], drafts: Sequence[Draft]) -> None:
    """A later reading of the same thing that meets its limit shows that it was put right."""
    for case in cases:
        if case.corrected or not case.drafts:
            continue
        settled = [_later(draft, drafts) for draft in case.drafts]
        if all(later is not None for later in settled):
            later = settled[-1]
            assert later is not None
            case.corrected = True
            figure = later.figure
            line = later.line
            first, end = line.sentence_span(figure.first)
            case.correction = line.words(first, end)
            case.spans.append((line.index, (line.tokens[first].start, line.tokens[end - 1].end)))


def _later(draft: Draft, drafts: Sequence[Draft]) -> Draft | None:
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
        if draft.item is not None and other.item is not None:
            if not heads_agree(draft.item, other.item):
                continue
        elif (
            draft.item != other.item and not (draft.stage == "sanitizer" or draft.stage.startswith("m"))
        ) or (
            draft.item is None and (draft.place or "") != (other.place or "") and draft.stage == "lighting"
        ):
            continue
        if draft.stage in (
            "sanitizer",
            "manual_wash",
            "manual_sanitize",
            "machine_rinse",
            "machine_wash",
            "handwashing",
        ):
            if draft.place and other.place and not heads_agree(draft.place, other.place):
                continue
        elif draft.stage in ("hot_holding", "cold_holding") and other.line.index == draft.line.index and (
            draft.item is None or (draft.item == other.item and not other.carried)
        ):  # fmt: skip
            continue
        return other
    return None

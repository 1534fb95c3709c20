"""Which proposed violations were corrected during the visit."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Container, Sequence
from itertools import pairwise

from extract.cases import Case
from extract.corrections import Correction, corrections, denied
from extract.line import Line
from extract.other_things import of_another_food
from extract.scene import Draft, Read
from extract.second_reader.asking import sentences_of
from extract.second_reader.pieces import AHEAD
from extract.second_reader.reader import put_right_of
from extract.staging import elsewhere, heads_agree
from extract.swapped import tells_swap
from extract.text import Span, word_set, words_of

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
    around = _Around(reads)
    for read in reads:
        begin, end = bisect_left(lines, read.line.index - _REACH), bisect_right(lines, read.line.index)
        settled: tuple[int, int] | None = None
        for correction in corrections(read.line) if begin < end else ():
            if correction.span == settled:
                continue  # another thing that the same words may mean
            reached = _reached(cases[begin:end], correction, around)
            settled = correction.span if reached else settled
            for case in reached:
                start = correction.line, correction.span[0]
                if of_another_food(case, read.line, correction.span, around.of(case, start)):
                    case.perhaps_corrected = True
                elif not case.corrected and _whole(case, correction):
                    case.corrected = True
                    case.correction = correction.text
                    case.spans.append((correction.line, correction.span))
    _measured_again(cases, drafts)
    _overrule(cases, reads, around)


def _foods(case: Case) -> frozenset[str]:
    return frozenset(draft.item.lower() for draft in case.drafts if draft.item and draft.food)


def _whole(case: Case, correction: Correction) -> bool:
    """Whether something was done about all foods of a violation by now: of `ham 49, slaw 50. The slaw got
    dumped.` the ham is left."""
    foods = _foods(case)
    named = {food for food in foods if words_of(food) & correction.words - _EMPTY}
    if len(foods) < 2 or not named or correction.widely:
        return True
    case.dealt_with |= named
    return case.dealt_with >= foods


_SURELY, _HARDLY = 0.9, 0.2
"""Shares of the second reader above and below which it overrules the rules; where it does, and between the
two, the person is asked. On 286 violations of dictations that the network had not seen the rules alone were
right in 242, both so in 264."""


def _overrule(cases: Sequence[Case], reads: Sequence[Read], around: _Around) -> None:
    """Lets the second reader decide, in place, where it is sure that a violation was put right, or was not.
    What was done about another violation, by its name, puts no second one right."""
    claimed = {at for case in cases if case.corrected for at in _sentences(case, reads)}
    for case in cases:
        if case.measured_again:
            continue  # figures show it
        share, was = _share(case, reads, AHEAD), case.corrected
        if share > _SURELY and not was and not case.dealt_with:
            deed = _deed(case, reads, claimed)
            if deed is not None and not case.section.startswith(_SPARED):
                line, span = deed
                told = reads[line].line
                behind = [
                    draft.line.tokens[draft.last - 1].end for draft in case.drafts if draft.line is told
                ]
                begin = max([span[0], *(end for end in behind if end < span[1])])
                other = of_another_food(case, told, (begin, span[1]), around.of(case, (line, begin)))
                if other or denied(told, span) or _unfit(case, told, span):
                    case.perhaps_corrected = True
                else:
                    case.corrected, case.correction = True, told.text[slice(*span)]
                    case.spans.append((line, span))
        elif share < _HARDLY and was:
            case.corrected, case.correction = False, None
        case.asks_whether_corrected = share <= _SURELY if was else share >= _HARDLY
        case.asks_whether_corrected |= case.perhaps_corrected and not case.corrected


_SPARED = ("3-501.15",)
"""A slow way of cooling stays as it was, whatever becomes of the food."""


def _sentences(case: Case, reads: Sequence[Read]) -> list[tuple[int, Span]]:
    """The sentences that told how a violation was put right and that name something of it."""
    return [
        (line, span)
        for line, (first, _) in case.spans
        for span in sentences_of(reads[line].line).values()
        if span[0] <= first < span[1]
        and (line, first) > case.position
        and any(
            token.stem in case.words and token.stem not in _EMPTY
            for token in reads[line].line.tokens
            if span[0] <= token.start < span[1]
        )
    ]


def _share(case: Case, reads: Sequence[Read], ahead: int) -> float:
    """The share that the second reader gives a violation of having been put right, by its own utterance and
    so many that follow."""
    told = [draft.span for draft in case.drafts if draft.line.index == case.line] or [case.span]
    first = max(0, case.line - 1)
    lines = [read.line.text for read in reads[first : case.line + 1 + ahead]]
    at = case.line - first
    before, after = tuple(lines[:at]), tuple(lines[at + 1 :])
    shares = [put_right_of(lines[at], span, before, after) for span in told]
    return sum(shares) / len(shares)


def _deed(case: Case, reads: Sequence[Read], claimed: Container[tuple[int, Span]]) -> tuple[int, Span] | None:
    """The sentence that tells that it was put right, as utterance and characters: the likeliest of the first
    utterance by whose end it is more likely so than not. None where that one tells it of other violations."""
    heard = (ahead for ahead in range(AHEAD + 1) if _share(case, reads, ahead) > _MORE_LIKELY)
    at = case.line + next(heard, 0)
    read = reads[at]
    found = [
        (told.told["put right"] if told is not None else 0.0, span)
        for span, told in zip(sentences_of(read.line).values(), read.told.sentences, strict=True)
        if (at, span) not in claimed and not (case.drafts and _swaps(read, span))
    ]
    if not found:
        return None
    share, span = max(found)
    if at == case.line and share <= _OF_DEEDS:
        return _in_its_clause(case, read.line)
    return at, span if share > _OF_DEEDS else (0, len(read.line.text))


def _in_its_clause(case: Case, line: Line) -> tuple[int, Span] | None:
    """A deed told behind a violation in one sentence: `beef over rice, moved to the bottom shelf`. The words
    of the violation itself prove nothing."""
    behind = [one for one in corrections(line) if one.span[0] > case.span[0] and _fits(case, one) >= 0]
    return (line.index, behind[0].span) if behind else None


def _swaps(read: Read, span: Span) -> bool:
    """`I had those swapped` puts the words right, and no violation."""
    at = tells_swap(read.line)
    return at is not None and span[0] <= read.line.tokens[at].start < span[1]


_MORE_LIKELY = 0.5
_OF_DEEDS = 0.02
"""Share of telling of something put right from which one sentence is quoted for it; else the utterance is."""


class _Around:
    """The stems of the sentences in which violations were told."""

    def __init__(self, reads: Sequence[Read]) -> None:
        self._reads = reads
        self._known: dict[tuple[int, int, int], frozenset[str]] = {}

    def of(self, case: Case, before: tuple[int, int]) -> frozenset[str]:
        """Of one case, up to a place: utterance and character."""
        line = self._reads[case.line].line
        stop = before[1] if before[0] == case.line else len(line.text)
        key = case.line, case.span[0], stop
        if key not in self._known:
            at = next((i for i, token in enumerate(line.tokens) if token.end > case.span[0]), 0)
            first, end = line.sentence_span(at) if line.tokens else (0, 0)
            self._known[key] = frozenset(
                token.stem for token in line.tokens[first:end] if token.kind == "word" and token.end <= stop
            )
        return self._known[key]


_NAMED, _NEAR, _FITS = 2.0, 1.5, 1.5
"""What it speaks for that a correction is of a violation: each word of the violation that it names (two
count), each word that its sentence holds, and that such an action can put it right."""
_FURTHER, _LATER = 0.7, 0.4
"""What it speaks against that, for each utterance between, and for each violation told since."""


def _reached(cases: Sequence[Case], correction: Correction, around: _Around) -> list[Case]:
    start = correction.line, correction.span[0]
    near = [
        case
        for case in cases
        if case.position < (start if not case.drafts else (correction.line, correction.span[1]))
        and correction.line - case.line <= _REACH
        and _can(case, correction)
    ]
    if not near:
        return []
    told = correction.words - _EMPTY
    rated: list[tuple[float, int, Case]] = []
    for case in near:
        fits = _fits(case, correction)
        own = told & case.words
        of_others = {
            word for other in near if other is not case for food in _foods(other) for word in words_of(food)
        }
        beside = (correction.things & around.of(case, start)) - own - _EMPTY - of_others
        named = len(own) + len(beside)
        since = len({other.position for other in near if other.position > case.position})
        apart = correction.line - case.line
        speaks = (
            _NAMED * min(len(own), 2)
            + _NEAR * min(len(beside), 2)
            + _FITS * fits
            - _FURTHER * apart
            - _LATER * since
        )
        if not named and (
            not correction.sure or apart > 2 or fits < 0 or not _unnamed(case, correction, apart)
        ):
            continue
        rated.append((speaks, named, case))
    if not rated:
        return []
    most, named, best = max(rated, key=lambda one: one[0])
    if correction.widely:
        return [case for _, count, case in rated if (count if named else case.line == best.line)]
    return [
        case
        for speaks, _, case in rated
        if case is best
        or (
            case.line == best.line and case.sentence == best.sentence and speaks > most - 2 * _LATER and named
        )
    ]


def _unfit(case: Case, line: Line, span: Span) -> bool:
    """Whether a device was set right, between two characters, and the violation is of food: `he recalibrated
    it`."""
    done = [one for one in corrections(line) if span[0] <= one.span[0] < span[1]]
    of_food = any(draft.food for draft in case.drafts)
    return of_food and bool(done) and all(one.action.name == "adjusted" for one in done)


def _fits(case: Case, correction: Correction) -> float:
    reaches = correction.action.reaches
    return 0.0 if not reaches else 1.0 if case.form_item in reaches else -1.0


def _unnamed(case: Case, correction: Correction, apart: int) -> bool:
    """Whether a correction that names nothing of a violation may be of it."""
    if not correction.action.reaches and correction.action.name != "stated":
        if not correction.things - _EMPTY or (correction.instead and apart <= 1):
            return True
        return correction.plain and apart <= 1 and not any(draft.food for draft in case.drafts)
    return (
        correction.pronoun
        or len(correction.words - _EMPTY) <= 2
        or (correction.action.name in _SURE and apart <= 1)
    )


def _can(case: Case, correction: Correction) -> bool:
    action = correction.action
    if case.section.startswith(action.spares):
        return False
    if action.reaches and case.drafts and any(draft.food for draft in case.drafts):
        return action.food and case.form_item in action.reaches
    return True


def _measured_again(cases: Sequence[Case], drafts: Sequence[Draft]) -> None:
    """A later reading of the same thing that meets its limit shows that it was put right."""
    for case in cases:
        if case.corrected or not case.drafts:
            continue
        settled = [_later(draft, drafts) for draft in case.drafts]
        if all(later is not None for later in settled):
            later = settled[-1]
            assert later is not None
            case.corrected = case.measured_again = True
            figure = later.figure
            line = later.line
            first, end = line.sentence_span(figure.first)
            case.correction = line.words(first, end)
            case.spans.append((line.index, (line.tokens[first].start, line.tokens[end - 1].end)))


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
            or _of_then(other)
            or _of_another(other)
            or (other.stage == draft.stage and elsewhere(draft.place, other.place))
        ):
            continue
        if draft.item is not None and other.item is not None:
            if not heads_agree(draft.item, other.item):
                continue
        elif (
            draft.item != other.item
            and not (draft.stage in ("sanitizer", "thermometer_check") or draft.stage.startswith("m"))
        ) or (
            draft.item is None and (draft.place or "") != (other.place or "") and draft.stage == "lighting"
        ):
            continue
        if draft.stage in ("hot_holding", "cold_holding") and other.line.index == draft.line.index and (
            draft.item is None or (draft.item == other.item and not other.carried)
        ):  # fmt: skip
            continue
        return other
    return None

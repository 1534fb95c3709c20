"""Which of the violations told before a correction is of."""

from __future__ import annotations

from collections.abc import Sequence

from extract.cases import Case, named_by
from extract.put_right.corrections import Correction
from extract.scene import Read
from extract.words.line import Chunk, Line
from extract.words.numerals import FEW
from extract.words.text import word_set, words_of

_NEAR_BY = 4
"""Utterances back that a correction may speak of without naming the thing."""
FAR = 60
"""The same where it names the thing, or where `it` stands for one named before it in its utterance: who sums
up a visit tells at its end what became of all."""
EMPTY = word_set("""it that them the a an and he she they i so now then out of off on in up down to back
is was 's had have
  all both those these this some new one two not no with for right away there here 're 've whol put got get
  went go take
  took thing stuff him her me at by from into over guy cook chef manag own clerk care""")


_SURE = frozenset(
    ("washed hands", "strength", "supplied", "reheated", "discarded", "stated", "refused", "labelled")
)


class Around:
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


def reached(cases: Sequence[Case], correction: Correction, line: Line, around: Around) -> list[Case]:
    """The violations that a correction, told in `line`, is of."""
    start = correction.line, correction.span[0]
    meant = _meant(correction, line)
    near = [
        case
        for case in cases
        if case.position < (start if not case.drafts else (correction.line, correction.span[1]))
        and not _its_own_words(case, correction)
        and (correction.line - case.line <= _NEAR_BY or _named_from_afar(case, correction, meant))
        and _can(case, correction)
    ]
    if not near:
        return []
    rated: list[tuple[float, int, Case]] = []
    for case in near:
        fit = fits(case, correction)
        if fit < 0 or (correction.state and not _told_wanting(case, correction, meant)):
            continue
        own = meant & case.words
        of_others = {
            word for other in near if other is not case for food in foods_of(other) for word in words_of(food)
        }
        things = correction.things or (frozenset() if correction.pronoun else meant - correction.words)
        beside = (things & around.of(case, start)) - own - EMPTY - of_others
        named = len(own) + len(beside)
        since = len({other.position for other in near if other.position > case.position})
        apart = correction.line - case.line
        speaks = (
            _NAMED * min(len(own), 2)
            + _NEAR * min(len(beside), 2)
            + _FITS * fit
            - _FURTHER * min(apart, _NEAR_BY)
            - _LATER * since
        )
        if not named and _of_another(case, correction, line, around.of(case, start)):
            continue
        if not named and (not correction.sure or apart > 2 or not _unnamed(case, correction, apart)):
            continue
        rated.append((speaks, named, case))
    if not rated:
        return []
    if any(count for _, count, _ in rated) and not correction.widely:
        rated = [one for one in rated if one[1]]
    most, named, best = max(rated, key=lambda one: one[0])
    if correction.widely:
        several = how_many(correction)
        if several and not named:
            return near[-several:]
        return [case for _, count, case in rated if (count if named else case.line == best.line)]
    return [
        case
        for speaks, _, case in rated
        if case is best
        or (
            case.line == best.line and case.sentence == best.sentence and speaks > most - 2 * _LATER and named
        )
    ]


def _told_wanting(case: Case, correction: Correction, meant: frozenset[str]) -> bool:
    """Whether how a thing is said to be, `soap's filled`, is news of a violation told before."""
    return correction.line > case.line and bool(meant & case.words - EMPTY)


_STAND_FOR = word_set("it them they those these that")


def _its_own_words(case: Case, correction: Correction) -> bool:
    """The words that told a violation prove nothing: `soap's out`."""
    first, end = case.span
    here = not case.drafts and correction.line == case.line and correction.action.name == "sounds done"
    return (
        here
        and bool(correction.words & case.words - EMPTY)
        and correction.span[0] < end
        and first < correction.span[1]
    )


def _meant(correction: Correction, line: Line) -> frozenset[str]:
    """Stems of what the words of a correction name, or of what `it` in them stands for: things named before
    it in its utterance."""
    told = correction.words - EMPTY
    first, end = correction.span
    foods = any(c.known_food and first <= line.tokens[c.first].start < end for c in line.chunks)
    if not foods and not _STAND_FOR.isdisjoint(correction.words):
        before = [c for c in line.chunks if line.tokens[c.first].start < first and c.sort != "gone"]
        told |= _stems(line, _in_its_sentence(line, correction) or before)
    elif not any(first <= line.tokens[c.first].start < end for c in line.chunks):
        told |= _stems(line, _in_its_sentence(line, correction)[:1])
    return told


def _in_its_sentence(line: Line, correction: Correction) -> list[Chunk]:
    """What is named before it in its sentence: the slicer of `slicer's been taken apart, washed`."""
    number = line.sentence[correction.first]
    return [
        c
        for c in line.chunks
        if c.first < correction.first and line.sentence[c.first] == number and c.sort != "gone"
    ]


def _stems(line: Line, chunks: Sequence[Chunk]) -> frozenset[str]:
    return frozenset(line.tokens[n].stem for c in chunks for n in range(c.first, c.last)) - EMPTY


def plainly_ended(case: Case, correction: Correction, line: Line) -> bool:
    """Whether the food or the ware that a violation is of, by its name, was thrown away, what was delivered
    was refused, or what had no name on it was marked."""
    if not _can(case, correction):
        return False
    if correction.action.name == "refused" and case.section.startswith(_DELIVERED):
        return _not_taken(case, correction, line)
    of_food = case.section.startswith("3-") or any(draft.food for draft in case.drafts)
    action = correction.action.name
    thrown = action == "discarded" and (of_food or case.section.startswith(_OF_WARE))
    marked = action == "labelled" and not correction.state and case.section.startswith(_UNNAMED)
    if not (thrown or marked):
        return False
    names = named_by(case.item) if of_food and not case.section.startswith(_UNNAMED) else case.words
    return bool(names & _meant(correction, line) - EMPTY)


def _not_taken(case: Case, correction: Correction, line: Line) -> bool:
    """Whether what was refused is what the violation is of: `prawns he won't sign for`, `no thanks to that
    one`, and not `case one, refused` of other food."""
    foods = {
        token.stem
        for c in line.chunks
        if c.known_food and correction.first <= c.first and line.tokens[c.last - 1].end <= correction.span[1]
        for token in line.tokens[c.first : c.last]
    }
    if foods:
        return bool(foods & named_by(case.item))
    first, end = line.sentence_span(correction.first)
    return {token.stem for token in line.tokens[first:end] if token.low in _BOXES} <= case.words


_BOXES = word_set("case cases sack sacks box boxes bag bags flat flats crate crates tray trays")
_DELIVERED = ("3-201", "3-202", "3-203")
"""Food as it is received."""
_UNNAMED = ("3-302.12", "7-102.11")
"""A working container without the name of what is in it."""
_OF_WARE = ("4-101", "4-202", "4-501.12", "4-502")
"""What a board, a pan or a utensil is made of, and how worn it is: it ends with the thing."""


def _of_another(case: Case, correction: Correction, line: Line, around: frozenset[str]) -> bool:
    """`the white chili was taken to the range, and then went back`: what is told in a sentence that begins
    with another food is of that food."""
    at = next((n for n, token in enumerate(line.tokens) if token.start >= correction.span[0]), 0)
    first, _ = line.sentence_span(at)
    foods = [c for c in line.chunks if first <= c.first < at and c.known_food and c.sort != "gone"]
    if not foods:
        return False
    named = {token.stem for c in foods for token in line.tokens[c.first : c.last]}
    return not named & (case.words | around)


def _named_from_afar(case: Case, correction: Correction, meant: frozenset[str]) -> bool:
    """Whether a correction told long after a violation names its thing, and can put it right."""
    if not correction.sure or fits(case, correction) < 0:
        return False
    names = named_by(case.item) if case.item else case.words
    return bool(names & meant)


_NUMBERS = FEW | {"both": 2}


def how_many(correction: Correction) -> int:
    """The number of `all three taken care of`, `both corrected`; 0 where none is told, or a thing is."""
    if correction.action.name != "stated" or correction.things - EMPTY:
        return 0
    return max((_NUMBERS.get(word, 0) for word in correction.words), default=0)


def fits(case: Case, correction: Correction) -> float:
    reaches = correction.action.reaches
    return 0.0 if not reaches else 1.0 if case.form_item in reaches else -1.0


def _unnamed(case: Case, correction: Correction, apart: int) -> bool:
    """Whether a correction that names nothing of a violation may be of it."""
    if not correction.action.reaches and correction.action.name != "stated":
        if not correction.things - EMPTY or (correction.instead and apart <= 1):
            return True
        return correction.plain and apart <= 1 and not any(draft.food for draft in case.drafts)
    return (
        correction.pronoun
        or len(correction.words - EMPTY) <= 2
        or (correction.action.name in _SURE and apart <= 1)
    )


def _can(case: Case, correction: Correction) -> bool:
    action = correction.action
    if case.section.startswith(action.spares):
        return False
    if action.reaches and case.drafts and any(draft.food for draft in case.drafts):
        return action.food and case.form_item in action.reaches
    return True


def foods_of(case: Case) -> frozenset[str]:
    return frozenset(draft.item.lower() for draft in case.drafts if draft.item and draft.food)

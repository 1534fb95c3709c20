"""Which proposed violations were corrected during the visit."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence

from extract.cases import Case, named_by
from extract.put_right.corrections import Correction, corrections
from extract.put_right.measured_later import measure_again, undo_by_later_readings
from extract.put_right.other_things import of_another_food
from extract.put_right.overruling import left_as_it_was, overrule
from extract.put_right.reaching import EMPTY, FAR, Around, foods_of, how_many, plainly_ended, reached
from extract.scene import Draft, Read
from extract.words.line import Line


def put_right(cases: Sequence[Case], reads: Sequence[Read], drafts: Sequence[Draft]) -> None:
    """Marks the cases that were corrected on site, in place."""
    lines = [case.line for case in cases]
    around = Around(reads)
    for read in reads:
        begin, end = bisect_left(lines, read.line.index - FAR), bisect_right(lines, read.line.index)
        settled: tuple[int, int] | None = None
        for correction in corrections(read.line) if begin < end else ():
            if correction.span == settled:
                continue  # another thing that the same words may mean
            meant = reached(cases[begin:end], correction, read.line, around)
            settled = correction.span if meant else settled
            for case in meant:
                start = correction.line, correction.span[0]
                if of_another_food(case, read.line, correction.span, around.of(case, start)):
                    case.perhaps_corrected = True
                elif _whole(case, correction):
                    _mark(case, correction, read.line)
    measure_again(cases, drafts)
    overrule(cases, reads, around)
    left_as_it_was(cases, reads)
    undo_by_later_readings(cases, drafts)


def _mark(case: Case, correction: Correction, line: Line) -> None:
    """Marks a case as corrected. Known words are quoted before those that only sound like it."""
    sounds = correction.action.name == "sounds done"
    case.deed = correction.line, correction.span
    if case.corrected and (sounds or not case.only_sounds_corrected):
        return
    case.corrected, case.correction, case.only_sounds_corrected = True, correction.text, sounds
    chilled = correction.action.name == "chilled" and not sounds
    case.plainly_corrected = chilled or bool(how_many(correction)) or plainly_ended(case, correction, line)
    case.spans.append((correction.line, correction.span))


def _whole(case: Case, correction: Correction) -> bool:
    """Whether something was done about all foods of a violation by now: of `ham 49, slaw 50. The slaw got
    dumped.` the ham is left."""
    foods = foods_of(case)
    named = {food for food in foods if named_by(food) & correction.words - EMPTY}
    if len(foods) < 2 or not named or correction.widely:
        return True
    case.dealt_with |= named
    return case.dealt_with >= foods

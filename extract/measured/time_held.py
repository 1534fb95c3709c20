"""Food under time control whose hours are over, by the time written on it: `out at 9`, `discard 3.15`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from extract.figures.figure import Figure
from extract.figures.times_of_day import hour_of
from extract.scene import Draft, Read
from extract.words.line import Line
from extract.words.text import word_set
from shared.rules.model import Limit, Rules
from shared.types import Evidence, Question

_ROW = {False: "time_control_four_hours", True: "time_control_six_hours"}
"""The limits of the two plans, by whether it is the longer one."""
_OUT = word_set("out since made mixed pulled hung started start")
_GONE = word_set("discard discarded gone toss tossed by till until through expires dump dumped pull off")
_REACH = 3
_MOST = 9.0
"""Hours for which food stands out at most; more tells of a time to come. Common practice, no source."""


def leave_time_out(read: Read) -> None:
    """Takes the time at which food went out from its reading, in place: it was not read then."""
    for draft in read.drafts:
        if _on_time(draft) and draft.clock is not None:
            out = [one.clock for one in read.figures if _told(draft.line, one, _OUT, _GONE)]
            draft.clock = None if draft.clock in out else draft.clock


def past_its_time(
    draft: Draft, read: Read, rules: Rules, *, reading: str, six_hours: bool
) -> Question | None:
    """Asks about food that is past its hours (3-501.19) when the utterance is said, by the time told for it;
    None where it is not, where hours were said, and where no time of the utterance is known. `reading`: its
    id."""
    row, now = rules.limits.get(_ROW[six_hours]), read.now
    if not _on_time(draft) or now is None or row is None or "hour" not in row.values:
        return None
    if any(figure.kind == "duration" and figure.value != row.values["hour"] for figure in read.figures):
        return None  # judged by itself; `the six hour plan` names one
    told = (figure for figure in read.figures if _of(draft, read, figure))
    late = next(filter(None, (_late(draft.line, figure, now, row) for figure in told)), None)
    name = draft.item or draft.place or "the food"
    return _question(name, late, row, Evidence(reading=reading)) if late else None


def out_too_long(reads: Sequence[Read], rules: Rules) -> Iterator[Question]:
    """About food that no temperature was taken of, whose times alone tell it: `pizza slices out since 9:30,
    discard 1:30, it's 2:15 now`."""
    row = rules.limits.get(_ROW[False])
    for n, read in enumerate(reads):
        line = read.line
        food = next((chunk for chunk in line.chunks if chunk.known_food), None)
        now = read.now
        if row is None or food is None or now is None or any(one.kind == "duration" for one in read.figures):
            continue
        on_time = any(cue.stage == "time_control" for _, _, cue in line.cues)
        on_time = on_time or any(_told(line, one, _GONE, _OUT) for one in read.figures)
        if not on_time or any(draft.kind == "temperature" for draft in read.drafts):
            continue
        for figure in read.figures:
            if late := _late(line, figure, now, row):
                ends = line.span(food.first, food.last), line.span(figure.first, figure.last)
                evidence = Evidence(utterance=n, span=(min(ends)[0], max(ends)[1]))
                yield _question(line.words(food.first, food.last), late, row, evidence)
                break


def _question(name: str, late: str, row: Limit, evidence: Evidence) -> Question:
    return Question(f"{name} {late}. Is it past its time?", (evidence,), (row.section,))


def _late(line: Line, figure: Figure, now: float, row: Limit) -> str | None:
    """What a time tells of food that is past its hours."""
    if figure.role != "clock" or figure.clock is None:
        return None
    passed, most = (now - hour_of(figure.clock)) % 12, row.values["hour"]
    if _told(line, figure, _GONE, _OUT) and 0 < passed <= most:
        return f"was to be gone {round(passed * 60):d} minutes before this was said"
    if _told(line, figure, _OUT, _GONE) and most < passed <= _MOST:
        return (
            f"was out at {figure.clock}, {passed:.3g} hours before this was said; time alone gives {most:g}"
        )
    return None


def _on_time(draft: Draft) -> bool:
    return draft.stage == "time_control" and draft.kind == "temperature"


def _of(draft: Draft, read: Read, figure: Figure) -> bool:
    """Whether a time is told for a reading: in its sentence, or with no other food in the utterance."""
    if figure.role != "clock" or figure.clock is None:
        return False
    alone = all(other.item == draft.item for other in read.drafts)
    return alone or draft.line.sentence[figure.first] == draft.line.sentence[draft.first]


def _told(line: Line, figure: Figure, words: frozenset[str], others: frozenset[str]) -> bool:
    """Whether the nearest word in front of a time, of two sorts, is of the first."""
    if figure.role != "clock" or figure.clock is None:
        return False
    for n in range(figure.first - 1, max(-1, figure.first - 1 - _REACH), -1):
        low = line.tokens[n].low
        if low in words or low in others:
            return low in words
    return False

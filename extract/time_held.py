"""Food under time control whose hours are over, by the time written on it: `out at 9`, `discard 3.15`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from extract.figure import Figure
from extract.line import Line
from extract.scene import Draft, Read
from extract.text import Span, word_set
from extract.times_of_day import hour_of
from shared.rules.model import Limit, Rules

_OUT = word_set("out since made mixed pulled hung started start")
_GONE = word_set("discard discarded gone toss tossed by till until through expires dump dumped pull off")
_REACH = 3
_MOST = 9.0
"""Hours for which food stands out at most; more tells of a time to come. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class PastItsTime:
    """What the times tell, and the section that limits them."""

    says: str
    section: str


def leave_time_out(read: Read) -> None:
    """Takes the time at which food went out from its reading, in place: it was not read then."""
    for draft in read.drafts:
        if _on_time(draft) and draft.clock is not None:
            out = [one.clock for one in read.figures if _told(draft.line, one, _OUT, _GONE)]
            draft.clock = None if draft.clock in out else draft.clock


def past_its_time(draft: Draft, read: Read, rules: Rules, *, six_hours: bool) -> PastItsTime | None:
    """That food is past its hours (3-501.19) when the utterance is said, by the time told for it; None where
    it is not, where hours were said, and where no time of the utterance is known."""
    row = rules.limits.get("time_control_six_hours" if six_hours else "time_control_four_hours")
    now = _now(read)
    if not _on_time(draft) or now is None or row is None or "hour" not in row.values:
        return None
    if any(figure.kind == "duration" and figure.value != row.values["hour"] for figure in read.figures):
        return None  # judged by itself; `the six hour plan` names one
    for figure in read.figures:
        if _of(draft, read, figure) and (found := _late(draft.line, figure, now, row)) is not None:
            return found
    return None


@dataclass(frozen=True, slots=True)
class OutTooLong:
    """Food out past its time that no temperature was taken of."""

    utterance: int
    span: Span
    says: str
    section: str


def out_too_long(reads: Sequence[Read], rules: Rules) -> Iterator[OutTooLong]:
    """Food whose times alone tell it: `pizza slices out since 9:30, discard 1:30, it's 2:15 now`."""
    row = rules.limits.get("time_control_four_hours")
    for n, read in enumerate(reads):
        line = read.line
        food = next((chunk for chunk in line.chunks if chunk.known_food), None)
        now = _now(read)
        if row is None or food is None or now is None or any(one.kind == "duration" for one in read.figures):
            continue
        on_time = any(cue.stage == "time_control" for _, _, cue in line.cues)
        on_time = on_time or any(_told(line, one, _GONE, _OUT) for one in read.figures)
        if not on_time or any(draft.kind == "temperature" for draft in read.drafts):
            continue
        for figure in read.figures:
            late = _late(line, figure, now, row) if figure.role == "clock" and figure.clock else None
            if late is not None:
                name = line.words(food.first, food.last)
                span = line.tokens[food.first].start, line.tokens[figure.last - 1].end
                says = f"{name} {late.says}. Is it past its time?"
                yield OutTooLong(n, (min(span), max(span)), says, late.section)
                break


def _now(read: Read) -> float | None:
    """The time told as that of now, `it's 2:15`, else that of the utterance, as hours from midnight."""
    tokens = read.line.tokens
    for figure in reversed(read.figures):
        if figure.role != "clock" or figure.clock is None:
            continue
        after = tokens[figure.last].low if figure.last < len(tokens) else ""
        before = [token.low for token in tokens[max(0, figure.first - 2) : figure.first]]
        if after == "now" or before[-1:] == ["now"] or before in (["it", "'s"], ["it", "is"]):
            return hour_of(figure.clock)
    return read.hour


def _late(line: Line, figure: Figure, now: float, row: Limit) -> PastItsTime | None:
    assert figure.clock is not None
    passed, most = (now - hour_of(figure.clock)) % 12, row.values["hour"]
    if _told(line, figure, _GONE, _OUT) and 0 < passed <= most:
        late = f"{round(passed * 60):d} minutes"
        return PastItsTime(f"was to be gone {late} before this was said", row.section)
    if _told(line, figure, _OUT, _GONE) and most < passed <= _MOST:
        says = (
            f"was out at {figure.clock}, {passed:.3g} hours before this was said; time alone gives {most:g}"
        )
        return PastItsTime(says, row.section)
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

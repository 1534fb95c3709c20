"""Walks with their units left unsaid, so that the second reader learns what kind of thing a bare figure tells
of: `strip's at fifty` is a concentration, `nineteen on the gauge` a pressure."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence

from extract.figures.figure import Figure
from extract.figures.quantities import MOST_PSI, figures
from extract.measured.kinds import HOTTEST_DEGC
from extract.second_reader.labels import CELSIUS, KINDS
from extract.second_reader.marked import MEASURED, Mark, Said, in_other_words
from extract.words.lexicon import lexicon
from extract.words.line import Line, prepare
from extract.words.numerals import Number
from extract.words.text import Span, touch

_LEFT_UNSAID = 0.7
"""Share of the units that are left out of a bare walk."""
_BY_STAGE = {"storage": "length", "lighting": "illuminance", "other": None, "time_control": None}
"""What a bare figure tells of by its stage; of stages that are not named here, a temperature."""
_ALSO_DEGREES = (60.0, 140.0)
"""Bare figures of sanitizers that may be of its water's temperature, and those up to `_SOUREST` of its pH."""
_SOUREST = 14.0


def with_kinds(walk: Sequence[Said]) -> list[Said]:
    """The walk, each mark with the kind that its unit tells, or its stage where nobody said one."""
    found = [_figures(said) for said in walk]
    celsius = any(figure.unit == "degC" for _, inside in found for figure in inside)
    return [
        said._replace(
            marks=tuple(
                mark._replace(kind=_kind(mark, _at(mark, line, inside), celsius=celsius))
                for mark in said.marks
            )
        )
        for said, (line, inside) in zip(walk, found, strict=True)
    ]


def bare(walk: Sequence[Said], chance: random.Random) -> list[Said]:
    """The walk without most of its units; marks keep their kinds, and keep to their words."""
    return [_bare(said, chance) for said in walk]


def _figures(said: Said) -> tuple[Line, list[Figure]]:
    line = prepare(said.text, 0, lexicon())
    return line, figures(line, lexicon(), hour=None, acid=False)


def _at(mark: Mark, line: Line, inside: Sequence[Figure]) -> Figure | None:
    return next((each for each in inside if touch(mark.span, line.span(each.first, each.last))), None)


def _kind(mark: Mark, figure: Figure | None, *, celsius: bool) -> str | None:
    """None where it cannot be told; `celsius`: some figure of the walk was said in °C."""
    if figure is None:
        return None
    if figure.unit == "degC":
        return CELSIUS
    degrees = figure.unit in ("deg", "degF")
    if not degrees and (figure.unit, figure.kind) != (None, None):
        return figure.kind if figure.kind in KINDS else None
    if celsius and figure.unit != "degF" and figure.value <= HOTTEST_DEGC:
        return None
    if degrees:
        return "temperature"
    return _by_stage(mark, figure.value) if mark.meant == MEASURED else None


def _by_stage(mark: Mark, value: float) -> str | None:
    stage = mark.stage or "other"
    if stage == "sanitizer":
        if mark.item and "water" in mark.item.lower():
            return "temperature"
        low, high = _ALSO_DEGREES
        return None if low <= value <= high or 0 < value <= _SOUREST else "concentration"
    if stage == "machine_rinse" and value <= MOST_PSI:
        return "pressure"
    return _BY_STAGE.get(stage, "temperature")


def _bare(said: Said, chance: random.Random) -> Said:
    line, inside = _figures(said)
    gone = [
        span
        for figure in inside
        if (span := _unit(line, figure)) is not None and chance.random() < _LEFT_UNSAID
    ]
    return without(said, gone) if gone else said


def _unit(line: Line, figure: Figure) -> Span | None:
    """Where the words of its unit stand; None where it has none that can be left out."""
    number, tokens = figure.number, line.tokens
    if figure.kind not in KINDS or figure.kind == "duration" or figure.codes:
        return None  # nobody leaves `hours` out
    if number.needs_unit or number.halved or not _stands_alone(line, number):
        return None
    if figure.first < number.first:
        return tokens[figure.first].start, tokens[number.first].start
    behind = tokens[number.last : figure.last]
    if not behind or any(token.kind == "number" for token in behind):
        return None
    return tokens[number.last - 1].end, behind[-1].end


def _stands_alone(line: Line, number: Number) -> bool:
    """Whether it is a number without its unit, as the `an` of `an inch` is not."""
    return any(token.kind == "number" for token in line.tokens[number.first : number.last])


def without(said: Said, gone: Sequence[Span]) -> Said:
    """What was said without some of its words, by their places in order; marks keep to the rest of theirs."""
    text, done = "", 0
    for start, end in gone:
        text += said.text[done:start]
        done = end
    text += said.text[done:]
    return in_other_words(said, text, _moved(gone))


def _moved(gone: Sequence[Span]) -> Callable[[Span], Span]:
    def shifted(at: int) -> int:
        return at - sum(max(0, min(at, end) - start) for start, end in gone)

    return lambda span: (shifted(span[0]), shifted(span[1]))

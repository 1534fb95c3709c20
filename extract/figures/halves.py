"""Which half of the day a time told is of, by the words around it."""

from __future__ import annotations

import re

from extract.figures.figure import Figure
from extract.words.line import Line

_MORNING = 11.0
_LUNCH = re.compile(
    r"\b(?:yesterday's|yesterday at|last) (?:lunch|noon|afternoon|dinner|supper)\b", re.IGNORECASE
)
"""Of times told in the morning: they are of the afternoon before."""


_NIGHT = re.compile(r"\b(?:last night|yesterday|overnight)\b", re.IGNORECASE)
_PAST_MIDNIGHT = re.compile(
    r"\d\s+(?:at|by)\s+(?:[a-z ]{1,20}(?:past|after|to|before) )?midnight\b", re.IGNORECASE
)
"""Behind a time of a log that was told in the morning: it is of the evening before."""
_EVENING, _MIDNIGHT = 4.0, 12.0
"""Hours of an evening, on a clock with twelve."""


def half_told(line: Line, figure: Figure, end: int | None, hour: float | None) -> str | None:
    """`am`, `pm`, or None where no words tell. `end`: where a part of the day ends that stands behind the
    figure; `hour`: when it was said."""
    said = "" if end is None else " ".join(token.low for token in line.tokens[figure.last : end])
    if said.startswith("a") or "morning" in said:
        return "am"
    if said.startswith("p") or "afternoon" in said or "evening" in said or "night" in said:
        return "pm"
    if end is not None or hour is None or hour >= _MORNING:
        return None
    told = _hours(figure)
    evening = _EVENING <= told < _MIDNIGHT
    if _PAST_MIDNIGHT.search(line.text, line.span(figure.first, figure.last)[1]):
        return "pm" if evening else None
    early = figure.number.clock is not None and figure.number.clock[0] in (12, 1, 2, 3, 4, 5)
    if early and _LUNCH.search(line.text):
        return "pm"  # `135 at 12.40`, of yesterday's lunch
    if evening and told > hour + 1 and _NIGHT.search(line.text):
        return "pm"  # `last night, 57 at 8.30`
    return None


def _hours(figure: Figure) -> float:
    clock = figure.number.clock
    return clock[0] + clock[1] / 60 if clock is not None else 0.0

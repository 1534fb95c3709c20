"""Which half of the day a time told is of, by the words around it."""

from __future__ import annotations

import re

from extract.figure import Figure
from extract.line import Line

_MORNING = 11.0
_LUNCH = re.compile(
    r"\b(?:yesterday's|yesterday at|last) (?:lunch|noon|afternoon|dinner|supper)\b", re.IGNORECASE
)
"""Of times told in the morning: they are of the afternoon before."""


_NIGHT = re.compile(r"\b(?:last night|yesterday|overnight)\b", re.IGNORECASE)
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
    early = figure.number.clock is not None and figure.number.clock[0] in (12, 1, 2, 3, 4, 5)
    if end is None and early and hour is not None and hour < _MORNING and _LUNCH.search(line.text):
        return "pm"  # `135 at 12.40`, of yesterday's lunch
    if end is None and hour is not None and hour < _MORNING and _NIGHT.search(line.text):
        told = (
            figure.number.clock[0] + figure.number.clock[1] / 60 if figure.number.clock is not None else 0.0
        )
        return "pm" if _EVENING <= told < _MIDNIGHT and told > hour + 1 else None  # `last night, 57 at 8.30`
    return None

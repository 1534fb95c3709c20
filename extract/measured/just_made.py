"""Cold food that was just made, perhaps of things that stood at room temperature: it has four hours to cool
(3-501.14(B)), and is not held cold yet."""

from __future__ import annotations

import re

from extract.figures.figure import Figure
from extract.of_what.staging import COLD, fahrenheit
from extract.scene import Draft
from extract.words.line import Line
from shared.foods import classify

_ROOM = 85.0
"""°F up to which things that stood in a room are: common practice, no source."""
_HOURS = 4.0
"""Hours that such food has; FDA Food Code 2022, 3-501.14(B)."""
_MADE = r"(?:made|mixed|prepped|prepared|assembled|cut|chopped|diced|sliced|dressed|tossed together)"
_MADE_BEFORE = re.compile(rf"\b{_MADE}\b(?:\W+\w+){{0,3}}\W*$", re.IGNORECASE)
_FROM_ROOM = re.compile(
    rf"\b{_MADE}\b[^.;]*\b(?:from|with|using|out of|of)\b[^.;]*\b(?:room[ -]temp\w*|ambient)\b", re.IGNORECASE
)
_KINDS = frozenset(("salad", "cut_produce", "sauce"))


def just_made(line: Line, draft: Draft, found: list[Figure]) -> bool:
    """Whether the words around a reading tell so: `coleslaw 55, they made it an hour ago`."""
    value = fahrenheit(draft.value, draft.unit)
    food = classify(draft.item or "")
    if not COLD < value <= _ROOM or draft.item is None:
        return False
    if food is not None and food.kind not in _KINDS and "dish" not in food.tags:
        return False  # `ham 50, sliced an hour ago`: it was cold before
    if any(cue.stage == "time_control" for _, _, cue in line.cues):
        return False
    first, end = _own(line, draft.figure, found)
    if _FROM_ROOM.search(line.words(first, end)):
        return True
    return any(_made_ago(line, figure, first) for figure in found if first <= figure.first < end)


def _own(line: Line, figure: Figure, found: list[Figure]) -> tuple[int, int]:
    """The tokens around a figure, up to the other readings of its utterance."""
    others = [one for one in found if one is not figure and one.role == "figure" and one.kind != "duration"]
    first = max((one.last for one in others if one.last <= figure.first), default=0)
    return first, min((one.first for one in others if one.first >= figure.last), default=len(line.tokens))


def _made_ago(line: Line, span: Figure, first: int) -> bool:
    """`made twenty minutes ago`, and not `made yesterday`."""
    if span.kind != "duration" or span.last >= len(line.tokens) or line.tokens[span.last].low != "ago":
        return False
    hours = {"hour": span.value, "minute": span.value / 60}.get(span.unit or "")
    before = line.words(first, span.first) if first < span.first else ""
    return hours is not None and hours <= _HOURS and _MADE_BEFORE.search(before) is not None

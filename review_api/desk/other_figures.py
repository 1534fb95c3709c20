"""Figures that a finding's text names and that none of its readings has."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from review_api.api.shown import Finding, Reading
from review_api.desk.readings import choices_of
from shared.units import convert, written

_NUMBER = r"(?<![\w.:/(-])(?P<value>[-−]?\d+(?:\.\d+)?)"
_WRITTEN = {
    "temperature": rf"{_NUMBER}\s*(?:(?:°|º|degrees?|deg\.?)\s*(?P<scale>F|C)?|(?P<bare>F|C)\b)(?:\w*)",
    "concentration": rf"{_NUMBER}\s*(?:ppm|parts per million)\b",
    "ph": r"\bpH\s*(?:of|was|is|at|=)?\s*(?P<value>\d+(?:\.\d+)?)",
    "pressure": rf"{_NUMBER}\s*psi\b",
    "illuminance": rf"{_NUMBER}\s*(?:foot[ -]?candles?|fc|lux)\b",
    "length": rf"{_NUMBER}\s*(?:inch(?:es)?|in\.)",
}
"""How a figure of a kind is written in a sentence."""
_TOLERANCE = re.compile(r"\bwithin [^,;()]{1,20}? of\b", re.IGNORECASE)
"""`within 2 °F of 32 °F`: by how much something may differ is no figure of a reading."""
_ROUNDED = 0.6
"""By how much a figure told on the other scale may differ, as it is rounded."""


def other_figures(finding: Finding, readings: Sequence[Reading]) -> tuple[str, ...]:
    """The figures of the finding's text that are neither of its readings' values nor of their limits.

    Only figures of a kind that was read are looked at; so are, without a unit, the values that a reading had
    before or might have had. What was answered to a question is left aside. Empty where all fits.
    """
    rests_on = [one for one in readings if one.id in finding.readings and one.decision.state != "rejected"]
    if not rests_on:
        return ()
    text = _TOLERANCE.sub("of", finding.what)
    for question in finding.questions:
        if question.stands and question.answer:
            text = text.replace(question.answer.strip().rstrip("."), "")
    return tuple(dict.fromkeys(_others(text, rests_on)))


def _others(text: str, readings: Sequence[Reading]) -> Iterator[str]:
    for kind in dict.fromkeys(reading.kind for reading in readings):
        own = [reading for reading in readings if reading.kind == kind]
        pattern = _WRITTEN.get(kind)
        for found in re.finditer(pattern, text, re.IGNORECASE) if pattern else ():
            value = float(found["value"].replace("−", "-"))
            parts = found.groupdict()
            scale = parts.get("scale") or parts.get("bare")
            unit = f"deg{scale.upper()}" if scale else None
            if not any(_is(value, unit, reading) for reading in own):
                yield found[0].strip()
    for reading in readings:
        before = reading.proposed.get("value")
        values = (*choices_of(reading), *((before,) if isinstance(before, int | float) else ()))
        for other in dict.fromkeys(values):
            if any(_is(other, None, one) for one in readings):
                continue
            bare = rf"(?<![\w.:/(-]){re.escape(f'{other:g}')}(?![\w:/-]|\.\d|\s*(?:°|º|deg|ppm|psi))"
            if re.search(bare, text):
                yield f"{other:g}"


def _is(value: float, unit: str | None, reading: Reading) -> bool:
    """Whether the figure is the reading's value, or the limit it was held against."""
    check = reading.check
    known = [(reading.value, reading.unit)]
    if check is not None and check.limit is not None and check.unit is not None:
        known.append((check.limit, check.unit))
    for own, own_unit in known:
        if unit is None or unit == own_unit or not own_unit.startswith("deg"):
            if abs(own - value) < 1e-6:
                return True
        elif abs(convert(own, own_unit, unit) - value) <= _ROUNDED:
            return True
    return False


def told(finding: Finding, readings: Sequence[Reading]) -> str | None:
    """The sentence about them for the inspector; None where all fits."""
    figures = other_figures(finding, readings)
    if not figures:
        return None
    values = "; ".join(
        f"{reading.item or reading.stage.replace('_', ' ')} {written(reading.value, reading.unit)}"
        for reading in readings
        if reading.id in finding.readings and reading.decision.state != "rejected"
    )
    return (
        f"the text of finding {finding.provision} names {', '.join(figures)}, but its reading is {values}; "
        "correct the text or the reading"
    )

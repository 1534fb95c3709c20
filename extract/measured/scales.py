"""Which scale a temperature is in, where it is said once for several: `their probe only talks Celsius`."""

from __future__ import annotations

import re
from collections.abc import Sequence

from extract.figures.figure import Figure
from extract.scene import Scene
from extract.words.line import Line

_CELSIUS = r"(?:degrees )?(?:celsius|centigrade)\b"
_IN_CELSIUS = re.compile(
    r"\b(?:in|to|on|using|all|everything(?:'s| is)?(?: in)?|readings? (?:are|is)(?: in)?) " + _CELSIUS
    + r"|\b(?:all|everything)(?: of (?:this|it|these))?(?: [a-z']+){0,3} (?:is|are)(?: in)? " + _CELSIUS
    + r"|\b" + _CELSIUS + r" on (?:the|its|their) (?:display|dial|gauge|screen|readout|thermometer|freezer)"
    + r"|\bcelsius (?:today|from here|readings?|probe|throughout|unless|only)\b|\bin metric\b"
    r"|\b(?:in|using) (?-i:C)\b(?!-)",
    re.IGNORECASE,
)  # fmt: skip
_HEADING = re.compile(
    r"(?:^|[.!?] )(?:[^.!?\d]{2,60}[,;:] )?(?:still |again |back in |this is )?(?:degrees )?"
    r"(?:celsius|centigrade)(?: kitchen| again| still| as ever| as usual| as always| as before)?[.!]",
    re.IGNORECASE,
)
"""The heading of a visit or a station, without a figure: `Flight kitchen, Celsius.`, `Celsius again.`"""
_DEVICE = re.compile(
    r"\b(?:probe|thermometer|thermocouple|gauges?|dials?|meter|display|instrument|one|it|they|house|place"
    r"|kitchen|crew)(?:'s|s)? (?:[a-z'-]+ ){0,4}?"
    r"(?:talks?|speaks?|reads?|shows?|gives?|does|do|works?|runs?|knows?|is|are|has|set|uses?)"
    r" (?:[a-z'-]+ ){0,4}?" + _CELSIUS,
    re.IGNORECASE,
)
"""A thermometer that shows °C, so that all its figures are."""
_THOSE = r"(?:all|both|those|these|they|that|everything|every one)"
_BACK = re.compile(
    rf"^\W*(?:and |so |by the way )?(?:{_THOSE}\b[^.!?\d]{{0,30}}\b{_CELSIUS}"
    rf"|{_CELSIUS},? {_THOSE}\b[^.!?\d]{{0,30}}(?:[.!?]|$))",
    re.IGNORECASE,
)
"""Said of the figures before: `all Celsius, those`."""
_LOGGED = re.compile(
    r"\b(?:log|logs|logged|wrote|write|writes|recorded|record)(?:'s)? (?:\w+ ){0,4}"
    r"in (?:c|celsius|centigrade)\b|\b(?:celsius|centigrade),? (?:on|in|by|per) (?:\w+ ){0,2}"
    r"(?:log|sheet|chart|record|board|printout|paper)s?\b",
    re.IGNORECASE,
)
"""Somebody else's figures are in °C: it holds while they are told, not for the whole inspection."""
_IN_FAHRENHEIT = re.compile(
    r"\b(?:in|to|back to|all) fahrenheit\b|\bfahrenheit (?:again|from here)\b", re.IGNORECASE
)
_SCALES = {"celsius": "degC", "centigrade": "degC", "fahrenheit": "degF"}
_SAID_BY = (*_SCALES, "metric", "in c", "using c")
_NEAR = 3
"""Words between a scale and the one figure that it is said for: common practice, no source."""


_FIGURE_IN_CELSIUS = re.compile(
    r"(-?\d+(?:\.\d+)?)\s*(?:°\s*|degrees?\s+|deg\s+)?(?:celsius|centigrade|C\b)(?!\w)", re.IGNORECASE
)
_SOME_FAHRENHEIT = re.compile(r"fahrenheit|\d\s*°?\s*F\b")


def look_ahead(texts: Sequence[str], scene: Scene) -> None:
    """Notes which scale the visit is said in, for figures that come before it is named."""
    values = [float(match[1]) for text in texts for match in _FIGURE_IN_CELSIUS.finditer(text)]
    scene.celsius = [(-9, value) for value in dict.fromkeys(values)]
    scene.celsius_twice = len(values) > 1
    scene.celsius_lines = _told_back(texts)
    scene.only_celsius = not any(_SOME_FAHRENHEIT.search(text) for text in texts)


def _told_back(texts: Sequence[str]) -> frozenset[int]:
    """The utterances whose figures a later one says to be in °C."""
    found = set()
    for n, text in enumerate(texts):
        if not _names_scale(text):
            continue
        for sentence in re.split(r"(?<=[.!?])\s+", text):
            if _BACK.search(sentence):
                found.add(n)
                if n and not any(character.isdigit() for character in text[: text.find(sentence)]):
                    found.add(n - 1)
    return frozenset(found)


def _names_scale(text: str) -> bool:
    """Whether there is any word by which a scale is said; mostly there is none."""
    low = text.casefold()
    return any(word in low for word in _SAID_BY)


def note_scale(line: Line, found: Sequence[Figure], scene: Scene) -> None:
    """Moves the scene on where the scale is said for all figures from here, and gives the scale to the
    figures of this utterance that it is said for."""
    if not _names_scale(line.text):
        return
    own = _said_for_one(line, found)
    free = _free(line, found, "degC")
    if _LOGGED.search(line.text):
        scene.celsius_until = line.index + 1
    elif not own and (_said_of_all(line.text) or (free and _DEVICE.search(line.text))):
        scene.all_celsius = True
    elif _IN_FAHRENHEIT.search(line.text):
        scene.all_celsius = scene.only_celsius = False
        scene.celsius_until = -9
        scene.celsius.clear()


def _said_of_all(text: str) -> bool:
    return bool(_IN_CELSIUS.search(text) or _HEADING.search(text))


def _free(line: Line, found: Sequence[Figure], unit: str) -> bool:
    """Whether a scale is named that is no figure's own unit."""
    return any(
        _SCALES.get(token.low) == unit and not any(figure.first <= n < figure.last for figure in found)
        for n, token in enumerate(line.tokens)
    )


def _said_for_one(line: Line, found: Sequence[Figure]) -> bool:
    """`my other probe is on Celsius, 61`: the scale stands beside one figure and is said of it alone."""
    some = False
    for n, token in enumerate(line.tokens):
        unit = _SCALES.get(token.low)
        if unit is None or any(figure.first <= n < figure.last for figure in found):
            continue
        first, end = line.sentence_span(n)
        here = [f for f in found if first <= f.first < end and f.role in ("figure", "limit", "label")]
        after = [f for f in here if f.first > n]
        before = [f for f in here if f.last <= n]
        if before and _right_behind(line, before[-1].last, n):
            chosen = [before[-1], *(f for f in after if f.unit is None and _alike(before[-1].value, f.value))]
        elif after and after[0].first - n - 1 <= _NEAR and not _all_said(line, first, n):
            chosen = after[:1]
        elif before and n + 1 >= end - 1:
            chosen = before  # `it asks for 66 in the wash, Celsius.`
            _go_on(line, found, end, unit, before[-1].value)
        else:
            continue
        some = True
        for figure in chosen:
            if figure.unit in (None, "deg"):
                figure.unit, figure.kind = unit, "temperature"
    return some


def _right_behind(line: Line, end: int, n: int) -> bool:
    """The Celsius of `minced pork has 8 degrees, Celsius, and the tofu 4`: right behind its figure."""
    return n - end == 1 and line.tokens[end].kind == "mark"


def _alike(one: float, two: float) -> bool:
    """Whether two figures can be as cold, or as hot, in °C."""
    low, high = sorted((one, two))
    return high <= _COLD or (low >= _HOT and high <= _HOTTEST)


def _all_said(line: Line, first: int, n: int) -> bool:
    return any(
        line.tokens[i].low in ("all", "everything", "only", "today", "always") for i in range(first, n)
    )


def _go_on(line: Line, found: Sequence[Figure], end: int, unit: str, value: float) -> None:
    """The next sentence of the utterance goes on in the scale that closed the one before, where its figure
    is as cold or as hot: `it asks for 66 in the wash, Celsius. The tank is 71.`"""
    figure = next((f for f in found if f.first >= end and f.role == "figure"), None)
    if figure is None or figure.unit not in (None, "deg") or unit != "degC" or figure.codes:
        return
    if line.sentence[figure.first] != line.sentence[end - 1] + 1:
        return
    if _alike(value, figure.value):
        figure.unit, figure.kind = unit, "temperature"


_COLD, _HOT, _HOTTEST = 12.0, 45.0, 100.0
"""Degrees Celsius that go together as cold or as hot: common practice, no source."""

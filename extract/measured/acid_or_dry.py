"""Figures of pH and water activity not said to be any: by their size, a meter, or what was told before."""

from __future__ import annotations

from itertools import pairwise

from extract.figures.figure import Figure
from extract.measured.walk import ACID_LIMITS
from extract.scene import Scene
from extract.words.line import Line
from extract.words.text import word_set

_SOUR = word_set("sour acid acidic tart paper papers dipped dip vinegar pickled")
LIGHT_WORDS = word_set(
    "light lights lighting candle candles lux bulb bulbs tube tubes lamp lamps foot bright dark"
)


PH_LINES = 2
"""Utterances that a pH once spoken of may reach over: common practice, no source."""
_FINER_LINES = 12
"""The same for a figure with hundredths: common practice, no source."""


def still_ph(line: Line, figure: Figure, scene: Scene, degrees: str, *, known_food: bool) -> bool:
    """`pH has to be 4.2 or under, mine reads 4.6`: a figure of that size with a fraction, soon after a pH."""
    since, token = scene.ph_from
    last, told = scene.last, figure.told
    goes_on = last is not None and last.kind == "ph" and last.line.index >= line.index - 1
    sour = told is not None and told.likeliest_kind == "ph" and 2 <= figure.value <= 7
    if goes_on and sour and figure.unit is None and not known_food:
        return True  # `Second tub 4 even`, behind the pH of the first
    if figure.unit is not None or not figure.number.decimals or not 2 <= figure.value <= 12:
        return False
    if known_food and degrees == "degC":
        return False
    finer = figure.number.decimals == 2 and scene.last is not None and scene.last.kind == "ph"
    if finer and line.index - _FINER_LINES <= since < line.index:
        return True  # `Reading at 2.20 is 4.08`: no thermometer of the trade tells hundredths
    return (since == line.index and token < figure.first) or line.index - PH_LINES <= since < line.index


def dry(line: Line, figure: Figure) -> bool:
    """`water activity 0.85 or lower. Batch one reads 0.83`: said before in the same utterance, or after in
    its sentence."""
    if not 0 < figure.value < 1 or figure.number.decimals != 2:
        return False
    told = figure.told
    if told is not None and told.likeliest_kind == "water_activity":
        return True  # `jerky, meter says point eight one`
    lows = [token.low for token in line.tokens[: line.sentence_span(figure.first)[1]]]
    return "aw" in lows or any(pair == ("water", "activity") for pair in pairwise(lows))


def still_dry(line: Line, figure: Figure, scene: Scene) -> bool:
    """`turkey sticks again, 0.9`, behind a water activity: no thermometer is read so."""
    last = scene.last
    dry = last is not None and last.kind == "water_activity" and last.line.index >= line.index - 1
    return dry and figure.unit is None and 0 < figure.value < 1 and figure.number.decimals > 0


def acid_meter(line: Line, figure: Figure, scene: Scene) -> bool:
    """`my meter's saying 4.4` where a pH, or the 4.2 that acid food must have, is spoken of."""
    return still_ph(line, figure, scene, "", known_food=False) or acid_food(line, figure, "")


def acid_food(line: Line, figure: Figure, degrees: str) -> bool:
    """`rice is 4.1 on the meter, has to be 4.2 or less`: a meter or the limit of acid food is named. In °C
    food is as cold as that limit: `yogurt 3.5, cheese 4.6`."""
    if figure.unit is not None or not figure.number.decimals or not 2 <= figure.value <= 7:
        return False
    first, end = line.sentence_span(figure.first)
    lows = [token.low for token in line.tokens[first:end]]
    around = {low for n, low in enumerate(lows, start=first) if not figure.first <= n < figure.last}
    sour = bool(around & _SOUR) or bool(around & {"strip", "strips"} and figure.value % 1 and not line.agents)
    told = {"meter"} if degrees == "degC" else ACID_LIMITS | {"meter"}
    return not around & LIGHT_WORDS and (bool(around & told) or sour)

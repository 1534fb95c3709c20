"""Kind and unit of a figure, said or not."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.figures.quantities import MOST_PH, MOST_PSI
from extract.measured.acid_or_dry import LIGHT_WORDS, acid_food, acid_meter, dry, still_dry, still_ph
from extract.measured.pressures import pressing
from extract.measured.refills import mixed_again, of_produce, tells_ph
from extract.measured.strengths import (
    SINKS,
    agent_alone_before,
    agent_in_front,
    agent_near,
    beside_its_water,
    bucket_before,
    called_a_temperature,
    its_in_there,
    like_ppm,
    of_its_water,
    of_that_bay,
    on_a_strip,
    same_strength,
    strength,
    tested,
    the_test_says,
)
from extract.of_what.subject import Subject
from extract.scene import Draft, Scene
from extract.second_reader.labels import CELSIUS
from extract.second_reader.reader import FigureTold
from extract.words.line import Chunk, Line
from extract.words.text import word_set

_OF_NO_TEMPERATURE = frozenset(("sanitizer", "lighting", "storage", "other"))
_BARE = {"concentration": ("sanitizer", 0.5), "illuminance": ("lighting", 0.8)}
"""The stage of a bare figure of a kind, and by how much one of temperatures must be likelier to the second
reader."""
_SURELY_OF = 0.9
"""Shares of a kind, and of having been measured, from which a bare figure is of that kind whatever the rules
take it for. In °C or °F is left to these."""
_LIT = 0.6
"""Its share of lighting from which a bare figure is one of light."""
_UNITS = {
    "concentration": "ppm", "illuminance": "foot_candle", "pressure": "psi", "ph": "pH", "length": "inch",
    "water_activity": "aw",
}  # fmt: skip
"""The unit of a bare figure of each kind but temperature; a bare span of time is none."""


def kind_of(
    line: Line, figure: Figure, about: Subject, parent: Draft | None, scene: Scene, degrees: str
) -> tuple[str | None, str, bool]:
    """Kind and unit of a figure, and whether the unit was said. None: no measurement after all."""
    kind, unit, said = _by_words(line, figure, about, parent, scene, degrees)
    other = _by_second_reader(line, figure, kind)
    if other is None or called_a_temperature(line, figure) or (unit == "ppm" and _sure(line, figure, scene)):
        return kind, unit, said
    if other == "illuminance":
        if not _of_light(line, scene):
            return kind, unit, said  # `parfaits 45. Disregard, meter was on hold. 35`
        return other, _light_unit(line, scene), False
    return other, _UNITS.get(other, "") or _degrees(line, figure, scene, degrees), False


def _sure(line: Line, figure: Figure, scene: Scene) -> bool:
    """Whether what was tested or mixed before tells that a bare figure is a strength."""
    last = scene.last
    begin = line.starts[max(0, line.sentence[figure.first] - 1)]
    washed = any(token.low in _WASHED for token in line.tokens[begin : figure.first])
    tested = last is not None and last.kind == "concentration" and not washed
    mixed = tested and mixed_again(line, figure, scene) is last
    return mixed or same_strength(line, figure, scene) or the_test_says(line, figure)


def _food_meter(line: Line, about: Subject) -> bool:
    """`Parfaits in the case 45. Disregard, meter was on hold. 35`: no light meter, where food is read."""
    chunk = about.chunk
    meter = chunk is not None and line.tokens[chunk.last - 1].low == "meter" and chunk.last - chunk.first == 1
    food = any(other.known_food for other in line.chunks)
    return meter and food and not any(token.low in LIGHT_WORDS for token in line.tokens)


_LIT_LINES = 6
"""Utterances over which a light once spoken of may be read on: common practice, no source."""


def _of_light(line: Line, scene: Scene) -> bool:
    """Whether light is spoken of, here or shortly before."""
    since, last = line.index - _LIT_LINES, scene.last
    read = last is not None and last.kind == "illuminance" and last.line.index >= since
    return read or scene.lighting_line >= since or any(token.low in LIGHT_WORDS for token in line.tokens)


def _light_unit(line: Line, scene: Scene) -> str:
    """Lux where the utterance or the last light reading is in lux, else foot candles."""
    last = scene.last
    if any(token.low in ("lux", "luxes") for token in line.tokens):
        return "lux"
    return last.unit if last is not None and last.kind == "illuminance" else "foot_candle"


def _lit_later(line: Line, figure: Figure) -> bool:
    """`It is 48 in the cutting room, and my light meter says 61`: only what comes after is of light."""
    lit = [n for n, token in enumerate(line.tokens) if token.low in LIGHT_WORDS]
    return bool(lit) and lit[0] >= figure.last and line.sentence[lit[0]] == line.sentence[figure.first]


def _by_second_reader(line: Line, figure: Figure, kind: str | None) -> str | None:
    """`Plate strip turned, 163`, `Lights. Freezer minus 8`: what a bare figure is by its stage."""
    told = figure.told
    if told is None or figure.unit is not None:
        return None
    if (other := _surely_of(told, kind)) is not None:
        return other
    if kind == "illuminance" and told.kinds["ph"] > _SURELY_OF:
        return "ph"  # `tank four 4.4, hold on, tank four is 3.4`
    likeliest = told.likeliest_stage
    share = told.stages[likeliest]
    sure = kind == "temperature" or (kind is None and told.meant["r"] > _SURELY_MEASURED)
    if sure and likeliest == "lighting" and share > _LIT and not _lit_later(line, figure):
        return "illuminance"
    if kind not in _BARE or likeliest in _OF_NO_TEMPERATURE:
        return None
    if kind == "concentration" and 0 <= figure.value < _COLDEST_WATER and not figure.number.decimals:
        return None
    if kind == "concentration" and agent_alone_before(line, figure):
        return None  # `peracetic in the knife dip is 40`
    stage, by_more = _BARE[kind]
    return "temperature" if share - told.stages[stage] > by_more else None


def _surely_of(told: FigureTold, kind: str | None) -> str | None:
    """`pallet's maybe four off it`: the kind that the second reader is sure of, where it is another."""
    likeliest = told.likeliest_kind
    if kind not in (None, "temperature"):
        return None  # words tell it
    if likeliest in (CELSIUS, "duration", kind) or min(told.kinds[likeliest], told.meant["r"]) < _SURELY_OF:
        return None
    return likeliest


def _by_words(
    line: Line, figure: Figure, about: Subject, parent: Draft | None, scene: Scene, degrees: str
) -> tuple[str | None, str, bool]:
    if figure.kind == "none":
        return None, "", False
    degrees = _degrees(line, figure, scene, degrees)
    if figure.unit == "deg":
        if _difference(line, figure, about, scene, degrees):
            return None, "", False
        return "temperature", degrees, False
    if (
        called_a_temperature(line, figure)
        or _of_the_solution(line, figure, scene)
        or its_in_there(line, figure, scene)
    ):
        return "temperature", degrees, False
    if (
        beside_its_water(line, figure, scene)
        or same_strength(line, figure, scene)
        or the_test_says(line, figure)
    ):
        return "concentration", "ppm", False
    if figure.kind is not None and figure.unit is not None:
        return figure.kind, figure.unit, True
    if of_that_bay(line, figure, scene):
        return "temperature", degrees, False
    thing = about.chunk.object if about.chunk is not None and not about.chunk.known_food else None
    if parent is not None and parent.kind == "concentration" and of_its_water(line, parent.figure, figure):
        return "temperature", degrees, False
    probed = parent is not None and (
        (about.instrument is not None and parent.kind != "temperature")
        or figure.value > _MOST_OF.get(parent.kind, figure.value)
    )
    if parent is not None and about.chunk is None and not probed:
        if parent.kind == "temperature" and parent.unit == "degC" and figure.value > HOTTEST_DEGC:
            return "temperature", degrees, False  # `62 Celsius. Back to the spit, 178 now.`
        if parent.unit == "degF" and not parent.unit_said:
            return "temperature", degrees, False  # `4 Celsius, egg salad 90, sorry, 9`
        return parent.kind, parent.unit, parent.unit_said
    what = thing.what if thing is not None else ""
    if what == "light" and _food_meter(line, about):
        what = ""
    if what == "pressure" or (what in ("", "rinse") and pressing(line, figure)):
        return "pressure", "psi", False
    first, end = line.sentence_span(figure.first)
    agent_here = agent_near(line, figure, first, end)
    if dry(line, figure) or still_dry(line, figure, scene):
        return "water_activity", "aw", False
    if (what == "light" and not acid_meter(line, figure, scene)) or (
        scene.lighting_line >= line.index - 1
        and scene.last is not None
        and scene.last.kind == "illuminance"
        and not agent_here
        and what not in ("strip", "bucket", "sanitizer")
        and not (about.chunk is not None and about.chunk.known_food)
    ):
        return "illuminance", _light_unit(line, scene), False
    known_food = about.chunk is not None and about.chunk.known_food
    heading = _heading_kind(line, figure, about, scene)
    if heading:
        return heading, _light_unit(line, scene) if heading == "illuminance" else _UNITS[heading], False
    if not what and not known_food and like_ppm(figure) and tested(line, figure):
        return "concentration", "ppm", False
    if not what and like_ppm(figure) and not about.places and bucket_before(line, figure, first):
        return "concentration", "ppm", False
    if what == "bucket" and not (_sanitizing(line, scene) or like_ppm(figure)):
        what = ""
    if tells_ph(line, figure, about, scene) or acid_food(line, figure, degrees):
        return "ph", "pH", False
    if agent_here and of_produce(line, first, end) is not None:
        return "concentration", "ppm", False
    if (
        what in ("", "bucket", "sanitizer")
        and not known_food
        and mixed_again(line, figure, scene) is not None
    ):
        return "concentration", "ppm", False
    if what == "strip" and figure.value >= 150 and "high" in (scene.place or "").lower():
        return "temperature", degrees, False  # a strip that turns with heat, in a high temperature machine
    if what in ("sanitizer", "bucket", "strip") or (about.chunk is not None and _chemical(line, about.chunk)):
        return "concentration", "ppm", False
    if agent_in_front(line, figure):
        return "concentration", "ppm", False
    if on_a_strip(line, figure, first) or (agent_here and not known_food and strength(line, figure)):
        return "concentration", "ppm", False
    if what in ("wash", "rinse", "surface", "water", "sanitize_basin"):
        if degrees == "degF" and figure.value < _COLDEST_WATER and _sanitizing(line, scene):
            return "concentration", "ppm", False  # `line bucket, chlorine 100. Pot sink, 10`
        return "temperature", degrees, False
    if agent_here and not known_food and not (about.gauge or about.instrument):
        return "concentration", "ppm", False
    if still_ph(line, figure, scene, degrees, known_food=known_food):
        return "ph", "pH", False
    last = scene.last
    goes_on = last is not None and about.chunk is None and not about.places
    if (
        goes_on
        and last is not None
        and last.line.index >= line.index - 2
        and last.kind in ("concentration", "pressure")
        and about.instrument is None
        and not (scene.place != last.place and scene.place_row is not None and scene.place_row.air)
        and (last.kind != "pressure" or figure.value <= MOST_PSI)
    ):
        return last.kind, last.unit, False
    if last is not None and about.instrument is None and _goes_on_in_length(line, last, figure, about):
        return "length", last.unit, False
    if figure.value > 600 and not figure.codes:
        return None, "", False
    if 0 < figure.value < 1 and figure.number.decimals == 2:
        return None, "", False  # `0.85`: no thermometer shows that
    if strength(line, figure):
        return "concentration", "ppm", False
    if not _measured(line, figure, about):
        return None, "", False
    if degrees == "degF" and not known_food and _too_cold_for_its_sink(line, figure, about):
        return "concentration", "ppm", False
    return "temperature", degrees, False


def _too_cold_for_its_sink(line: Line, figure: Figure, about: Subject) -> bool:
    """`line bucket, chlorine 100. Pot sink, 10`: what a strip shows, where solutions are gone through."""
    sinks = [c for c in about.places if line.tokens[c.last - 1].low in SINKS]
    return bool(sinks) and bool(line.agents) and figure.unit is None and 0 <= figure.value < _COLDEST_WATER


_SURELY_MEASURED = 0.9
"""Share of the second reader from which a bare figure is taken for measured."""


_COLDEST_WATER = 32.0
"""Degrees Fahrenheit at which water freezes: no sink holds colder."""
_MOST_INCHES = 36.0
"""Inches that racks stand off a floor or a wall at most: common practice, no source."""
_RACKS = frozenset(
    ("shelf", "shelves", "rack", "racks", "rung", "pallet", "pallets", "dunnage", "one", "side", "end")
)


def _goes_on_in_length(line: Line, last: Draft, figure: Figure, about: Subject) -> bool:
    """`four and a quarter inches off the floor. Next rack over is 7`: told of the next rack."""
    if last.kind != "length" or last.stage != "storage" or last.line is not line or about.pronoun:
        return False
    first, _ = line.sentence_span(figure.first)
    racks = any(token.low in _RACKS for token in line.tokens[first : figure.first])
    foods = any(chunk.known_food for chunk in line.chunks if first <= chunk.first < figure.first)
    return racks and not foods and 0 < figure.value <= _MOST_INCHES


_LEAST_OF_FOOD = 5.0
"""Degrees up to which `two degrees` alone tells how far off a reading was: common practice, no source."""


def _difference(line: Line, figure: Figure, about: Subject, scene: Scene, degrees: str) -> bool:
    """`Hot dogs 134. One degree. Not writing it.`: how far off the reading before was."""
    last = scene.last
    if abs(figure.value) > _LEAST_OF_FOOD or degrees != "degF" or last is None or last.kind != "temperature":
        return False
    if last.line.index < line.index - 1 or last.stage in ("freezing", "ambient"):
        return False
    return about.chunk is None and not (about.places or about.instrument or about.gauge)


def _of_the_solution(line: Line, figure: Figure, scene: Scene) -> bool:
    """`sani 200 quat at 76`: the warmth of the solution whose strength was read right before."""
    last = scene.last
    told = last is not None and last.kind in ("concentration", "ph") and last.line is line
    return last is not None and told and figure.unit is None and of_its_water(line, last.figure, figure)


_MOST_OF = {"ph": MOST_PH, "water_activity": 1.0, "pressure": MOST_PSI}


def _sanitizing(line: Line, scene: Scene) -> bool:
    """Whether sanitizer is what is spoken of, so that a bucket is one of sanitizer."""
    if line.agents or scene.agent_line >= line.index - 2:
        return True
    last = scene.last
    if last is not None and last.kind == "concentration" and last.line.index >= line.index - 2:
        return True
    return any(
        token.stem.startswith(("sanit", "sani", "bleach")) or token.stem in ("strip", "ppm")
        for token in line.tokens
    )


def _heading_kind(line: Line, figure: Figure, about: Subject, scene: Scene) -> str:
    """`sani buckets: front line 200`, `foot candles: grill 52`: what a list with only places in it
    measures."""
    if about.chunk is not None and (about.chunk.known_food or about.chunk.object is not None):
        return ""
    first, _ = line.sentence_span(figure.first)
    for chunk in line.chunks:
        if (
            not first <= chunk.first < figure.first
            or chunk.object is None
            or chunk.preposition
            or chunk.known_food
        ):
            continue
        if chunk.object.what == "light" and not _told_ph(line, scene):
            return "illuminance"
        if chunk.object.what == "sanitizer" or (chunk.object.what == "bucket" and _sanitizing(line, scene)):
            return "concentration"
    return ""


def _told_ph(line: Line, scene: Scene) -> bool:
    """Whether a pH was read in the same utterance, so that `the meter` is no light meter."""
    return scene.last is not None and scene.last.kind == "ph" and scene.last.line is line


HOTTEST_DEGC = 105.0
"""Hotter than water gets: no °C of a food."""


def _degrees(line: Line, figure: Figure, scene: Scene, degrees: str) -> str:
    """The unit of a temperature said without one: that of the rules, or °C beside figures said in °C."""
    if degrees != "degF":
        return degrees
    if figure.value > HOTTEST_DEGC:
        return degrees
    if _boiling_celsius(line, figure):
        return "degC"
    if scene.all_celsius or line.index <= scene.celsius_until or line.index in scene.celsius_lines:
        return "degC"
    for at, value in scene.celsius:
        near = at >= line.index - 1
        cold = value <= 12 and figure.value <= 12
        warm = near or (scene.only_celsius and _of_wash_water(line, figure))
        hot = value >= 40 and (40 if warm else 52) <= figure.value <= 100
        if cold or hot or (scene.only_celsius and (near or scene.celsius_twice) and figure.value <= 32):
            return "degC"
    told = figure.told
    if (
        scene.celsius
        and figure.value <= _ICE
        and told is not None
        and sum(told.stages[stage] for stage in _RUNNING) > 0.5
    ):
        return "degC"  # water that runs is no ice
    if scene.only_celsius and scene.celsius and figure.value < 0:
        return "degC"  # `the soup is 68 Celsius`, and of the freezer `minus 19`
    return degrees


_BOILS_DEGC = (85.0, 105.0)
"""°C that a thermometer may show in boiling water, high up or off: common practice, no source."""


def _boiling_celsius(line: Line, figure: Figure) -> bool:
    """`Kettle just boiled, their pen says 96, that should be 100`: no water boils at 100 °F."""
    low, high = _BOILS_DEGC
    boiled = any(token.low in ("boiled", "boiling", "boils", "boil") for token in line.tokens[: figure.first])
    return boiled and low <= figure.value <= high and any(token.low == "100" for token in line.tokens)


_ICE = 32.0
_RUNNING = ("handwashing", "thawing", "manual_wash", "manual_sanitize")
"""Stages of water that runs or stands in a sink."""
_WASHED = word_set("wash washing washed rinse rinsing rinsed basin basins tap taps")


def _of_wash_water(line: Line, figure: Figure) -> bool:
    """Water to wash with, which is never so cold in °F as it is warm in °C."""
    first, end = line.sentence_span(figure.first)
    return any(token.low in _WASHED for token in line.tokens[first:end])


def _chemical(line: Line, chunk: Chunk) -> bool:
    """Whether an agent that has a concentration is named in the phrase, and no hot water."""
    inside = [agent for start, end, (agent, _) in line.agents if chunk.first <= start and end <= chunk.last]
    return bool(inside) and "hot_water" not in inside


def is_agent(line: Line, chunk: Chunk) -> bool:
    return any(chunk.first <= start and end <= chunk.last for start, end, _ in line.agents)


_PACKS = word_set("flat tray case box crate pack stack rack bag carton dozen row sleeve")


def _measured(line: Line, figure: Figure, about: Subject) -> bool:
    """Whether a bare number may be a temperature at all: something was named, or a verb of measuring
    stands before it."""
    if figure.value < 0:
        return True  # `ice cream, minus eighteen`
    opened = line.tokens[max(0, figure.first - 2) : figure.first]
    if len(opened) == 2 and opened[1].low == "of" and opened[0].low in _PACKS:
        return False  # `a flat of thirty`
    if about.chunk is not None or about.shares is not None or about.places or about.instrument or about.gauge:
        before = line.tokens[figure.first - 1].low if figure.first else ""
        counted = not about.direct or before in ("on", "in", "for", "of", "by")
        small = figure.number.words and figure.value < 10 and not figure.number.decimals
        return not (small and counted and figure.unit is None)
    before = line.tokens[figure.first - 1].low if figure.first else ""
    kind = line.classes[figure.first - 1] if figure.first else ""
    if figure.number.words and figure.value <= 24 and not figure.number.decimals:
        return before in ("at", "reads", "reading", "is", "'s") and figure.value >= 10
    if figure.told is not None and figure.told.meant["r"] > _SURELY_MEASURED:
        return True
    return figure.value > 24 or kind in ("links", "auxiliaries") or before in ("at", "now", "to")

"""Bare figures of how strong a sanitizer is, by what was dipped or named, and by the second reader."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.measured.refills import last_test
from extract.scene import Scene
from extract.words.line import Line
from extract.words.text import word_set

_SURELY_OF_SOLUTION, _NAMED = 0.7, 0.8
"""Shares of the second reader from which a bare figure is taken for one of a solution, and its item for the
one it names."""


def strength(line: Line, figure: Figure) -> bool:
    """`the one on the meat side 75`: a bare figure of a sanitizer that is no temperature of its water."""
    told = figure.told
    if told is None or told.stages["sanitizer"] < _SURELY_OF_SOLUTION or not like_ppm(figure):
        return False
    if any(token.low == "water" for token in line.tokens[max(0, figure.first - 3) : figure.first]):
        return False
    named = told.item if told.item is not None and told.item_sure > _NAMED else None
    return named is None or named.back > 0 or "water" not in line.text[slice(*named.span)].lower()


_SURELY_ON_A_STRIP = 0.9


def on_a_strip(line: Line, figure: Figure, first: int) -> bool:
    """`strip in the dip tank one eighty`: what a strip shows, wherever it was dipped."""
    told = figure.told
    if told is None or told.stages["sanitizer"] < _SURELY_ON_A_STRIP:
        return False
    before = [token.stem for token in line.tokens[first : figure.first]]
    return "strip" in before and "water" not in before


def agent_near(line: Line, figure: Figure, first: int, end: int) -> bool:
    """A sanitizer is named before the figure in its sentence, or behind it with no other figure between."""
    for start, _, (agent, _) in line.agents:
        if agent == "hot_water" or not first <= start < end:
            continue
        if start < figure.first or start == figure.last:
            return True
        own = False  # `hand sink 103, glass washer chlorine strip 75`: the agent has a figure of its own
        for token in line.tokens[start : start + 5]:
            own = own or token.kind == "number"
            if token.kind == "mark":
                break
        if not own and not any(token.kind == "number" for token in line.tokens[figure.last : start]):
            return True
    return False


_NO_STRENGTH = word_set("water wash rinse final plate surface temp temperature degrees tank gauge dial")


def agent_alone_before(line: Line, figure: Figure) -> bool:
    """A sanitizer is named before the figure in its sentence, and between them nothing that is measured in
    degrees, nor another figure."""
    first, _ = line.sentence_span(figure.first)
    before = [
        end
        for start, end, (agent, _) in line.agents
        if agent != "hot_water" and first <= start < figure.first
    ]
    if not before:
        return False
    between = range(before[-1], figure.first)
    others = any(
        (chunk.known_food or (chunk.place is not None and chunk.place.stage == "handwashing"))
        and before[-1] <= chunk.first < figure.first
        for chunk in line.chunks
    )
    return not others and not any(
        line.tokens[n].low in _NO_STRENGTH or line.tokens[n].kind == "number" for n in between
    )


def agent_in_front(line: Line, figure: Figure) -> bool:
    """`chlorine 100 on the plate`, `bleach at 50`: of an agent that stands right in front."""
    i = figure.first - 1
    while i >= 0 and (line.classes[i] in ("links", "auxiliaries") or line.tokens[i].low == "at"):
        i -= 1
    return any(end == i + 1 for _, end, _ in line.agents)


def like_ppm(figure: Figure) -> bool:
    """A figure that a strip shows, of a bucket that nothing else is told of."""
    return figure.unit is None and (figure.value == 0 or (figure.value >= 50 and figure.value % 25 == 0))


_WATER = (60.0, 130.0)
"""Degrees Fahrenheit of a sanitizer's water: common practice, no source."""


def of_its_water(line: Line, one: Figure, figure: Figure) -> bool:
    """`sani 200 at 75`, `iodine 15 water 68`: the solution's own temperature."""
    between = range(one.last, figure.first)
    agents = {n for start, end, _ in line.agents for n in range(start, end)}
    told = [line.tokens[n].low for n in between if n not in agents]
    while told and told[0] in _SMALL:
        told = told[1:]
    if told[-1:] == ["solution"] and figure.unit is None and _WATER[0] <= figure.value <= _WATER[1]:
        return len(told) <= _BEFORE_SOLUTION  # `100 on the strip, solution 112`
    if told[:1] == ["water"] and figure.value <= _WATER[1]:
        return all(low in _IS_AT for low in told[1:])  # `iodine 15 ppm water 68`
    return told == ["at"] and _WATER[0] <= figure.value <= _WATER[1]


def beside_its_water(line: Line, figure: Figure, scene: Scene) -> bool:
    """The strength of `bleach bucket, water at 80, 50`, and one told again behind its water: `50 ppm, water's
    66. Warmed it up, water's 102, 50 again`."""
    last = scene.last
    if not like_ppm(figure) or last is None or last.line is not line or last.kind != "temperature":
        return False
    if last.stage not in ("sanitizer", "machine_rinse", "machine_wash"):
        return False
    between = [token.low for token in line.tokens[last.last : figure.first]]
    around = [token.low for token in line.tokens[figure.first - 1 : figure.last + 1]]
    tested = last_test(line, scene)
    if tested is not None and tested.line.index >= line.index - 1 and tested.value == figure.value:
        return not _AGAIN.isdisjoint((around[0], around[-1])) and len(between) <= _FEW
    return bool(line.agents) and bool(between) and set(between) <= {",", "and"}


_AGAIN = word_set("again still same yet")
_FEW = 3
"""Words between a water and the strength told again behind it: common practice, no source."""
SINKS = word_set("sink basin bay vat compartment")
_BAYS = word_set("bay basin vat sink tub compartment bucket")
_WARM = {"degF": (50.0, 140.0), "degC": (10.0, 60.0)}
"""How warm the water of a solution may be: common practice, no source."""


def of_that_bay(line: Line, figure: Figure, scene: Scene) -> bool:
    """`iodine 20 and that bay's 74`: the warmth of what a strength was read of just before."""
    last = scene.last
    n = figure.first - 1
    while n > 0 and (
        line.classes[n] in ("links", "auxiliaries", "adverbs") or line.tokens[n].low in ("only", "'s")
    ):
        n -= 1
    low, high = _WARM["degF"]
    own = n >= 0 and line.tokens[n].low in _BAYS
    pointed = n >= 1 and (
        line.tokens[n - 1].low in ("that", "the", "same", "its") or line.classes[n - 1] == "mark"
    )
    return (
        own
        and pointed
        and last is not None
        and last.kind == "concentration"
        and last.line is line
        and figure.unit is None
        and low <= figure.value <= high
    )


def called_a_temperature(line: Line, figure: Figure) -> bool:
    """`quat 250, temp 71`, `temp in that one 81`: whatever is being tested, this is how warm it is."""
    if figure.unit not in (None, "ppm"):
        return False
    i = figure.first - 1
    while i >= 0 and line.tokens[i].low in _IS_AT:
        i -= 1
    if i >= 0 and line.tokens[i].low in _HEAT:
        return True
    n = figure.first - 1
    while n >= max(0, figure.first - _FAR) and line.tokens[n].kind == "word":
        if line.tokens[n].low in _HEAT:
            return line.tokens[n + 1].low in _OF_WHAT
        n -= 1
    return False


_INSIDE = word_set("there it")


def its_in_there(line: Line, figure: Figure, scene: Scene) -> bool:
    """`iodine 12.5, and it's 74 in there`: how warm the solution is whose strength was read right before."""
    last = scene.last
    tested = last is not None and last.kind in ("concentration", "ph") and last.line is line
    before = [token.low for token in line.tokens[max(0, figure.first - 2) : figure.first]]
    after = [token.low for token in line.tokens[figure.last : figure.last + 2]]
    inside = len(after) == 2 and after[0] == "in" and after[1] in _INSIDE
    low, high = _WARM["degF"]
    return (
        tested and inside and before == ["it", "'s"] and figure.unit is None and low <= figure.value <= high
    )


_BEFORE_SOLUTION = 6
"""Words between a figure and the solution named behind it, at most: common practice, no source."""
_SMALL = word_set("in the with and")
_FAR = 6
"""Words between `temp of` and its figure, at most: common practice, no source."""
_OF_WHAT = word_set("in of on at for there here")
_HEAT = word_set("temp temps temperature temperatures")
_IS_AT = word_set("is 's at of was reads about")


def bucket_before(line: Line, figure: Figure, first: int) -> bool:
    """`left bucket 150, right bucket 200`: a bucket is named last before the figure, and no food."""
    named = [chunk for chunk in line.chunks if first <= chunk.first < figure.first]
    if not named or any(chunk.known_food for chunk in named):
        return False
    last = named[-1]
    return last.object is not None and last.object.what == "bucket"


def tested(line: Line, figure: Figure) -> bool:
    """`third sink tests 200`: solutions are tested, and food is not."""
    before = [token.low for token in line.tokens[max(0, figure.first - 3) : figure.first]]
    return bool({"tests", "tested", "testing"} & set(before))


_SAYS = word_set("says reads shows is was said 's")


def the_test_says(line: Line, figure: Figure) -> bool:
    """`PAA, drum says 85 to 150. Test says 120.`: what the test of an agent named before it shows."""
    before = [token.low for token in line.tokens[max(0, figure.first - 2) : figure.first]]
    named = any(agent != "hot_water" and start < figure.first for start, _, (agent, _) in line.agents)
    return named and len(before) == 2 and before[0] == "test" and before[1] in _SAYS and figure.unit is None


def same_strength(line: Line, figure: Figure, scene: Scene) -> bool:
    """`Knife dip is 40. Same for the board tub, 40`: the strength read before, told of a second thing."""
    last, (first, _) = scene.last, line.sentence_span(figure.first)
    again = last is not None and last.kind == "concentration" and last.value == figure.value
    return again and figure.unit is None and line.tokens[first].low == "same"

"""At which stage of its life a food was measured, and what the figures on water, machines and sanitizer
are."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache

from extract.figures.heat import long_over, next_to, off_the_heat, still_to_come
from extract.meant_for.time_plans import HOURS_ONLY, of_all, of_another_food
from extract.of_what.came_cooked import came_cooked
from extract.of_what.subject import Subject
from extract.scene import Draft, Scene
from extract.words.line import Chunk, Line
from extract.words.naming import ASIDE
from extract.words.text import phrase, word_set
from shared.foods import classify

FOOD_STAGES = frozenset(
    (
        "cooking",
        "reheating",
        "hot_holding",
        "cold_holding",
        "cooling",
        "receiving",
        "thawing",
        "time_control",
        "freezing",
    )
)
LIKELY = {  # °F between which a figure of that stage is no surprise; common practice, no source
    "cold_holding": (20, 80),
    "hot_holding": (75, 212),
    "cooking": (85, 230),
    "reheating": (60, 212),
    "cooling": (30, 215),
    "receiving": (-20, 200),
    "thawing": (20, 100),
    "time_control": (30, 212),
    "freezing": (-60, 40),
    "thermometer_check": (20, 220),
    "handwashing": (40, 150),
    "manual_wash": (50, 160),
    "manual_sanitize": (70, 212),
    "machine_wash": (80, 200),
    "machine_rinse": (80, 225),
    "utensil_surface": (80, 212),
    "sanitizer": (40, 140),
    "ambient": (-40, 250),
}


COLD, HOT = 41.0, 135.0
"""°F between which food needs a time plan; FDA Food Code 2022, 3-501.16."""
HOT_BASIN = 130.0
"""°F under which a sanitizing basin holds a chemical and no hot water: common practice, no source."""
HARD_DEGF = 15.0
"""°F below which air is a freezer's, and no food cools or was just hot: common practice, no source."""
HELD = frozenset(("cold_holding", "hot_holding"))
"""Stages in which food is held by temperature."""
GUESSED = frozenset(("figure", "said in one breath", "same as before", "same food"))
"""Why a food is taken to be of a stage that no words tell."""
RISEN = "hot again after being too cool"
"""Why a hot figure is one of reheating: the same food was found too cool before."""


def fahrenheit(value: float, unit: str) -> float:
    return value * 9 / 5 + 32 if unit == "degC" else value


def segment(line: Line, first: int, last: int, others: Sequence[tuple[int, int]]) -> tuple[int, int, int]:
    """The tokens around a figure up to the figures next to it, and the end of what opens the sentence.

    `others`: first and end token of the other measured figures. Words before the first figure's own name
    open the
    sentence and hold for the whole list.
    """
    begin, end = line.sentence_span(first)
    inside = [other for other in others if begin <= other[0] < end]
    before = max((other[1] for other in inside if other[1] <= first), default=begin)
    following = min((other[0] for other in inside if other[0] >= last), default=None)
    after = _list_break(line, last, following) if following is not None else end
    head = min([first, *(other[0] for other in inside)])
    opening = next((n for n in range(head - 1, begin, -1) if line.tokens[n].low in (",", ":")), begin)
    if before > begin:
        before = max(before, _list_break(line, before, first))
    return before, after, opening


def _list_break(line: Line, first: int, last: int) -> int:
    """Where one item of a list ends and the next begins: the first comma or `and` between two figures."""
    for n in range(first, last):
        if line.tokens[n].low in (",", "and", "but", ";"):
            return n
    return last


def food_stage(
    line: Line,
    draft: Draft,
    subject: Subject,
    scene: Scene,
    *,
    clocks: int,
    others: Sequence[tuple[int, int]],
    limits: Mapping[str, tuple[float, str]],
) -> tuple[str, str]:
    """Stage of a food temperature and the words that decided it.

    `clocks`: how many figures of the utterance have a time; `others`: tokens of its other measured figures;
    `limits`: what limits said beside it tell (`extract.meant_for.said_limits`).
    """
    value = fahrenheit(draft.value, draft.unit)
    scores: dict[str, float] = {}
    because: dict[str, tuple[float, str]] = {}

    def add(stage: str, weight: float, words: str) -> None:
        scores[stage] = scores.get(stage, 0.0) + weight
        if weight > because.get(stage, (0.0, ""))[0]:
            because[stage] = (weight, words)

    figure = draft.figure
    first, end = line.sentence_span(figure.first)
    before, after, opening = segment(line, figure.first, figure.last, others)
    closed = leftover = False
    for start, stop, cue in line.cues:
        if cue.stage not in FOOD_STAGES:
            continue
        in_name = (
            draft.chunk is not None and draft.chunk.first <= start < draft.chunk.last and draft.line is line
        )
        if in_name and (cue.weight <= 1 or cue.stage == "freezing"):
            continue
        if cue.stage == "freezing" and _names_a_place(line, start):
            continue
        if cue.stage == "time_control" and _denied(line, start):
            continue
        if cue.stage == "time_control" and cue.weight == HOURS_ONLY and not COLD < value < HOT:
            continue  # `slaw 38, sticker says out by 1.40`
        weight = float(cue.weight)
        if cue.stage == "freezing" and value > 35:
            continue
        if cue.stage == "cooking" and long_over(line, start, stop):
            continue
        if cue.stage == "reheating" and start >= figure.last and still_to_come(line, start):
            continue  # `that one's low, 129. He's going to reheat it`
        if cue.stage == "reheating" and after <= start and any(stop <= other[0] < end for other in others):
            continue  # `chili 128 and they reheated it to 168`: said of the next figure
        if first <= start < end:
            if cue.stage == "time_control" and of_all(line, first, start):
                weight *= 1.3
            elif not before <= start < after and start >= opening:
                weight *= 0.8 if cue.stage in ("cooling", "time_control", "thawing", "freezing") else 0.3
            elif cue.stage == "cooling" and start >= figure.last:
                weight *= 1.4  # `49, cooling fine`: said of this very figure, wherever it stands
            elif cue.stage in ("cooling", "thawing", "time_control") and not in_name:
                weight *= 1.3  # `thawing in the walk-in`: the words outweigh the place
        elif start < first:
            heads = not any(line.sentence[other[0]] == line.sentence[start] for other in others)
            if _closing_words(line, start, others):
                closed = True
                continue
            weight *= 1.0 if cue.weight >= 4 or heads else 0.3
        elif cue.stage == "time_control":
            if of_another_food(line, start, draft.item):
                continue
        elif line.sentence[start] == line.sentence[figure.first] + 1 and _closing_words(line, start, others):
            weight *= 0.9  # `pork 147, mine 145. Off the plancha.`
        elif any(end <= other[0] for other in others):
            continue  # said of a later figure: `gravy 126. She's heating it. 158 now.`
        else:
            weight *= 0.3
        if cue.stage == "reheating" and cue.weight >= 4 and first <= start < end and weight >= 4:
            leftover = True
        add(cue.stage, weight, line.words(start, stop))
    attached = [
        chunk for chunk in subject.places if chunk.place is not None and chunk.place.stage in FOOD_STAGES
    ]
    left = next((chunk for chunk in attached if long_over(line, chunk.prepared_at, chunk.last)), None)
    if scene.delivery and draft.place and draft.place.lower().split()[-1] in CARRIERS:
        add("receiving", 4.5, "as it was delivered")
    attached = [
        chunk
        for chunk in attached
        if chunk is not left and not _only_passed(chunk, subject) and not next_to(line, chunk)
        and not (chunk.preposition == "for" and "cooking" in scores)
    ]  # fmt: skip
    if attached:
        place = attached[0]
        assert place.place is not None
        add(place.place.stage, 3.0, line.words(place.first, place.last))
    elif left is None and draft.place_row is not None and draft.place_row.stage in FOOD_STAGES:
        add(draft.place_row.stage, 0.8 if scene.place_is_aside else 2.0, draft.place or "")
    if scene.stage and scene.stage_line >= line.index - 1:
        add(scene.stage, 2.0, scene.stage)
    last = scene.last_but_held
    twin = None
    if last is not None and last.stage in FOOD_STAGES and last.kind == "temperature":
        twin = next((d for d in scene.recent(line.index, back=4) if same_food(d, draft)), None)
        same = twin is not None and not _risen_from_cooling(twin, draft, value)
        last = twin or last
        falling = last.stage == "cooling" and value < fahrenheit(last.value, last.unit)
        if same and (draft.carried or last.line is line or falling) and not attached:
            add(last.stage, 4.0, "same as before")
        elif same:
            add(last.stage, 2.5, "same food")
        elif closed and last.stage not in ("hot_holding", "cold_holding"):
            pass  # `soup 71. Cooling since noon. Rice 141.`
        elif last.stage == "reheating" and _other_dish(last, draft):
            pass
        elif last.line is line and not attached and (last.stage != "cooking" or _seldom_cooked(draft) < 1):
            add(last.stage, 1.5, "said in one breath")
    if (
        twin is None
        and last is not None
        and last.stage == "cooking"
        and last.line.index == line.index - 1
        and draft.place_row is None
        and not _seldom_cooked(draft)
    ):
        add("cooking", 1.2, "as in the utterance before")
    for told, (weight, words) in limits.items():
        if told != "cooking" or "reheating" not in limits or not served_hot(draft):
            add(told, weight, words)  # a soup is not held to 165 °F until it is heated again
    if clocks >= 2:
        add("cooling", 4.0, "figures with times")
    elif draft.clock is not None and value > 60:
        add("cooling", 0.5, "figure with a time")
    if value <= 62:
        add("cold_holding", 1.5, "figure")
    elif value <= 90:
        add("cold_holding", 0.8, "figure")
        add("hot_holding", 0.3, "figure")
    else:
        add("hot_holding", 1.0, "figure")
        if value >= 150:
            add("cooking", 0.6, "figure")
    elsewhere = draft.place_row is not None and draft.place_row.stage in (
        "cold_holding",
        "hot_holding",
        "cooking",
    )
    if value <= 15 and not elsewhere:
        add("freezing", 2.0, "figure")
    if off_the_heat(line, before, after) and value >= 120:
        add("cooking", 2.0, "off the heat")
    if _fresh_cooked(draft, value):
        add("cooking", 1.3, "as it comes off the heat")
    if leftover and "cooking" in scores:
        scores["reheating"] += scores.pop("cooking")  # `yesterday's, out of the oven, 171`
    if "cooking" in scores:
        scores["cooking"] -= _seldom_cooked(draft)
        if attached and _kept_hot(attached[0], line, draft):
            scores["cooking"] -= 3.0
    for stage in scores:
        low, high = LIKELY[stage]
        if not low <= value <= high:
            scores[stage] -= 5.0
    stage = max(scores, key=lambda name: scores[name])
    risen = (
        stage in ("hot_holding", "receiving")
        and value >= 150
        and any(
            other.stage in (stage, "cooling") and _too_cool(other) and _same_item(other, draft)
            for other in scene.recent(line.index, back=12)
            if other.line is not line
        )
    )
    if risen:
        return "reheating", RISEN
    if stage == "cooking" and (how := came_cooked(line, draft)) is not None:
        return "reheating", how
    if stage == "cooking" and any(
        other.stage in ("hot_holding", "reheating")
        and other.kind == "temperature"
        and _same_item(other, draft)
        for other in scene.recent(line.index, back=12)
    ):
        return "reheating", "put back on the heat"
    return stage, because.get(stage, (0.0, "figure"))[1]


_NO = word_set("no not n't without never missing lacks lack nobody")
_BREAKS = word_set("but and so they it")


def _denied(line: Line, start: int) -> bool:
    """`not on time`, `they don't have a four hour sticker`: no plan is kept."""
    for n in range(start - 1, max(-1, start - 5), -1):
        if line.tokens[n].kind == "mark" or line.tokens[n].low in _BREAKS:
            return False
        if line.tokens[n].low in _NO:
            return True
    return False


_SENT_HOT = 70.0
"""°F from which food was sent hot, so that it is heated once it is hotter: common practice, no source."""


_COOLED = 100.0
"""°F under which food that was cooling has to be heated to be hot: common practice, no source."""
_RISE = 30.0
"""°F by which food that was cooling, with no time told, has been heated: common practice, no source."""


def _risen_from_cooling(twin: Draft, draft: Draft, value: float) -> bool:
    """`beans 84 at 3.20` and later `back in the kettle, 173`: it is not cooling any more."""
    cooling = twin.stage == "cooling" and draft.clock is None and twin.line is not draft.line
    return cooling and value >= fahrenheit(twin.value, twin.unit) + _RISE


def _too_cool(other: Draft) -> bool:
    """Whether food was held, or came, cooler than hot food is kept."""
    if other.stage == "cooling":
        return fahrenheit(other.value, other.unit) < _COOLED
    if other.stage == "receiving":
        return other.kind == "temperature" and _SENT_HOT <= fahrenheit(other.value, other.unit) < 135
    return other.verdict_low


def _other_dish(last: Draft, draft: Draft) -> bool:
    """The potatoes of `the birds are 172 now, and the potatoes 151`: only the birds were heated again."""
    return (
        last.line is draft.line
        and last.first < draft.first
        and bool(
            {token.low for token in draft.line.tokens[last.figure.last : last.figure.last + 2]}
            & {"now", "again"}
        )
    )


def _closing_words(line: Line, at: int, others: Sequence[tuple[int, int]]) -> bool:
    """Whether the words open a sentence of some length without a figure that tells of the food before it, and
    not of what was done since: `Cooling since noon.`, `Off the plancha.`"""
    number = line.sentence[at]
    first, end = line.sentence_span(at)
    opens = any(start == first for start, _, _ in line.cues)
    if not opens or not number or end - first < 4 or line.tokens[first].stem in ("back", "reheat"):
        return False
    return line.classes[first - 2] == "number" and not any(first <= other[0] < end for other in others)


CARRIERS = word_set(
    "box boxes carrier carriers cambro cambros bag bags tote totes crate crates side cart carts"
    " trolley trolleys"
)
"""What a delivery comes in, by the last word of its name."""


def _only_passed(chunk: Chunk, subject: Subject) -> bool:
    """The van of `hot boxes off the van`, where another place tells what holds the food."""
    receiving = chunk.place is not None and chunk.place.stage == "receiving"
    return receiving and chunk.preposition in ASIDE and len(subject.places) > 1


_STANDS_ON = word_set("range stove stovetop burner hob induction plate cooktop")


def _kept_hot(chunk: Chunk, line: Line, draft: Draft) -> bool:
    """A soup or sauce that stands on the stove: it is held there, unless words tell of cooking."""
    stands = chunk.preposition == "on" and line.tokens[chunk.last - 1].low in _STANDS_ON
    return stands and served_hot(draft)


def served_hot(draft: Draft) -> bool:
    """A soup or sauce: it is ready when it leaves the kettle and is measured where it is held."""
    food = classify(draft.item) if draft.item else None
    return food is not None and food.kind in ("soup", "sauce")


def _names_a_place(line: Line, at: int) -> bool:
    """The first word of `frozen truck`, which is no freezer."""
    chunk = line.chunks[line.chunk_at[at]] if line.chunk_at[at] >= 0 else None
    return chunk is not None and chunk.place is not None and chunk.place.stage not in ("", "freezing")


def _seldom_cooked(draft: Draft) -> float:
    """What speaks against a cooking temperature: nothing for raw animal food, much for dairy, plants and
    bread."""
    food = classify(draft.item) if draft.item else None
    if food is None:
        return 0.0
    if "ready_to_eat" in food.tags:
        return 1.5
    if food.tags & {"animal", "egg", "stuffed"} or food.kind == "assembled_dish":
        return 0.0
    return 0.7 if "dish" in food.tags and food.kind not in ("soup", "sauce") else 1.5


_PIECES = word_set("chop chops steak steaks fillet fillets filet filets cutlet cutlets")
_HOTTER_THAN_HELD = 190.0
"""°F at which nobody holds meat: common practice, no source."""


def _fresh_cooked(draft: Draft, value: float) -> bool:
    """A fish or chop as hot as it is cooked, or any meat near boiling, in no place that holds it."""
    food = classify(draft.item) if draft.item else None
    if food is None or "animal" not in food.tags or "ready_to_eat" in food.tags:
        return False
    if draft.place_row is not None and draft.place_row.stage in FOOD_STAGES:
        return False
    if value >= _HOTTER_THAN_HELD:
        return True
    piece = "fish" in food.tags or any(word in _PIECES for word in (draft.item or "").lower().split())
    return piece and 143 <= value <= 170


def same_food(other: Draft, draft: Draft) -> bool:
    return other.kind == "temperature" and other.stage in FOOD_STAGES and _same_item(other, draft)


def _same_item(last: Draft, draft: Draft) -> bool:
    return last.item is not None and draft.item is not None and heads_agree(last.item, draft.item)


def heads_agree(one: str, two: str) -> bool:
    """Whether two names speak of the same thing: the shorter one's words are all in the longer."""
    a, b = name_words(one), name_words(two)
    if not a or not b:
        return False
    return a <= b or b <= a


@lru_cache(maxsize=16384)
def name_words(name: str) -> frozenset[str]:
    """The stems that identify a thing."""
    words = frozenset(phrase(name))
    return words - {"the", "a", "of", "my", "'s"} or words


_SMALL = word_set("the a an by in on at of next to near beside behind under this that same")


def elsewhere(one: str | None, other: str | None) -> bool:
    """Whether two places differ: each has a word of its own (`bar dish machine`, `kitchen dish machine`)."""
    if not one or not other:
        return False
    mine, theirs = (frozenset(word_set(place.lower().replace("-", " "))) - _SMALL for place in (one, other))
    return bool(mine - theirs) and bool(theirs - mine)

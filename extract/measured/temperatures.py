"""Readings of temperature: thermometer checks, water and machines, air, food."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass

from extract.figures.figure import Figure
from extract.meant_for.frozen import FROZEN
from extract.meant_for.said_limits import stages_of_limits
from extract.measured.air_of_eggs import TO_SAY, eggs_in_air, is_air
from extract.measured.just_made import just_made
from extract.measured.thermometers import (
    any_instrument,
    dial_before,
    is_check_medium,
    is_unit_thermometer,
    owner,
    owner_after,
    pronoun_nearer,
    said_pronoun,
)
from extract.measured.utensils import in_water
from extract.measured.washing import washing_stage
from extract.of_what.named_behind import food_behind, food_behind_span
from extract.of_what.staging import (
    FOOD_STAGES,
    GUESSED,
    HARD_DEGF,
    LIKELY,
    RISEN,
    fahrenheit,
    food_stage,
    heads_agree,
    same_food,
)
from extract.of_what.subject import BODY_PARTS, Subject, of_unit
from extract.scene import Draft, Read, Scene
from extract.words.line import Chunk, Line, chars
from extract.words.naming import item_name
from extract.words.text import word_set

_WASHING = frozenset(("handwashing", "manual_wash", "manual_sanitize", "machine_wash", "machine_rinse"))
_WHOSE = ("theirs", "mine", "ours", "hers")


def temperature(
    read: Read, draft: Draft, about: Subject, parent: Draft | None, scene: Scene, clocks: int
) -> Draft:
    line, figure = read.line, draft.figure
    first, end = line.sentence_span(figure.first)
    thing = draft.chunk.object if draft.chunk is not None else None
    what = thing.what if thing is not None and not (draft.chunk and draft.chunk.known_food) else ""
    doing = _doing(line, figure) if what in ("", "rinse") else ""
    what = doing or what
    if not what and about.instrument is not None and draft.chunk is None:
        what = _washed_by(line, about.instrument)
    iced = (about.instrument is not None or about.pronoun in _WHOSE) and any(
        token.low in ("ice", "slush") for token in line.tokens[first:end]
    )
    checking = (
        iced
        or any(cue.stage == "thermometer_check" for _, _, cue in line.cues)
        or (
            scene.check_line >= line.index - 1
            and not about.places
            and (about.instrument is not None or about.pronoun in _WHOSE)
        )
    )
    checked = next((d for d in scene.recent(line.index, back=1) if d.stage == "thermometer_check"), None)
    again = checked is not None and (
        _in_ice(line, first, end) if checked.line is line else _dunked(line, first, end)
    )
    checking = checking or again
    known_food = draft.chunk is not None and draft.chunk.known_food and about.chunk is not None
    if known_food and draft.chunk is not None and is_check_medium(line, draft.chunk):
        known_food, draft.item = False, None
    if again and known_food and draft.chunk is not None and _in_ice(line, draft.chunk.first, figure.first):
        known_food, draft.item = False, None  # `reset it with the nut, back in the ice, 32`
    of_food = parent is not None and parent.food and parent.stage != "thermometer_check"
    if checking and not known_food and draft.unit == "degF" and _icy_celsius(line, figure, first):
        draft.unit, draft.unit_said = "degC", False
    if (
        checking
        and not known_food
        and not (of_food and about.chunk is None)  # `ice point 0. Hot well, plantain 51, or rather 54`
        and (20 <= figure.value <= 45 or _boils(line, figure, about) or draft.unit == "degC")
    ):
        draft.stage = "thermometer_check"
        draft.place = draft.place_row = None
        whose = owner(line, figure) or owner_after(line, figure)
        if whose is not None:
            draft.item = whose
        elif (dial := dial_before(line, figure)) is not None:
            draft.item = dial
        elif about.instrument is not None and not (
            about.pronoun in ("theirs", "mine", "ours") and pronoun_nearer(line, about, figure)
        ):
            draft.item = item_name(line, about.instrument)
        elif about.pronoun in ("theirs", "mine", "ours", "hers"):
            draft.item = said_pronoun(line, figure, about.pronoun)
        elif parent is not None:
            draft.item = parent.item
        else:
            draft.item = any_instrument(line, figure)
            if draft.item is None and again and checked is not None:
                draft.item = checked.item
        draft.rules.append(("stage: thermometer check", line.index, *chars(line, first, end)))
        return draft
    if (eggs := eggs_in_air(line, figure, about, first, end)) is not None:
        draft.item, draft.chunk, draft.food = item_name(line, eggs), eggs, True
        draft.known_as = "shell eggs"
        draft.stage_fixed = draft.item_fixed = True
        found, _ = _food_stage(read, draft, about, scene, clocks)
        draft.stage = found if found == "receiving" else "cold_holding"
        return draft
    if parent is not None and about.places and parent.stage in _WASHING:
        parent, draft.item, draft.chunk = None, None, None  # `hand sink 95, three comp 110`
    if parent is not None and about.chunk is None and parent.kind == "temperature" and not doing:
        draft.stage = parent.stage
        if parent.stage == "hot_holding" and _reheated_between(line, parent, figure):
            draft.stage, draft.stage_fixed = "reheating", True
            return draft
        if parent.stage == "reheating" and figure.role == "figure" and _held_now(line, about, parent, figure):
            draft.stage, draft.stage_fixed = "hot_holding", True
            return draft
        held = parent.stage in ("cooking", "hot_holding", "cold_holding", "reheating", "cooling")
        if (held and (about.places or clocks)) or _misplaced(draft):
            draft.stage, _ = _food_stage(read, draft, about, scene, clocks)
        return draft
    if in_water(line, draft, about):
        draft.stage_fixed = draft.item_fixed = True
        return draft
    if doing:
        draft.chunk = draft.item = None
    if figure.why == FROZEN:
        draft.stage = "freezing"
        if draft.chunk is None or not draft.chunk.known_food:
            draft.item = draft.chunk = None
            told = (c for c in line.chunks if c.known_food and figure.last <= c.first < end)
            if (behind := next(told, None)) is not None:
                draft.item, draft.chunk, draft.food = item_name(line, behind), behind, True
            else:
                carry(line, draft, scene)
        return draft
    washing = washing_stage(line, draft, about, scene, what, first, end)
    if washing is not None:
        draft.stage, draft.stage_fixed = washing, draft.stage_fixed or bool(doing)
        return draft
    if about.chunk is None and about.instrument is not None and is_unit_thermometer(line, about.instrument):
        return _ambient(line, draft)
    air = about.gauge
    if what == "air" or (air is not None and is_air(air) and 0 <= figure.first - air.last <= TO_SAY):
        draft.stage_fixed = True
        return _ambient(line, draft)  # also of `milk in the reach in, air's 50`
    if (
        draft.chunk is None
        and about.chunk is None
        and (later := food_behind_span(line, figure, read.figures)) is not None
    ):
        draft.chunk, draft.item, draft.food = later, item_name(line, later), True
    elif (
        about.chunk is None
        and about.gauge is None
        and about.instrument is None
        and (named := _food_in_place(line, about)) is not None
    ):
        draft.item, draft.food = named, True
    elif draft.chunk is None or (about.chunk is None and (about.gauge or about.pronoun in ("theirs",))):
        if (
            about.gauge is not None
            or about.pronoun == "theirs"
            or (about.places and not about.pronoun and _subject_place(line, figure, about))
        ):
            return _ambient(line, draft)
        carry(line, draft, scene)
        if draft.item is None and not of_unit(about):
            _from_behind(read, draft)
        if (
            draft.item is None
            and draft.place_row is not None
            and draft.place_row.air
            and (about.places or _heading(line, figure))
        ):
            return _ambient(line, draft)
    elif (whole := _part_of(line, draft, scene)) is not None:
        draft.item, draft.chunk, draft.food = whole.item, whole.chunk, True
    if draft.item is None and (draft.place_row is None or not draft.place_row.stage or _hard_frozen(draft)):
        return _ambient(line, draft)
    stage, why = _food_stage(read, draft, about, scene, clocks)
    if (
        stage == "reheating"
        and why == RISEN
        and any(
            other.value in read.amendments.denied.values() and same_food(other, draft)
            for other in scene.recent(line.index, back=12)
        )
    ):
        stage, why = "hot_holding", "the cooler figure was a mistake"
    if stage == "cold_holding" and just_made(line, draft, read.figures):
        stage, why, draft.just_made = "cooling", "just made", True
    draft.stage, draft.stage_told = stage, why not in GUESSED
    draft.rules.append((f"stage: {stage} from “{why}”", line.index, *chars(line, first, end)))
    return draft


def _boils(line: Line, figure: Figure, about: Subject) -> bool:
    """Whether a thermometer may show that in boiling water, which is cooler high up."""
    named = about.instrument is not None or about.pronoun in _WHOSE or owner(line, figure) is not None
    return (180 if named else 195) <= figure.value <= 220


def _icy_celsius(line: Line, figure: Figure, first: int) -> bool:
    """`in the ice it was 0.2`: what a thermometer in °C shows in ice water; no ice is so cold in °F."""
    iced = any(token.low == "ice" for token in line.tokens[first : figure.first])
    return iced and figure.unit is None and abs(figure.value) <= _OFF_DEGC


_OFF_DEGC = 6.0
"""°C by which a thermometer in ice water may be off: common practice, no source."""


_DOING = {"washing": "wash", "rinsing": "rinse"}


def _doing(line: Line, figure: Figure) -> str:
    """`172 washing, 187 final`, `rinsing at 184`: what the machine does at that temperature."""
    before = figure.first - 1
    while before > 0 and line.classes[before] in ("links", "auxiliaries", "prepositions"):
        before -= 1
    beside = [before, figure.last] if figure.last < len(line.tokens) else [before]
    return next((_DOING[line.tokens[n].low] for n in beside if n >= 0 and line.tokens[n].low in _DOING), "")


def _washed_by(line: Line, instrument: Chunk) -> str:
    """The wash of `wash thermometer's 131`: the part of a machine that its thermometer is named after."""
    named = {line.tokens[n].low for n in range(instrument.first, instrument.last)}
    return next((what for what in ("wash", "rinse") if what in named), "")


def _misplaced(draft: Draft) -> bool:
    """`gravy 38, no, 138`: a figure that the stage of the one it takes the place of cannot have."""
    low, high = LIKELY.get(draft.stage, (-1000, 1000))
    return draft.stage in FOOD_STAGES and not low <= fahrenheit(draft.value, draft.unit) <= high


def _reheated_between(line: Line, parent: Draft, figure: Figure) -> bool:
    """`chili 128 and they reheated it to 168`: the second figure is of another stage."""
    between = range(parent.figure.last, figure.first)
    return parent.line is line and any(
        cue.stage == "reheating" and start in between for start, _, cue in line.cues
    )


def _held_now(line: Line, about: Subject, parent: Draft, figure: Figure) -> bool:
    """`chili reheated to 168, now 152 on the line`: it is held where it is now."""
    hot = any(chunk.place is not None and chunk.place.stage == "hot_holding" for chunk in about.places)
    now = any(line.tokens[n].low == "now" for n in range(parent.figure.last, figure.first))
    return hot and now and parent.line is line


_SIDES = frozenset(("deepest", "thickest", "inner", "outer", "left", "right", "dark", "white", "upper"))


@dataclass(frozen=True, slots=True)
class _Whole:
    item: str | None
    chunk: Chunk | None


def _part_of(line: Line, draft: Draft, scene: Scene) -> _Whole | None:
    """The bird of `birds just came out, thigh 178`: a part that is named without its food."""
    chunk = draft.chunk
    if (
        chunk is None
        or any(line.tokens[n].low not in _SIDES for n in range(chunk.first, chunk.last - 1))
        or line.tokens[chunk.last - 1].stem not in BODY_PARTS
        or line.tokens[chunk.last - 1].low.endswith("s")  # `wings` are a dish
        or not draft.item
        or line.index != scene.topic_line
    ):
        return None
    if scene.topic_chunk is chunk:
        before = [c for c in line.chunks if c.known_food and c.first < chunk.first and c is not chunk]
        before = [c for c in before if line.tokens[c.last - 1].stem not in BODY_PARTS]
        return _Whole(item_name(line, before[-1]), before[-1]) if before else None
    return _Whole(scene.topic, scene.topic_chunk) if scene.topic_food else None


def _in_ice(line: Line, first: int, end: int) -> bool:
    """`back in the ice, 32`, `theirs, same bath, 35`."""
    return any(token.low in _CHECKED_IN for token in line.tokens[first:end])


_CHECKED_IN = word_set("ice slush slurry bath boil boiling nut")


def _dunked(line: Line, first: int, end: int) -> bool:
    """`he gave the nut a turn and dunked it again, 199`: the thermometer that was checked just before."""
    return any(token.low in ("dunked", "dunk", "dunks", "nut") for token in line.tokens[first:end])


def _food_stage(read: Read, draft: Draft, about: Subject, scene: Scene, clocks: int) -> tuple[str, str]:
    line, figure = read.line, draft.figure
    limits = stages_of_limits(line, read.figures, figure, draft.value, draft.unit)
    others = _others(read, figure)
    stage, why = food_stage(line, draft, about, scene, clocks=clocks, others=others, limits=limits)
    draft.stage_fixed = draft.stage_fixed or stage in limits or stage == "reheating"
    return stage, why


def _others(read: Read, figure: Figure) -> list[tuple[int, int]]:
    """Tokens of the measured figures around one, the nearest dozen on each side."""
    at = bisect_left(read.figures, figure.first, key=lambda other: other.first)
    near = read.figures[max(0, at - 12) : at + 13]
    measured = (
        f
        for f in near
        if f is not figure and f.role in ("figure", "set_point", "mentioned") and f.kind != "duration"
    )
    return [(f.first, f.last) for f in measured]


def _from_behind(read: Read, draft: Draft) -> None:
    later = food_behind(read.line, read.figures, read.figures.index(draft.figure))
    if later is not None:
        draft.chunk, draft.item, draft.food = later, item_name(read.line, later), True


_SERVED_IN = frozenset(("rice", "soup", "queso", "cheese", "oatmeal", "gravy", "chili", "nacho cheese"))


def _food_in_place(line: Line, about: Subject) -> str | None:
    """`the rice cooker is at 158`: a vessel named after the one food it holds."""
    for place in about.places:
        name = line.words(place.first, place.last - 1).lower() if place.last - place.first > 1 else ""
        if name in _SERVED_IN:
            return line.words(place.first, place.last - 1)
    return None


def _subject_place(line: Line, figure: Figure, about: Subject) -> bool:
    """`Walk-in is at 38`: the place itself is what the figure is about."""
    nearest = max(about.places, key=lambda chunk: chunk.first if chunk.first < figure.first else -1)
    if nearest.place is None or not (
        nearest.place.air
        or nearest.place.stage == "freezing"
        or line.tokens[nearest.last - 1].low in ("room", "kitchen")
    ):
        return False
    between = [token.low for token in line.tokens[nearest.last : figure.first]]
    return nearest.first < figure.first and "," not in between and not nearest.preposition


def _heading(line: Line, figure: Figure) -> bool:
    """Only a place was named before the figure in its sentence: `Freezer here reads minus 6`."""
    first, _ = line.sentence_span(figure.first)
    return not any(chunk.known_food and first <= chunk.first < figure.first for chunk in line.chunks)


def _ambient(line: Line, draft: Draft) -> Draft:
    draft.item, draft.chunk = None, None
    cold = draft.place_row is not None and draft.place_row.stage == "freezing"
    draft.stage = "freezing" if cold else "ambient"
    first, end = line.sentence_span(draft.first)
    draft.rules.append(("stage: the unit's own temperature", line.index, *chars(line, first, end)))
    return draft


_HOT = ("cooking", "reheating", "hot_holding")


def _hard_frozen(draft: Draft) -> bool:
    return draft.kind == "temperature" and fahrenheit(draft.value, draft.unit) < HARD_DEGF


def carry(line: Line, draft: Draft, scene: Scene) -> None:
    """Takes the food named before, when nothing was named with the figure."""
    last = scene.last_but_held
    draft.carried = True
    if last is not None and last.line is not line and last.stage in _HOT and _hard_frozen(draft):
        return  # a freezer, named after the griddle
    if scene.topic is not None and scene.topic_food and scene.topic_line >= line.index - 1 and (
        last is None or scene.topic_line > last.line.index or scene.topic_line == line.index
    ):  # fmt: skip
        draft.item, draft.chunk, draft.food = scene.topic, scene.topic_chunk, True
        if last is not None and last.item is not None and heads_agree(last.item, scene.topic):
            draft.item = last.item
        if scene.topic_place is not None and scene.topic_line == line.index and draft.place == scene.place:
            draft.place, draft.place_row = scene.topic_place
        return
    if last is not None and last.kind == "temperature" and last.line.index >= line.index - 3 and last.food:
        draft.item, draft.chunk, draft.food = last.item, last.chunk, last.food
        if draft.place == scene.place and scene.place != last.place and last.place is not None:
            draft.place, draft.place_row = last.place, last.place_row

"""Temperatures of water, machines, dishes and hands."""

from __future__ import annotations

from itertools import pairwise

from extract.of_what.staging import HOT_BASIN, LIKELY, fahrenheit
from extract.of_what.subject import Subject
from extract.scene import Draft, Scene
from extract.words.line import Line
from extract.words.naming import item_name, place_name
from extract.words.text import word_set


def washing_stage(
    line: Line, draft: Draft, about: Subject, scene: Scene, what: str, first: int, end: int
) -> str | None:
    """Stage of a temperature that is of water, a machine or a dish; sets the item. None: it is food or
    air."""
    known_food = draft.chunk is not None and draft.chunk.known_food
    if known_food:
        return None
    row = draft.place_row
    near = [
        chunk.object.what for chunk in line.chunks if chunk.object is not None and first <= chunk.first < end
    ]
    machine = (row is not None and row.stage == "machine") or (
        what in ("wash", "rinse", "surface")
        and (scene.machine == "machine" or (scene.machine != "warewashing" and _has_final_rinse(line)))
    )
    if what == "" and scene.machine == "machine" and _is_tank(line, about):
        return "machine_wash"
    hand = row is not None and row.stage == "handwashing"
    if (
        what == "water"
        and not hand
        and any(cue.stage == "thawing" and start < end for start, _, cue in line.cues)
    ):
        return "thawing"
    if what == "surface" or (what == "strip" and machine):
        return "utensil_surface"
    if what == "sanitize_basin" and fahrenheit(draft.value, draft.unit) < HOT_BASIN:
        return "sanitizer"
    if what == "sanitize_basin" or (
        row is not None
        and row.stage == "warewashing"
        and what not in ("wash", "rinse")
        and _hot_sanitizing(line, draft)
    ):
        if what != "sanitize_basin":
            basin = [
                c
                for c in line.chunks
                if c.object is not None and c.object.what == "sanitize_basin" and first <= c.first < end
            ]
            draft.item = item_name(line, basin[0]) if basin else None if what in ("water", "") else draft.item
        draft.agent = "hot_water"
        return "manual_sanitize"
    if what in ("wash", "rinse") or (machine and what in ("", "water", "pressure") and draft.chunk is None):
        wash = what == "wash" or (what != "rinse" and "wash" in near and "rinse" not in near)
        if what == "" and not near:
            wash = wash or _of_tank(line, draft)
        in_sink = about.chunk is not None and line.tokens[about.chunk.last - 1].low in _SINK_PARTS
        if machine or (row is None and scene.machine != "warewashing" and not in_sink):
            if not _named_part(line, about):
                draft.item = None
            draft.chunk = None
            return "machine_wash" if wash else "machine_rinse"
        if (water := _water_in(line, about)) is not None:
            draft.item, draft.place = water
        return "manual_wash" if wash else "other"
    sink = _same_sink(draft, scene) if draft.chunk is None and not about.places else None
    if sink is not None:
        draft.item, draft.place, draft.place_row = sink.item, sink.place, sink.place_row
        return "handwashing"
    if _of_hands(draft, about, scene, what):
        assert scene.hand_sinks is not None
        if about.chunk is not None and about.chunk.sort == "noun" and not about.places:
            draft.place, draft.place_row = (
                item_name(line, about.chunk),
                None,
            )  # `Hand sinks: line 103, prep 97`
        elif not about.places:
            draft.place = scene.room
        draft.item, draft.chunk = scene.hand_sinks[1], None
        return "handwashing"
    if hand and what in ("water", "") and not (scene.last is not None and scene.last.stage == "thawing"):
        draft.item = _hand_sink(line, draft) or draft.item or draft.place
        if (
            draft.place is not None
            and draft.item is not None
            and draft.place.casefold() == draft.item.casefold()
        ):
            draft.place = None
        if draft.place is None and scene.room is not None:
            draft.place = scene.room
        draft.chunk = None
        return "handwashing"
    if what == "water":
        last = scene.last
        if (
            draft.agent
            or scene.agent_line >= line.index - 1
            or (last is not None and last.kind in ("concentration", "ph"))
        ):
            draft.item = "water"
            if last is not None and last.line is line and last.kind == "concentration" and not about.places:
                draft.place, draft.place_row = last.place, last.place_row
            return "sanitizer"
        if (last is not None and last.stage == "thawing") or _over_food(line, draft, scene):
            bath = next((d for d in scene.recent(line.index, back=6) if d.stage == "thawing"), None)
            if bath is not None and not about.places:
                draft.place, draft.place_row = bath.place, bath.place_row
            return "thawing"
        if row is not None and row.stage == "warewashing":
            return "manual_wash"
        if scene.machine == "handwashing":
            if draft.place is not None and draft.place.lower().endswith("sink") and about.after:
                draft.item, draft.place, draft.place_row = (
                    draft.place,
                    None,
                    None,
                )  # `sink's clear, 96 at the tap`
            return "handwashing"
        return "other"
    last = scene.last
    if draft.chunk is None and _warmed_up(line, draft, last, first):
        assert last is not None
        draft.item, draft.place, draft.place_row, draft.agent = (
            "water",
            last.place,
            last.place_row,
            last.agent,
        )
        return "sanitizer"
    if (
        last is not None
        and last.kind == "concentration"
        and last.line is line
        and line.sentence[last.first] == line.sentence[draft.first]
        and draft.figure.unit is not None
        and draft.chunk is None
        and not about.places
    ):
        draft.item = "water"  # `chlorine 50, 75 degrees`
        return "sanitizer"
    if (
        last is not None
        and last.stage == "handwashing"
        and last.line is line
        and draft.chunk is None
        and about.places
        and not about.gauge
    ):
        draft.item = None
        return "handwashing"
    if row is not None and row.stage == "warewashing" and draft.chunk is None:
        return "manual_wash"
    if _next_machine(line, draft, scene, first):
        assert last is not None
        draft.item, draft.chunk, draft.stage_fixed = None, None, True
        return last.stage
    if what == "" and draft.chunk is None and not about.places and _same_wash(line, draft, scene):
        return "manual_wash"
    return None


_ANOTHER = word_set("one two three four five 1 2 3 4 5 other")


def _next_machine(line: Line, draft: Draft, scene: Scene, first: int) -> bool:
    """`the rinse on number two is running 201. Number one is 188`: the same of a second machine."""
    last = scene.last
    if last is None or last.stage not in ("machine_wash", "machine_rinse") or last.unit != draft.unit:
        return False
    before = line.tokens[first : draft.first]
    numbered = any(
        one.low in ("number", "machine", "the") and two.low in _ANOTHER for one, two in pairwise(before)
    )
    low, high = LIKELY[last.stage]
    likely = low <= fahrenheit(draft.value, draft.unit) <= high
    named = any(
        chunk.known_food or chunk.object for chunk in line.chunks if first <= chunk.first < draft.last
    )
    return numbered and likely and not named and last.line.index >= line.index - 1


_ADDED = word_set("cut added adds mixed topped poured let ran warmed heated put")
_WARM = word_set("hot warm hotter warmer boiling heat")


def _warmed_up(line: Line, draft: Draft, last: Draft | None, first: int) -> bool:
    """`he cut it with hot from the urn, 83 now`: the water of a sanitizer that was found too cold."""
    if last is None or last.stage != "sanitizer" or last.line.index < draft.line.index - 1:
        return False
    lows = {token.low for token in line.tokens[first : draft.first]}
    low, high = LIKELY["handwashing"]
    return bool(lows & _ADDED and lows & _WARM) and low <= fahrenheit(draft.value, draft.unit) <= high


_SINK_REACH = 3
"""Utterances after a heading of hand sinks in which bare figures are still of their water."""


def _of_hands(draft: Draft, about: Subject, scene: Scene, what: str) -> bool:
    """`Hand sinks. Grill side 92. Salad side, ran it a minute, 74.`: nothing else is being measured."""
    sinks, last = scene.hand_sinks, scene.last
    if sinks is None or draft.line.index > sinks[0] + _SINK_REACH or what not in ("", "water"):
        return False
    listed = sinks[0] == draft.line.index and about.chunk is not None and not about.chunk.known_food
    if about.chunk is not None and about.chunk.sort not in ("position", "object") and not listed:
        return False
    since = last is not None and last.line.index >= sinks[0] and last.stage != "handwashing"
    low, high = LIKELY["handwashing"]
    likely = low <= fahrenheit(draft.value, draft.unit) <= high
    return likely and not since and about.gauge is None and about.instrument is None


def _has_final_rinse(line: Line) -> bool:
    """Only a machine has a final rinse: no sink does."""
    lows = [token.low for token in line.tokens]
    return any(pair == ("final", "rinse") for pair in pairwise(lows))


def _over_food(line: Line, draft: Draft, scene: Scene) -> bool:
    """The water of a prep sink that food was just said to lie in, or water that runs over food."""
    first, _ = line.sentence_span(draft.first)
    over = any(
        chunk.known_food and chunk.preposition == "over" and first <= chunk.first < draft.first
        for chunk in line.chunks
    )
    sink = scene.machine == "" and draft.place is not None and draft.place.lower().endswith("sink")
    said = [chunk for chunk in line.chunks if chunk.known_food and chunk.first < draft.first]
    wet = any(draft_before.stage == "sanitizer" for draft_before in scene.recent(line.index, back=0))
    return not wet and (over or (sink and bool(said)))


def _same_sink(draft: Draft, scene: Scene) -> Draft | None:
    """The hand sink measured last, when a figure with nothing to its name can be of the same water again."""
    last = scene.last
    if last is None or last.stage != "handwashing" or last.line.index < draft.line.index - 3:
        return None
    low, high = LIKELY["handwashing"]
    likely = last.unit == draft.unit and low <= fahrenheit(draft.value, draft.unit) <= high
    return last if likely and last.line is not draft.line else None


_FILLED = word_set("filled refilled refill drained changed ran emptied new fresh hot hotter water")


def _same_wash(line: Line, draft: Draft, scene: Scene) -> bool:
    """`filled it again, it's at 118`: the wash water measured before, now said to be changed."""
    warm = next((d for d in scene.recent(line.index, back=3) if d.kind == "temperature"), None)
    if warm is None or warm.stage != "manual_wash" or draft.value < 60:
        return False
    lows = {token.low for token in line.tokens[: draft.first]}
    changed = bool(lows & _FILLED) and (scene.last is warm or "wash" in lows)
    return changed and not any(chunk.known_food for chunk in line.chunks)


_SINK_PARTS = frozenset(("bay", "basin", "compartment", "vat", "sink"))


def _water_in(line: Line, about: Subject) -> tuple[str, str] | None:
    """Item and place of `the water in the wash compartment`."""
    part = about.chunk
    at = line.chunk_at[part.prepared_at - 1] if part is not None and part.prepared_at else -1
    if part is None or part.preposition != "in" or at < 0:
        return None
    water = line.chunks[at]
    if water.object is None or water.object.what != "water":
        return None
    return item_name(line, water), line.words(part.first, part.last)


def _named_part(line: Line, about: Subject) -> bool:
    """Parts such as `wash tank` and `rinse line` are named as measured; `wash` and `final rinse` are the
    stage only."""
    return about.chunk is not None and line.tokens[about.chunk.last - 1].low in (
        "tank",
        "line",
        "basin",
        "manifold",
        "water",
    )


def stage_alone(draft: Draft) -> bool:
    """Whether the item of a machine's water only says the stage, as in `Wash 158, rinse 185`."""
    of_machine = draft.stage in ("machine_wash", "machine_rinse") and draft.kind == "temperature"
    return of_machine and (draft.item or "").lower() in _STAGE_ALONE


_STAGE_ALONE = frozenset(("wash", "rinse", "final rinse", "final"))


def _is_tank(line: Line, about: Subject) -> bool:
    """`the tank is 158` of a dish machine: its wash water."""
    return about.chunk is not None and line.tokens[about.chunk.last - 1].low == "tank"


_PARTS = {"tank": True, "wash": True, "washing": True, "booster": False, "rinse": False, "final": False}
"""Words for parts of a machine, with whether its wash water is in them."""


def _of_tank(line: Line, draft: Draft) -> bool:
    """`he found the tank heater tripped, now it's at 164`: the part that was named last before the figure."""
    named = [_PARTS[token.low] for token in line.tokens[: draft.first] if token.low in _PARTS]
    return bool(named) and named[-1]


def _hot_sanitizing(line: Line, draft: Draft) -> bool:
    place = (draft.place or "").lower()
    first, end = line.sentence_span(draft.first)
    if any(agent == "hot_water" and first <= start < end for start, _, (agent, _) in line.agents):
        return True
    return "sanit" in place and draft.value >= 100


def _hand_sink(line: Line, draft: Draft) -> str | None:
    sinks = [c for c in line.chunks if c.place is not None and c.place.stage == "handwashing"]
    before = [c for c in sinks if c.first < draft.first]
    for chunk in before[-1:] or sinks[:1]:
        if chunk.place is not None:
            rest = [c for c in line.chunks if c.sort == "place" and c.first > chunk.last and c.preposition]
            name = item_name(line, chunk)
            if rest and rest[0].prepared_at - chunk.last <= 2 and rest[0].prepared_at >= chunk.last:
                draft.place = place_name(line, rest[0])
            return name
    return "hand sink"

"""Readings from prepared utterances: figures with kind, unit, stage, item, place, agent and time."""

from __future__ import annotations

from itertools import pairwise

from extract.amended.amend import amendments
from extract.amended.heard_again import heard_again
from extract.figures.figure import Figure
from extract.figures.quantities import figures
from extract.meant_for.roles import settle_roles
from extract.measured.acid_or_dry import PH_LINES
from extract.measured.clock_times import attach_clocks
from extract.measured.durations import duration
from extract.measured.in_turn import in_turn, too_few
from extract.measured.kinds import kind_of
from extract.measured.lengths import length
from extract.measured.numbered_places import settle_numbered_places
from extract.measured.planned_before import keep_to_plans
from extract.measured.scales import note_scale
from extract.measured.solutions import concentration, keep_point, other_kind, ph
from extract.measured.temperatures import temperature
from extract.measured.time_held import leave_time_out
from extract.measured.walk import (
    cooling_word,
    in_vehicle,
    inside_place,
    left_behind,
    left_place,
    look_around,
    pass_places,
    praised_place,
    step_back,
    trailing_place,
)
from extract.measured.washing import stage_alone
from extract.measured.wholes import name_wholes
from extract.of_what.staging import served_hot
from extract.of_what.subject import Subject, subject
from extract.scene import Draft, Read, Scene
from extract.settled.asking import ask
from extract.settled.placing import name_things, settle_places
from extract.settled.settling import settle_readings
from extract.settled.taking_back import keep_last
from extract.settled.times import hear_times
from extract.settled.weighing import span_only_mentioned, weigh_figures
from extract.words.lexicon import Lexicon
from extract.words.line import Chunk, Line, keep_clear, prepare
from extract.words.naming import ASIDE, bare_door, generic, item_name, place_name, said_to_be
from extract.words.text import phrase, word_set


def read_line(
    text: str, index: int, scene: Scene, words: Lexicon, *, hour: float | None, degrees: str
) -> Read:
    """Reads one utterance in its scene and moves the scene on. `degrees`: the unit where none was said."""
    line = prepare(text, index, words)
    step_back(scene)
    found = figures(line, words, hour=hour, acid=0 <= scene.ph_from[0] >= index - PH_LINES)
    settle_roles(line, found, words)
    told = ask(line, found, scene.lines)
    weigh_figures(line, found, told.figures)
    settle_numbered_places(line, found, scene)
    hear_times(line, found, hour)
    scene.lines.append(line)
    note_scale(line, found, scene)
    for figure in found:
        keep_clear(line, figure.first, figure.last)
    changes = amendments(line, found, words)
    keep_last(found, changes)
    heard_again(line, found, changes)
    if any(figure.unit == "degF" for figure in found):
        scene.only_celsius = False
    scene.celsius.extend((index, figure.value) for figure in found if figure.unit == "degC")
    read = Read(line, found, changes, told, place_before=scene.place, hour=hour)
    look_around(line, scene)
    taken: set[int] = set()
    clocks = attach_clocks(line, found)
    for old, new in changes.replaced.items():
        if found[new].clock is None and found[new].role == "figure":
            found[new].clock = found[old].clock  # `at 11.05 97, no, 79`
    kept = clocks > 1 and not _falls(found)
    if kept:
        clocks = 1
    passed = 0
    listed = in_turn(line, found)
    by_figure: dict[int, Draft] = {}
    for at, figure in enumerate(found):
        if scene.place_is_aside and scene.aside_sentence != line.sentence[figure.first]:
            step_back(scene)
        passed = pass_places(line, scene, passed, figure.first)
        if figure.role != "figure":
            continue
        about = subject(line, found, at, taken)
        if at in listed:
            about.chunk, about.shares = listed[at], None
        earlier = by_figure.get(about.shares) if about.shares is not None else None
        replaced = next(
            (by_figure[a] for a, b in changes.replaced.items() if b == at and a in by_figure), None
        )
        draft = _draft(read, at, about, earlier, replaced, scene, clocks, degrees)
        if draft is None or span_only_mentioned(draft):
            continue
        if at in changes.fallen:
            draft.fallen = changes.fallen[at]
        if at in changes.reassigned and _names_it(changes.reassigned[at]):
            draft.chunk, draft.item_fixed = changes.reassigned[at], True
            draft.item, draft.food, draft.item_fixed = item_name(line, draft.chunk), True, True
        draft.item_fixed = draft.item_fixed or at in listed
        draft.stage_fixed = draft.stage_fixed or (kept and draft.clock is not None)
        if replaced is not None:
            replaced.successor = draft
        by_figure[at] = draft
        draft.order = len(scene.drafts)
        scene.drafts.append(draft)
        read.drafts.append(draft)
    pass_places(line, scene, passed, len(line.tokens))
    left_behind(read)
    trailing_place(read)
    praised_place(read)
    settle_readings(read, scene)
    keep_to_plans(read.drafts, scene.lines)
    leave_time_out(read)
    settle_places(read, scene)
    name_things(read, scene)
    for draft in read.drafts:
        if stage_alone(draft):
            draft.item = draft.chunk = None
    for at, foods in too_few(line, found).items():
        if at in by_figure and by_figure[at].item is not None:
            _doubt_which(by_figure[at], [item_name(line, food) for food in foods])
    name_wholes(read, scene)
    return read


def _doubt_which(draft: Draft, foods: list[str]) -> None:
    """`grits, gravy and peas, 141 and 150`: of which two foods it cannot be told."""
    others = [food for food in foods if food != draft.item]
    draft.codes.append(
        ("item_unsure", f"It may be of the {' or the '.join(others)}, and not of the {draft.item}", ())
    )


_LEAST_FALL = 15.0
"""Degrees of either scale by which timed figures must fall to tell of cooling: common practice, no source."""


def _falls(found: list[Figure]) -> bool:
    """Timed figures tell of cooling where they fall: `141 at 10:45, 129 at 12:20` is food held too cool."""
    timed = [figure.value for figure in found if figure.role == "figure" and figure.clock is not None]
    return len(timed) < 2 or max(timed) - timed[-1] >= _LEAST_FALL


def _draft(
    read: Read,
    at: int,
    about: Subject,
    earlier: Draft | None,
    replaced: Draft | None,
    scene: Scene,
    clocks: int,
    degrees: str,
) -> Draft | None:
    line, figure = read.line, read.figures[at]
    kind, unit, said = kind_of(line, figure, about, earlier or replaced, scene, degrees)
    if kind is None:
        return None
    if kind == "ph":
        keep_point(figure)
    draft = Draft(figure, line, figure.value, unit, kind, clock=figure.clock, unit_said=said)
    parent = replaced or earlier
    if earlier is not None and replaced is None and _turns(line, earlier.figure, figure):
        parent = None
    chunk = about.chunk
    if chunk is None and parent is not None:
        draft.item, draft.chunk, draft.food = parent.item, parent.chunk, parent.food
        draft.place, draft.place_row = parent.place, parent.place_row
        if about.places:
            _own_place(line, draft, about, scene)
        draft.agent = parent.agent
    else:
        _own_place(line, draft, about, scene)
    if chunk is not None:
        draft.chunk, draft.item = chunk, item_name(line, chunk)
        draft.food = chunk.known_food or chunk.object is None
        if scene.place_is_aside and not about.places and draft.place == scene.place and served_hot(draft):
            draft.place, draft.place_row = scene.base_place, scene.base_row
        if chunk.known_food:
            draft.known_as = (
                _longer_name(line, chunk) or said_to_be(line, chunk) or _named_before(draft, scene)
            )
        elif chunk.object is None:
            draft.known_as = said_to_be(line, chunk)
        where = set((draft.place or "").lower().split())
        if draft.food and where & _FROZEN_MIX:
            draft.known_as = f"{draft.item} soft serve mix"
        elif draft.food and _EGGS.intersection(draft.item.lower().split()) and _cracked(line, draft):
            draft.known_as = f"pooled {draft.item}"
        elif draft.food and _of_milk(line, where) and _FLAVORS.intersection(draft.item.lower().split()):
            draft.known_as = f"{draft.item} milk"
    maker = _MAKERS.get(kind, other_kind)
    return maker(read, draft, about, parent, scene, clocks)


_EGGS = word_set("egg eggs")
_POOLED = word_set("pooled beaten whisked liquid")
_CRACKED = word_set("cracked broken")


def _cracked(line: Line, draft: Draft) -> bool:
    """`raw eggs cracked into a bucket` are held as liquid eggs, and not as eggs in their shells."""
    first, end = line.sentence_span(draft.first)
    lows = [token.low for token in line.tokens[first:end]]
    into = any(one in _CRACKED and two == "into" for one, two in pairwise(lows))
    return into or not _POOLED.isdisjoint(lows)


_FROZEN_MIX = word_set("hopper hoppers soft-serve serve")
"""Words of places in which each flavour is of a milk mix: `hopper`, `soft serve machine`."""
_FLAVORS = word_set("chocolate strawberry vanilla white plain")
"""What milk is told apart by in a milk box, where it stands without its name: `chocolate 46`."""


def _of_milk(line: Line, where: set[str]) -> bool:
    """`Milk box. White 37, chocolate 46`, `half pints 36, chocolate 37`."""
    pints = any(token.low in ("pint", "pints") for token in line.tokens)
    return "milk" in where or pints


def _longer_name(line: Line, chunk: Chunk) -> str | None:
    """The `baked pork buns` that `the buns` are."""
    name = [token.stem for token in line.tokens[chunk.first : chunk.last]]
    for other in reversed(line.chunks):
        size = other.last - other.first
        tail = [token.stem for token in line.tokens[other.last - len(name) : other.last]]
        if other.first < chunk.first and other.known_food and size > len(name) and tail == name:
            return item_name(line, other)
    return None


_LINES = 2
"""Utterances that a food's whole name is remembered for."""


def _named_before(draft: Draft, scene: Scene) -> str | None:
    """The `chicken livers` of an utterance before that `livers 178` speaks of."""
    if draft.item is None:
        return None
    name = phrase(draft.item)
    for other in scene.recent(draft.line.index, back=_LINES):
        whole = phrase(other.known_as or other.item or "")
        if other.food and len(whole) > len(name) and whole[-len(name) :] == name:
            return other.known_as or other.item
    return None


def _turns(line: Line, earlier: Figure, figure: Figure) -> bool:
    """Another agent is named between two figures, so the second is not about what the first was about."""
    return any(earlier.last <= start < figure.first for start, _, _ in line.agents)


def _own_place(line: Line, draft: Draft, about: Subject, scene: Scene) -> None:
    for place in about.places:
        if place.determiner == "same" and scene.place is not None:
            break
        if (
            not generic(line, place)
            and place.preposition != "for"
            and not cooling_word(line, place)
            and not left_place(line, place)
            and not bare_door(line, place)
            and not ((place.preposition in ASIDE or not in_vehicle(scene)) and _arrived(place, scene))
            and not (not place.preposition and _shelf_of(line, place, scene))
        ):
            chosen = place
            while (outer := inside_place(line, chosen)) is not None:
                chosen = outer
            draft.place, draft.place_row = place_name(line, chosen), chosen.place
            return
    draft.place, draft.place_row = scene.place, scene.place_row


def _names_it(chunk: Chunk) -> bool:
    """`the 51 was the relish` and not `51 but that one is shelf stable`."""
    return chunk.known_food or chunk.determiner in ("the", "a", "an", "their")


def _shelf_of(line: Line, place: Chunk, scene: Scene) -> bool:
    """The shelf of `Walk-in: dairy 38, raw chicken bottom shelf 37`: the unit it is in is known."""
    inside = scene.place_row is not None and scene.place_row.air
    return inside and line.tokens[place.last - 1].stem in ("shelf", "rack")


def _arrived(place: Chunk, scene: Scene) -> bool:
    """The truck of `School dock. Franks off the truck, 49`: where it came from; the dock is where it is."""
    both = scene.place_row is not None and scene.place_row.stage == "receiving"
    return both and place.place is not None and place.place.stage == "receiving"


_MAKERS = {
    "temperature": temperature,
    "concentration": concentration,
    "ph": ph,
    "length": length,
    "duration": duration,
}

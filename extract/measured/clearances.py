"""How high equipment stands and how wide a door gapes: lengths whose thing may be named further off."""

from __future__ import annotations

from extract.checks.surroundings import conditions
from extract.scene import Draft, Scene
from extract.words.line import Chunk, Line
from extract.words.naming import item_name, place_name
from extract.words.text import word_set

_LEGS = word_set("leg legs foot feet caster casters castor castors wheel wheels")
_IN_FLOOR = word_set("sink sinks drain drains funnel")
_NO_EQUIPMENT = _LEGS | word_set("pipe line hose tube drain spout")
_MACHINES = word_set("machine unit equipment")
_STANDS = word_set("stand stands standing sit sits sitting raised rises clearance clears up off above")
_GROUND = word_set("floor ground tile tiles concrete deck counter counters countertop table tabletop")
_DOORS = word_set("door doors screen window windows dock")
_LIGHT = word_set("daylight light gap crack space opening sag air")
_EQUIPMENT = frozenset(("floor_equipment", "table_equipment"))


def equipment(line: Line, draft: Draft, scene: Scene, first: int, end: int) -> bool:
    """Whether a length tells how high a piece of equipment stands; sets its item, place and kind."""
    lows = {
        token.low
        for n, token in enumerate(line.tokens[first:end], first)
        if not (token.low == "floor" and n + 1 < end and line.tokens[n + 1].low in _IN_FLOOR)
    }
    on_legs, other = bool(lows & _LEGS), _another(line, draft, scene, first)
    if not on_legs and not (lows & _STANDS and lows & _GROUND) and other is None:
        return False
    named = _named(line, draft.first, first, back=on_legs)
    if named is None and other is None:
        return False
    item = item_name(line, named) if named is not None else other
    begin = named.last if named is not None else first
    draft.stage, draft.item, draft.chunk, draft.food = "other", item, None, False
    on = next((c for c in line.chunks if c.first >= begin and _carries(c)), None)
    if on is not None and on.first < draft.first:
        draft.place, draft.place_row = place_name(line, on), on.place
    elif scene.place is not None and scene.place.casefold() == (item or "").casefold():
        draft.place = draft.place_row = None
    kinds = conditions(item, None) & _EQUIPMENT
    if other is not None and scene.last is not None:
        kinds = kinds or scene.last.facts & _EQUIPMENT
    on_top = on is not None and line.tokens[on.last - 1].low.startswith(("counter", "table"))
    on_floor = bool(
        lows & _GROUND and not any(low.startswith(("counter", "table")) for low in lows & _GROUND)
    )
    kind = "table_equipment" if on_top else "floor_equipment" if on_floor or not kinds else min(kinds)
    draft.facts = draft.facts | {kind}
    return True


def _named(line: Line, figure: int, first: int, *, back: bool) -> Chunk | None:
    """The equipment named nearest before the figure, in its sentence or, where only its legs are, earlier."""
    for chunk in reversed(line.chunks):
        if chunk.first >= figure or chunk.sort in ("gone", "instrument") or chunk.last <= chunk.first:
            continue
        if chunk.first < first and not back:
            return None
        if line.tokens[chunk.last - 1].low in _NO_EQUIPMENT:
            continue
        if conditions(line.words(chunk.first, chunk.last), None) & _EQUIPMENT and not chunk.preposition:
            return chunk
        if back and line.tokens[chunk.last - 1].low in _MACHINES and not chunk.preposition:
            return chunk
        if chunk.known_food:
            return None
    return None


def _another(line: Line, draft: Draft, scene: Scene, first: int) -> str | None:
    """The `little one` of `the tall machine is 7 inches up. The little one on the counter has 4`."""
    last = scene.last
    if last is None or last.line is not line or not last.facts & _EQUIPMENT:
        return None
    ones = (n for n in range(first + 1, draft.first) if line.tokens[n].low == "one")
    return next((line.words(n - 1, n + 1) for n in ones), None)


def _carries(chunk: Chunk) -> bool:
    return chunk.sort == "place" and chunk.preposition in ("on", "in", "by", "under", "at")


def door_gap(line: Line, draft: Draft, first: int, end: int) -> bool:
    """`back door, three quarters of an inch of daylight`: a gap that has its door for a place."""
    lows = {token.low for token in line.tokens[first:end]}
    if not (lows & _DOORS and lows & _LIGHT):
        return False
    doors = [c for c in line.chunks if first <= c.first < end and line.tokens[c.last - 1].low in _DOORS]
    if not doors:
        return False
    gap = draft.chunk is not None and line.tokens[draft.chunk.last - 1].low == "gap"
    draft.stage = "other"
    if not gap:
        draft.item = draft.chunk = None
    draft.place, draft.place_row = line.words(doors[0].first, doors[0].last), doors[0].place
    return True

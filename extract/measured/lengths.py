"""Readings of length: off the floor, air gaps, and others."""

from __future__ import annotations

from extract.measured.clearances import door_gap, equipment
from extract.measured.temperatures import carry
from extract.of_what.subject import Subject
from extract.scene import Draft, Read, Scene
from extract.words.line import Chunk, Line
from extract.words.naming import generic, item_name, place_name
from extract.words.text import word_set


def _is_vessel(chunk: Chunk) -> bool:
    return chunk.object is not None and chunk.object.what == "vessel"


def _cooling(line: Line, scene: Scene) -> bool:
    """Food that cools is spoken of, where its depth counts."""
    last = scene.last
    told = last is not None and last.stage == "cooling" and last.line.index >= line.index - 2
    return told or any(cue.stage == "cooling" for _, _, cue in line.cues)


_WIDTHS = word_set("diameter bore opening width")


def _owner(line: Line, draft: Draft) -> Chunk | None:
    """The faucet of `the faucet has an inner diameter of an inch`: a width names no thing."""
    chunk = draft.chunk
    if chunk is None or line.tokens[chunk.last - 1].low not in _WIDTHS:
        return None
    first, _ = line.sentence_span(chunk.first)
    before = [
        c for c in line.chunks if first <= c.first < chunk.first and c.preposition == "" and c.sort != "gone"
    ]
    return before[0] if before else None


_SHELVES = word_set("shelf shelves rack racks pallet pallets dunnage skid riser platform")
_SIZES = word_set("deep pan pans thick wide tall layer piece pieces long apart wall crack hole torn rust")
_LAYERS = word_set("grease dirt dust ice frost water mud sludge crud gunk soot slime mold snow grime lint")
_GROUND = word_set("floor ground concrete mud dirt pavement asphalt gravel grass")


def _of_a_drain(line: Line, n: int) -> bool:
    """The floor of a floor sink or drain."""
    after = line.tokens[n + 1].low if n + 1 < len(line.tokens) else ""
    return after in ("sink", "sinks", "drain", "drains")


def length(
    read: Read, draft: Draft, about: Subject, parent: Draft | None, scene: Scene, clocks: int
) -> Draft | None:
    del clocks
    line, figure = read.line, draft.figure
    if parent is not None and parent.fallen is not None and about.chunk is None and parent.kind == "length":
        draft.stage, draft.item, draft.chunk = parent.stage, parent.item, parent.chunk
        draft.place, draft.place_row = parent.place, parent.place_row
        return draft  # `18 inches up, I mean 8 inches`
    first, end = line.sentence_span(figure.first)
    lows = {token.low for token in line.tokens[first:end]}
    after = [token.low for token in line.tokens[figure.last : figure.last + 4]]
    if after[:1] == ["of"] and _LAYERS & set(after[1:3]):
        return None  # `a quarter inch of grease`
    if any(
        other.kind == "illuminance" and first <= other.first < end for other in read.figures
    ) and not _SHELVES.intersection(lows):
        return None  # `held it at 30 inches, only 6 foot candles`
    if door_gap(line, draft, first, end) or equipment(line, draft, scene, first, end):
        return draft
    stored = any(token.low in _GROUND and not _of_a_drain(line, n) for n, token in enumerate(line.tokens))
    gap = any(c.object is not None and c.object.what == "distance" for c in line.chunks) or bool(
        lows
        & {
            "rim",
            "gap",
            "spout",
            "pipe",
            "faucet",
            "drain",
            "hole",
            "across",
            "diameter",
            "overflow",
            "clears",
        }
    )
    shelves = bool(lows & _SHELVES)
    pile = bool({"up", "off", "high"} & set(after)) and (
        (draft.chunk is not None and (draft.chunk.known_food or _is_vessel(draft.chunk))) or shelves
    )
    if not gap and (pile or (shelves and not lows & _SIZES)):
        stored = True
    if stored and not ("gap" in lows and "door" in lows):
        draft.stage = "storage"
        if draft.item is None or (
            draft.chunk is not None
            and draft.chunk.known_food is False
            and draft.chunk.object is None
            and line.tokens[draft.chunk.last - 1].low == "floor"
        ):
            shelf = [
                c
                for c in line.chunks
                if c.sort == "place" and c.first < figure.first and "shel" in line.tokens[c.last - 1].low
            ]
            draft.item = item_name(line, shelf[-1]) if shelf else draft.item
        shelf = [c for c in about.places if line.tokens[c.last - 1].low in _SHELVES]
        if draft.chunk is None and shelf:
            draft.item = item_name(line, shelf[0])
            others = [
                c for c in line.chunks if c.sort == "place" and c is not shelf[0] and not generic(line, c)
            ]
            draft.place = (
                place_name(line, others[0])
                if others
                else (scene.place if scene.place != draft.item else None)
            )
        elif draft.item is None:
            boxes = [
                c
                for c in line.chunks
                if c.object is not None and c.object.what == "vessel" and c.first < figure.first
            ]
            if boxes:
                draft.item = item_name(line, boxes[-1])
            elif scene.topic is not None and scene.topic_line >= line.index - 1:
                draft.item = scene.topic
        return draft
    if gap:
        draft.stage = "other"
        if (owner := _owner(line, draft)) is not None:
            draft.chunk, draft.item = owner, item_name(line, owner)
        if draft.chunk is None:
            things = [c for c in line.chunks if c.object is not None and c.object.what == "distance"]
            if things:
                draft.item = item_name(line, things[0])
            elif scene.drafts and scene.drafts[-1].kind == "length":
                draft.item = scene.drafts[-1].item
        return draft
    pan = any(_is_vessel(c) and 0 <= figure.first - c.last <= 3 and first <= c.first for c in line.chunks)
    if after[:1] in (["deep"], ["thick"]) and _cooling(line, scene) and not pan:
        draft.stage = "cooling"
        if draft.chunk is None or not draft.chunk.known_food:
            draft.item = draft.chunk = None
            carry(line, draft, scene)
        return draft if draft.item is not None else None
    return _by_second_reader(draft)


_SURELY, _SURE_STAGE = 0.9, 0.7
"""Share of the second reader from which a length is measured of which no words tell the use, and of its
stage."""


def _by_second_reader(draft: Draft) -> Draft | None:
    """`the make table's up on legs, six and a half inches clear under it`."""
    told = draft.figure.told
    if told is None or told.meant["r"] < _SURELY:
        return None
    stage = told.likeliest_stage
    if stage not in ("storage", "other") or told.stages[stage] < _SURE_STAGE:
        return None
    draft.stage = stage
    return draft

"""Moves the scene over the places and foods that an utterance names."""

from __future__ import annotations

import re

from extract.line import Chunk, Line
from extract.naming import ASIDE, generic, item_name, place_name, scene_place
from extract.scene import Read, Scene
from extract.text import phrase, word_set

_IN_CELSIUS = re.compile(
    r"\b(?:in|to|on|using|all|everything(?:'s| is)?(?: in)?|readings? (?:are|is)(?: in)?)"
    r" (?:degrees )?(?:celsius|centigrade)\b"
    r"|\bcelsius (?:today|from here|readings?|probe|throughout|unless)\b|\bin metric\b"
    r"|\b(?:in|using) (?-i:C)\b(?!-)",
    re.IGNORECASE,
)
_LOGGED = re.compile(
    r"\b(?:log|logs|logged|wrote|write|writes|recorded|record) (?:\w+ ){0,4}in (?:c|celsius|centigrade)\b",
    re.IGNORECASE,
)
"""Somebody else's figures are in °C: it holds while they are told, not for the whole inspection."""


_IN_FAHRENHEIT = re.compile(r"\b(?:in|to|back to) fahrenheit\b", re.IGNORECASE)


def look_around(line: Line, scene: Scene) -> None:
    if _LOGGED.search(line.text):
        scene.celsius_until = line.index + 1
    elif _IN_CELSIUS.search(line.text):
        scene.all_celsius = True
    elif _IN_FAHRENHEIT.search(line.text):
        scene.all_celsius = scene.only_celsius = False
        scene.celsius_until = -9
        scene.celsius.clear()
    for _, _, cue in line.cues:
        if cue.stage == "thermometer_check":
            scene.check_line = line.index
        if cue.stage == "time_control":
            scene.time_line = line.index
    for start, _, (agent, _) in line.agents:
        scene.agent, scene.agent_line = agent, line.index
        del start
    for n, token in enumerate(line.tokens):
        if token.low == "ph":
            scene.ph_from = line.index, n
            break
    for chunk in line.chunks:
        if chunk.object is not None and chunk.object.what == "light":
            scene.lighting_line = line.index


def step_back(scene: Scene) -> None:
    """Leaves a place that was only named as where one thing came from."""
    if scene.place_is_aside:
        scene.place, scene.place_row, scene.place_is_aside = scene.base_place, scene.base_row, False


def pass_places(line: Line, scene: Scene, first: int, last: int) -> int:
    """Moves the scene over the places and topics named between two tokens."""
    named: Chunk | None = None
    for chunk in line.chunks:
        if not first <= chunk.first < last or chunk.sort == "gone":
            continue
        if named is not None and _also_called(line, named, chunk):
            continue
        if chunk.object is not None and chunk.object.what == "vessel":
            _another_of_them(line, chunk, scene)
        if chunk.sort == "place" and chunk.place is not None:
            if chunk.place.stage in ("machine", "warewashing", "handwashing"):
                scene.machine = chunk.place.stage
            if chunk.determiner == "same" and scene.place is not None:
                continue
            if chunk.place.stage == "cooking" and cooling_word(line, chunk):
                continue
            if (
                scene.place is not None
                and line.tokens[chunk.last - 1].stem in ("shelf", "rack")
                and not chunk.place.stage
            ):
                continue
            if chunk.preposition in ("after", "before", "than", "since") or left_place(line, chunk):
                continue
            outer = inside_place(line, chunk)
            if outer is not None and not generic(line, outer):
                continue
            if scene_place(line, chunk) and not sent_there(line, chunk):
                named = chunk
                scene.place = (
                    place_name(line, chunk) if outer is None else line.words(outer.first, chunk.last)
                )
                scene.place_row = chunk.place
                scene.place_is_aside = chunk.place.stage == "cooking" and bool(chunk.preposition)
                scene.aside_sentence = line.sentence[chunk.first]
                if not scene.place_is_aside:
                    scene.base_place, scene.base_row = scene.place, scene.place_row
        elif _is_topic(chunk):
            scene.topic, scene.topic_chunk = item_name(line, chunk), chunk
            scene.topic_food, scene.topic_line = chunk.known_food, line.index
    return max(first, last)


def _also_called(line: Line, named: Chunk, chunk: Chunk) -> bool:
    """The second name in `the Dungeon, that's the lowboy`: the place is already named in the sentence."""
    if chunk.place is None or named.place is None:
        return False
    if chunk.place.nickname is None and named.place.nickname is None:
        return False
    return line.sentence[named.first] == line.sentence[chunk.first]


_WHICH = word_set("first second third fourth fifth next last other top bottom left right")


def _another_of_them(line: Line, chunk: Chunk, scene: Scene) -> None:
    """Makes a place of `third box` while the inspector goes along the hot boxes."""
    if scene.place_row is None or chunk.preposition or chunk.known_food or not scene.place:
        return
    counted = chunk.first and line.tokens[chunk.first - 1].low in _WHICH
    if line.tokens[chunk.last - 1].stem not in phrase(scene.place) or not (
        counted or line.tokens[chunk.first].low in _WHICH
    ):
        return
    chunk.sort, chunk.place, chunk.object = "place", scene.place_row, None
    chunk.first -= bool(counted)


_SENDS = word_set("""put puts putting moved moves moving stuck threw tossed transferred shoved slid loaded
  took taken set stacked""")


def sent_there(line: Line, chunk: Chunk) -> bool:
    """`he put them in the freezer`: where a thing went, not where the inspector stands."""
    if not chunk.preposition:
        return False
    first, _ = line.sentence_span(chunk.first)
    passed = False
    for n in range(chunk.prepared_at - 1, max(first, chunk.prepared_at - 8) - 1, -1):
        token = line.tokens[n]
        if token.kind == "mark":
            return False
        if token.low in _SENDS:
            return passed or (n > first and line.tokens[n - 1].low in ("he", "she", "they"))
        passed = (
            passed
            or line.chunk_at[n] >= 0
            or token.low in ("it", "them", "those", "that", "everything", "all")
        )
    return False


def cooling_word(line: Line, chunk: Chunk) -> bool:
    """Part of `came off the stove`, which tells that cooling began and not where the food is."""
    return any(cue.stage == "cooling" and start < chunk.first < end for start, end, cue in line.cues)


def inside_place(line: Line, chunk: Chunk) -> Chunk | None:
    """The first half of `cooler by the back stairs`, whose name the second half is already part of."""
    if not chunk.preposition or chunk.preposition in ASIDE:
        return None
    begin = chunk.prepared_at - 1
    while begin >= 0 and line.tokens[begin].low in (
        "next",
        "right",
        "over",
        "back",
        "up",
        "down",
        "out",
        "in",
    ):
        begin -= 1
    if begin < 0 or line.chunk_at[begin] < 0:
        return None
    before = line.chunks[line.chunk_at[begin]]
    return before if before.sort == "place" and before is not chunk else None


def left_place(line: Line, chunk: Chunk) -> bool:
    """The van of `hot boxes off the van`."""
    at = line.chunk_at[chunk.prepared_at - 1] if chunk.preposition in ASIDE and chunk.prepared_at else -1
    return at >= 0 and line.chunks[at].sort == "place"


def _is_topic(chunk: Chunk) -> bool:
    if chunk.determiner == "no" or chunk.preposition in (
        "for",
        "with",
        "by",
        "per",
        "since",
        "during",
        "like",
        "as",
        "without",
        "about",
        "until",
    ):
        return False
    return chunk.known_food


def _only_place(line: Line, chunk: Chunk, end: int) -> bool:
    """The next sentence is nothing but a place: `turkey's 44. Walk-in.`"""
    if chunk.sort != "place" or chunk.first != end:
        return False
    _, stop = line.sentence_span(end)
    return all(line.tokens[n].kind == "mark" for n in range(chunk.last, stop))


def trailing_place(read: Read) -> None:
    """`46 on the coleslaw and 47 on the slaw, lowboy by the fryers`: a place that closes the sentence."""
    line = read.line
    for draft in read.drafts:
        if draft.place is not None or draft.kind != "temperature":
            continue
        _, end = line.sentence_span(draft.figure.first)
        last = max((f.last for f in read.figures if f.last <= end and f.role == "figure"), default=0)
        for chunk in line.chunks:
            if (
                last <= chunk.first < end
                and chunk.sort == "place"
                and not chunk.preposition
                and line.tokens[chunk.first - 1].low == ","
            ):
                draft.place, draft.place_row = place_name(line, chunk), chunk.place
                break

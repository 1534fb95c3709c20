"""Moves the scene over the places and foods that an utterance names."""

from __future__ import annotations

from extract.of_what.staging import CARRIERS, fahrenheit
from extract.scene import Draft, Read, Scene
from extract.words.line import NOUN, Chunk, Line
from extract.words.naming import (
    ASIDE,
    bare_door,
    generic,
    item_name,
    place_name,
    scene_place,
    where_somebody_is,
)
from extract.words.text import phrase, word_set

ACID_LIMITS = frozenset(("4.2", "4.6", "4.1", "4.3", "4.0"))
"""Limits of a pH that plans set for acid food: common practice, no source."""
_PLANNED = frozenset(("plan", "haccp", "variance", "approved"))


def look_around(line: Line, scene: Scene) -> None:
    for _, _, cue in line.cues:
        if cue.stage == "thermometer_check":
            scene.check_line = line.index
        if cue.stage == "time_control":
            scene.time_line = line.index
    for _, _, (agent, _) in line.agents:
        scene.agent, scene.agent_line = agent, line.index
    for n, token in enumerate(line.tokens):
        if token.low == "ph" or (
            token.low in ("p", "pee", "pea")
            and n + 1 < len(line.tokens)
            and line.tokens[n + 1].low in ("h", "age")
        ):
            scene.ph_from = line.index, n
            break
        if token.low in ACID_LIMITS and any(other.low in _PLANNED for other in line.tokens):
            scene.ph_from = line.index, n  # `the plan says 4.2 or lower`
            break
    for chunk in line.chunks:
        if chunk.sort != "gone" and chunk.first and _is_done(line, chunk):
            chunk.sort = "gone"
        if chunk.sort == "place" and (where_somebody_is(line, chunk) or _as_warm_as_it(line, chunk)):
            chunk.sort = "gone"
        if chunk.object is not None and chunk.object.what == "light":
            if _seen_by(line, chunk):
                chunk.sort = "gone"
            else:
                scene.lighting_line = line.index


_DONE_TO = frozenset(("plate", "box", "bag", "tray", "pan", "dish", "line", "ice", "rack"))
"""Things that are also what is done to food."""


def _is_done(line: Line, chunk: Chunk) -> bool:
    """The plate of `the patty he was about to plate`."""
    return line.tokens[chunk.first].low in _DONE_TO and line.tokens[chunk.first - 1].low == "to"


def _as_warm_as_it(line: Line, chunk: Chunk) -> bool:
    """The room of `thawing at room temperature`: how warm it is, and no place."""
    words = [token.low for token in line.tokens[chunk.first : chunk.last + 1]]
    return words[:1] == ["room"] and words[1:2] in (["temp"], ["temps"], ["temperature"])


def _seen_by(line: Line, chunk: Chunk) -> bool:
    """The light of `I look again in the light, it's 150`: by which something was read."""
    said = [token.low for token in line.tokens[chunk.first : chunk.last] if token.low != "the"]
    return chunk.preposition in _SEEN_BY and said == ["light"]


_SEEN_BY = word_set("in into to under against")


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
        if chunk.sort == "place" and _delivered(line, chunk, scene):
            chunk.sort, chunk.place = "gone", None
            continue
        if chunk.object is not None and chunk.object.what == "vessel":
            _another_of_them(line, chunk, scene)
        if chunk.sort == "place" and chunk.place is not None:
            if chunk.place.stage in ("machine", "warewashing", "handwashing"):
                scene.machine = chunk.place.stage
                of_hands = chunk.place.stage == "handwashing" and _heads(line, chunk, sinks=True)
                scene.hand_sinks = (line.index, place_name(line, chunk)) if of_hands else None
            elif line.tokens[chunk.last - 1].low == "sink" and line.tokens[chunk.last - 2].low in _FOR_FOOD:
                scene.machine, scene.hand_sinks = "", None
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
            if _brought_it(line, named, chunk, scene):
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
                if _heads(line, chunk) and not chunk.place.stage:
                    scene.room = scene.place
                if chunk.place.stage == "receiving":
                    scene.delivery = not chunk.preposition
                elif line.tokens[chunk.last - 1].low not in CARRIERS:
                    scene.delivery = False
                scene.place_is_aside = chunk.place.stage == "cooking" and bool(chunk.preposition)
                scene.aside_sentence = line.sentence[chunk.first]
                if scene.place_is_aside and _of_topic(line, chunk, scene):
                    scene.topic_place = scene.place, chunk.place
                if not scene.place_is_aside:
                    scene.base_place, scene.base_row = scene.place, scene.place_row
                    scene.topic_place = None
        elif _is_topic(chunk) and not _around_food(line, chunk, scene):
            scene.topic, scene.topic_chunk = item_name(line, chunk), chunk
            scene.topic_food, scene.topic_line, scene.topic_place = chunk.known_food, line.index, None
    return max(first, last)


def _of_topic(line: Line, chunk: Chunk, scene: Scene) -> bool:
    topic = scene.topic_chunk
    if topic is None or scene.topic_line != line.index or topic.first > chunk.first:
        return False
    return line.sentence[topic.first] == line.sentence[chunk.first]


_FOR_FOOD = word_set("prep preparation food veg vegetable produce meat fish salad thaw thawing")
"""What a sink is called that no hands are washed in."""


def _heads(line: Line, chunk: Chunk, *, sinks: bool = False) -> bool:
    """Whether the place stands alone before a comma or point, and is no drain nor, unless asked, a sink."""
    opens = line.sentence_span(chunk.first)[0] in (chunk.first, chunk.prepared_at)
    closes = chunk.last < len(line.tokens) and line.tokens[chunk.last].low in (",", ".", ":")
    return opens and closes and (sinks or line.tokens[chunk.last - 1].low not in ("sink", "sinks", "drain"))


def _also_called(line: Line, named: Chunk, chunk: Chunk) -> bool:
    """The second name in `the Dungeon, that's the lowboy`: the place is already named in the sentence."""
    if chunk.place is None or named.place is None:
        return False
    if chunk.place.nickname is None and named.place.nickname is None:
        return False
    return line.sentence[named.first] == line.sentence[chunk.first]


_VEHICLES = frozenset(("truck", "van", "lorry", "trailer"))


def in_vehicle(scene: Scene) -> bool:
    """Whether the place is itself a truck or van, as in `Truck one, ham 38. Truck two, tuna 39.`"""
    return any(word in _VEHICLES for word in (scene.place or "").lower().split())


def _brought_it(line: Line, named: Chunk | None, chunk: Chunk, scene: Scene) -> bool:
    """The lorry of `Back door, the lorry came`, the truck of `School dock. Franks off the truck`."""
    arriving = scene.place_row is not None and scene.place_row.stage == "receiving"
    if line.tokens[chunk.last - 1].low not in _VEHICLES:
        return False
    if chunk.preposition in ASIDE or (arriving and not chunk.preposition and not in_vehicle(scene)):
        return arriving
    return named is not None and bare_door(line, named) and not chunk.preposition


_WHICH = word_set("first second third fourth fifth next last other top bottom left right")


_DELIVERED_IN = word_set("case cases")


def _delivered(line: Line, chunk: Chunk, scene: Scene) -> bool:
    """The cases of `first case 47, second case 48` at the dock, which are no display cases."""
    arriving = scene.place_row is not None and scene.place_row.stage == "receiving"
    if not arriving or line.tokens[chunk.last - 1].low not in _DELIVERED_IN:
        return False
    words = {token.low for token in line.tokens[max(0, chunk.first - 1) : chunk.last]}
    return bool(words & _WHICH)


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
  pour pours poured pouring dump dumped dumping empty emptied emptying
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


_PUT_ON = word_set("on onto in into over")


def _around_food(line: Line, chunk: Chunk, scene: Scene) -> bool:
    """The ice of `soup, ice under it`, the oil of `straight from the oil`, the buns of `her sauce, it goes on
    the buns`: what food lies in or on."""
    if chunk.preposition in _PUT_ON and _follows_topic(line, chunk, scene):
        return True
    if chunk.preposition == "from" and _follows_topic(line, chunk, scene, _MADE):
        return True  # `his aioli he beats up from raw eggs`
    if line.tokens[chunk.last - 1].low not in ("ice", "water", "oil"):
        return False
    return bool(chunk.preposition) or (scene.topic_food and scene.topic_line >= line.index - 1)


_IT = word_set("it them they")
_MADE = word_set(
    "makes make made beats beat whips whip whipped mixes mix mixed stirs stir stirred blends blend blended"
)


def _follows_topic(line: Line, chunk: Chunk, scene: Scene, told: frozenset[str] = _IT) -> bool:
    """Whether the food spoken of is named by `it` or `them`, or the words told, between its name and the
    chunk."""
    topic = scene.topic_chunk
    if topic is None or scene.topic_line != line.index or topic.last > chunk.prepared_at:
        return False
    if line.sentence[topic.first] != line.sentence[chunk.first]:
        return False
    between = range(topic.last, chunk.prepared_at)
    return any(line.tokens[n].low in told for n in between) and not any(
        line.classes[n] == "number" for n in between
    )


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


def praised_place(read: Read) -> None:
    """`Ham 38. Egg salad 39. Fridge is all right.`: the unit spoken of after its foods is where they were."""
    line = read.line
    for chunk in line.chunks:
        row = chunk.place
        if row is None or not row.air or chunk.preposition or chunk.determiner in ("no", "same"):
            continue
        if chunk.sort == "gone":
            continue
        first, end = line.sentence_span(chunk.first)
        if any(line.classes[n] == "number" or line.classes[n] == NOUN for n in range(chunk.last, end)) or any(
            line.classes[n] not in ("determiners", "fillers", "conjunctions", "adverbs", "mark")
            for n in range(first, chunk.first)
        ):
            continue
        if not any(line.classes[n] in ("auxiliaries", "predicates") for n in range(chunk.last, end)):
            continue
        for draft in read.drafts:
            _put_in(draft, chunk, read)


def _put_in(draft: Draft, chunk: Chunk, read: Read) -> None:
    """Places a food said before in the unit, where its own place was only carried over from earlier."""
    row = chunk.place
    if row is None or draft.last > chunk.first or draft.kind != "temperature" or not draft.food:
        return
    if draft.stage == row.stage and draft.place == read.place_before:
        draft.place, draft.place_row = place_name(read.line, chunk), row


_PLAINLY_HOT, _PLAINLY_COLD = 130.0, 45.0
"""°F of a food that has surely not been in a cold place, or a hot one: common practice, no source."""


def left_behind(read: Read) -> None:
    """`Cold cart, salad 36.` and later `Purees, carrot 151.`: the inspector has gone on to another place."""
    for draft in read.drafts:
        row = draft.place_row
        if row is not None and row.stage == "handwashing" and _held(draft) and not _named(read, draft):
            draft.place = draft.place_row = None  # no food is held in a hand sink
            continue
        heated = draft.stage in ("cooking", "reheating")
        if row is not None and row.stage == "freezing" and (heated or draft.stage == "hot_holding"):
            if not _named(read, draft):
                draft.place = draft.place_row = None  # `Freezer minus 4. Hot fudge 134.`
            continue
        if row is None or draft.place != read.place_before or draft.kind != "temperature":
            continue
        if draft.clock and not heated:
            continue
        value = fahrenheit(draft.value, draft.unit)
        hot = (
            (heated or draft.stage == "hot_holding") and row.stage == "cold_holding" and value >= _PLAINLY_HOT
        )
        cold = draft.stage == "cold_holding" and row.stage == "hot_holding" and value <= _PLAINLY_COLD
        if (hot or cold) and not _named(read, draft, everywhere=True):
            draft.place = draft.place_row = None


def _held(draft: Draft) -> bool:
    return draft.food and draft.stage in ("hot_holding", "cold_holding")


def _named(read: Read, draft: Draft, *, everywhere: bool = False) -> bool:
    """Whether its place is named in the figure's own sentence, or `everywhere` in the utterance."""
    line = read.line
    return any(
        chunk.sort == "place"
        and draft.place == place_name(line, chunk)
        and (everywhere or line.sentence[chunk.first] == line.sentence[draft.first])
        for chunk in line.chunks
    )


def trailing_place(read: Read) -> None:
    """`46 on the coleslaw and 47 on the slaw, lowboy by the fryers`: a place that closes the sentence."""
    line = read.line
    for draft in read.drafts:
        if draft.place is not None or draft.kind != "temperature":
            continue
        _, end = line.sentence_span(draft.first)
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

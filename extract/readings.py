"""Readings from prepared utterances: figures with kind, unit, stage, item, place, agent and time."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from extract.amend import Amendments, amendments
from extract.lexicon import Lexicon
from extract.line import Chunk, Line, keep_clear, prepare
from extract.quantities import Figure, figures
from extract.roles import settle_roles
from extract.scene import Draft, Scene
from extract.staging import food_stage, heads_agree
from extract.subject import Subject, generic, item_name, place_name, scene_place, subject


@dataclass(slots=True)
class Read:
    """One utterance read: its figures, amendments and the readings made of it."""

    line: Line
    figures: list[Figure]
    amendments: Amendments
    drafts: list[Draft] = field(default_factory=list)
    place_before: str | None = None
    """The place that held when the utterance began."""


_RANGES = {"chlorine": "ppm", "quat": "ppm"}
_DEFAULT_UNITS = {"concentration": "ppm", "illuminance": "foot_candle", "pressure": "psi", "ph": "pH"}


def read_line(
    text: str, index: int, scene: Scene, words: Lexicon, *, hour: float | None, degrees: str
) -> Read:
    """Reads one utterance in its scene and moves the scene on. `degrees`: the unit where none was said."""
    line = prepare(text, index, words)
    _step_back(scene)
    found = figures(line, words, hour=hour)
    settle_roles(line, found, words)
    for figure in found:
        keep_clear(line, figure.first, figure.last)
    changes = amendments(line, found, words)
    if any(figure.unit == "degF" for figure in found):
        scene.only_celsius = False
    scene.celsius.extend((index, figure.value) for figure in found if figure.unit == "degC")
    read = Read(line, found, changes, place_before=scene.place)
    _look_around(line, scene)
    taken: set[int] = set()
    clocks = _attach_clocks(line, found)
    passed = 0
    by_figure: dict[int, Draft] = {}
    for at, figure in enumerate(found):
        if scene.place_is_aside and scene.aside_sentence != line.sentence[figure.first]:
            _step_back(scene)
        passed = _pass_places(line, scene, passed, figure.first)
        if figure.role != "figure":
            continue
        about = subject(line, found, at, taken)
        earlier = by_figure.get(about.shares) if about.shares is not None else None
        replaced = next(
            (by_figure[a] for a, b in changes.replaced.items() if b == at and a in by_figure), None
        )
        draft = _draft(read, at, about, earlier, replaced, scene, clocks, degrees, words)
        if draft is None:
            continue
        if at in changes.fallen:
            draft.fallen = changes.fallen[at]
        if at in changes.reassigned:
            draft.chunk = changes.reassigned[at]
            draft.item, draft.food = item_name(line, draft.chunk), True
        if replaced is not None:
            replaced.successor = draft
        by_figure[at] = draft
        draft.order = len(scene.drafts)
        scene.drafts.append(draft)
        read.drafts.append(draft)
    _pass_places(line, scene, passed, len(line.tokens))
    _trailing_place(read)
    return read


def _only_place(line: Line, chunk: Chunk, end: int) -> bool:
    """The next sentence is nothing but a place: `turkey's 44. Walk-in.`"""
    if chunk.sort != "place" or chunk.first != end:
        return False
    _, stop = line.sentence_span(end)
    return all(line.tokens[n].kind == "mark" for n in range(chunk.last, stop))


def _trailing_place(read: Read) -> None:
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


# ---------------------------------------------------------------- the scene


_IN_CELSIUS = re.compile(
    r"\b(?:in|to|on|using|all|everything(?:'s| is)?(?: in)?|readings? (?:are|is)(?: in)?) (?:degrees )?(?:celsius|centigrade)\b"
    r"|\bcelsius (?:today|from here|readings?|probe|throughout|unless)\b|\bin metric\b",
    re.IGNORECASE,
)
_IN_FAHRENHEIT = re.compile(r"\b(?:in|to|back to) fahrenheit\b", re.IGNORECASE)


def _look_around(line: Line, scene: Scene) -> None:
    if _IN_CELSIUS.search(line.text):
        scene.all_celsius = True
    elif _IN_FAHRENHEIT.search(line.text):
        scene.all_celsius = False
    for _, _, cue in line.cues:
        if cue.stage == "thermometer_check":
            scene.check_line = line.index
        if cue.stage == "time_control":
            scene.time_line = line.index
    for start, _, (agent, _) in line.agents:
        scene.agent, scene.agent_line = agent, line.index
        del start
    for chunk in line.chunks:
        if chunk.object is not None and chunk.object.what == "light":
            scene.lighting_line = line.index


def _step_back(scene: Scene) -> None:
    """Leaves a place that was only named as where one thing came from."""
    if scene.place_is_aside:
        scene.place, scene.place_row, scene.place_is_aside = scene.base_place, scene.base_row, False


def _pass_places(line: Line, scene: Scene, first: int, last: int) -> int:
    """Moves the scene over the places and topics named between two tokens."""
    for chunk in line.chunks:
        if not first <= chunk.first < last or chunk.sort == "gone":
            continue
        if chunk.sort == "place" and chunk.place is not None:
            if chunk.place.stage in ("machine", "warewashing", "handwashing"):
                scene.machine = chunk.place.stage
            if chunk.determiner == "same" and scene.place is not None:
                continue
            if chunk.place.stage == "cooking" and _cooling_word(line, chunk):
                continue
            if (
                scene.place is not None
                and line.tokens[chunk.last - 1].stem in ("shelf", "rack")
                and not chunk.place.stage
            ):
                continue
            if scene_place(line, chunk) and not _inside_place(line, chunk):
                scene.place, scene.place_row = place_name(line, chunk), chunk.place
                scene.place_is_aside = chunk.place.stage == "cooking" and bool(chunk.preposition)
                scene.aside_sentence = line.sentence[chunk.first]
                if not scene.place_is_aside:
                    scene.base_place, scene.base_row = scene.place, scene.place_row
        elif (chunk.known_food or (chunk.object is None and chunk.sort in ("thing", "food"))) and _is_topic(
            line, chunk
        ):
            scene.topic, scene.topic_chunk = item_name(line, chunk), chunk
            scene.topic_food, scene.topic_line = chunk.known_food, line.index
    return max(first, last)


def _cooling_word(line: Line, chunk: Chunk) -> bool:
    """Part of `came off the stove`, which tells that cooling began and not where the food is."""
    return any(cue.stage == "cooling" and start < chunk.first < end for start, end, cue in line.cues)


def _inside_place(line: Line, chunk: Chunk) -> bool:
    """The second half of `cooler by the back stairs`, already part of the first one's name."""
    if not chunk.preposition:
        return False
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
    return begin >= 0 and line.chunk_at[begin] >= 0 and line.chunks[line.chunk_at[begin]].sort == "place"


def _is_topic(line: Line, chunk: Chunk) -> bool:
    if chunk.preposition in (
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


# ---------------------------------------------------------------- clock times


def _attach_clocks(line: Line, found: list[Figure]) -> int:
    """Gives readings the time said for them (`135 at 9:15`, `at 2:30 it was 88`); returns how many got one."""
    count = 0
    for at, figure in enumerate(found):
        if figure.role != "figure":
            continue
        if figure.clock is not None:
            count += 1
            continue
        clock = (
            _clock_beside(line, found, at) or _clock_after(line, found, at) or _clock_before(line, found, at)
        )
        if clock is not None and figure.kind in (None, "temperature"):
            figure.clock = clock.clock
            clock.why = "taken"
            count += 1
    return count


def _clock_beside(line: Line, found: list[Figure], at: int) -> Figure | None:
    """`9 am 135, 10 am 101`: the time stands right in front of its figure."""
    other = found[at - 1] if at else None
    if other is None or other.role != "clock" or other.why == "taken":
        return None
    between = [token.low for token in line.tokens[other.last : found[at].first]]
    told = line.tokens[other.first - 1].low if other.first else ""
    alone = told not in ("since", "until", "till", "from", "to", "by") and not (
        at >= 2 and found[at - 2].role == "figure" and told in ("at", "@")
    )
    return other if alone and all(low in ("it", "was", "is", "'s", "at") for low in between) else None


def _clock_after(line: Line, found: list[Figure], at: int) -> Figure | None:
    figure = found[at]
    best = None
    for other in found[at + 1 : at + 4]:
        if other.role != "clock" or line.sentence[other.first] != line.sentence[figure.first]:
            break
        begin = best.last if best is not None else figure.last
        between = [line.tokens[n].low for n in range(begin, other.first)]
        if best is not None and not {"correction", "no", "sorry", "make", "wait", "actually", "mean"} & set(
            between
        ):
            break
        allowed = {"at", "@", "by", "around", "about", "or", "so", "right", "now", ",", "as", "of", "degrees", "internal",
                   "and", "it", "'s", "correction", "no", "sorry", "make", "that", "wait"}  # fmt: skip
        if "and" in between and "it" not in between:
            break
        if all(
            word in allowed or line.classes[begin + n] in ("adverbs", "fillers")
            for n, word in enumerate(between)
        ):
            best = other
            continue
        break
    return best


def _clock_before(line: Line, found: list[Figure], at: int) -> Figure | None:
    figure = found[at]
    if not at:
        return None
    other = found[at - 1]
    if (
        other.role != "clock"
        or other.why == "taken"
        or line.sentence[other.first] != line.sentence[figure.first]
    ):
        # a time just before in the sentence before: `Came back at 10.35, it's at 174`
        return None
    between = line.tokens[other.last : figure.first]
    lows = [token.low for token in between]
    if len(lows) > 7:
        return None
    if any(
        line.chunk_at[n] >= 0 and line.chunks[line.chunk_at[n]].sort in ("food", "place")
        for n in range(other.last, figure.first)
    ):
        return None
    told = line.tokens[other.first - 1].low if other.first else ""
    if told in ("since", "until", "till", "before", "from", "to"):
        return None
    fits = {"it", "they", "he", "she", "was", "is", "'s", "at", ",", "and", "read", "reads", "had", "were", "reading", "wrote",
            "log", "the", "i", "got", "now", "checked"}  # fmt: skip
    if all(
        low in fits or line.classes[other.last + n] in ("adverbs", "fillers", "links", "auxiliaries")
        for n, low in enumerate(lows)
    ):
        return other
    return None


# ---------------------------------------------------------------- one reading


def _draft(
    read: Read, at: int, about: Subject, earlier: Draft | None, replaced: Draft | None, scene: Scene, clocks: int,
    degrees: str, words: Lexicon,
) -> Draft | None:  # fmt: skip
    line, figure = read.line, read.figures[at]
    kind, unit, said = _kind(line, figure, about, earlier or replaced, scene, degrees)
    if kind is None:
        return None
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
    maker = _MAKERS.get(kind, _plain)
    return maker(read, draft, about, parent, scene, clocks)


def _turns(line: Line, earlier: Figure, figure: Figure) -> bool:
    """Another agent is named between two figures, so the second is not about what the first was about."""
    return any(earlier.last <= start < figure.first for start, _, _ in line.agents)


def _own_place(line: Line, draft: Draft, about: Subject, scene: Scene) -> None:
    for place in about.places:
        if place.determiner == "same" and scene.place is not None:
            break
        if not generic(line, place) and place.preposition != "for" and not _cooling_word(line, place):
            inner = [c for c in about.places if c is not place and _inside_place(line, place)]
            chosen = (
                min([place, *inner], key=lambda chunk: chunk.first) if _inside_place(line, place) else place
            )
            draft.place, draft.place_row = place_name(line, chosen), chosen.place
            return
    draft.place, draft.place_row = scene.place, scene.place_row


def _kind(
    line: Line, figure: Figure, about: Subject, parent: Draft | None, scene: Scene, degrees: str
) -> tuple[str | None, str, bool]:
    """Kind and unit of a figure, and whether the unit was said. None: no measurement after all."""
    if figure.kind == "none":
        return None, "", False
    degrees = _degrees(line, figure, scene, degrees)
    if figure.unit == "deg":
        return "temperature", degrees, False
    if figure.kind is not None and figure.unit is not None:
        return figure.kind, figure.unit, True
    thing = about.chunk.object if about.chunk is not None and not about.chunk.known_food else None
    if parent is not None and about.chunk is None:
        return parent.kind, parent.unit, parent.unit_said
    what = thing.what if thing is not None else ""
    if what == "pressure":
        return "pressure", "psi", False
    if what == "light" or (
        scene.lighting_line >= line.index - 1
        and scene.last is not None
        and scene.last.kind == "illuminance"
        and not (about.chunk is not None and about.chunk.known_food)
    ):
        last = scene.last
        unit = last.unit if last is not None and last.kind == "illuminance" else "foot_candle"
        return "illuminance", unit, False
    first, end = line.sentence_span(figure.first)
    agent_here = any(first <= start < end for start, _, _ in line.agents)
    known_food = about.chunk is not None and about.chunk.known_food
    heading = _heading_kind(line, figure, about, scene)
    if heading:
        return heading, _DEFAULT_UNITS[heading], False
    if what == "bucket" and not _sanitizing(line, scene):
        what = ""
    if what in ("sanitizer", "bucket", "strip") or (about.chunk is not None and _is_agent(line, about.chunk)):
        return "concentration", "ppm", False
    if what in ("wash", "rinse", "surface", "water", "sanitize_basin"):
        return "temperature", degrees, False
    if agent_here and not known_food and not (about.gauge or about.instrument):
        return "concentration", "ppm", False
    last = scene.last
    if last is not None and about.chunk is None and not about.places and last.line.index >= line.index - 2:
        if last.kind in ("concentration", "ph", "pressure") and last.kind != "ph":
            return last.kind, last.unit, False
    if figure.value > 600 and not figure.codes:
        return None, "", False
    if not _measured(line, figure, about):
        return None, "", False
    return "temperature", degrees, False


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
    """`sani buckets: front line 200`, `foot candles: grill 52`: what a list with only places in it measures."""
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
        if chunk.object.what == "light":
            return "illuminance"
        if chunk.object.what == "sanitizer" or (chunk.object.what == "bucket" and _sanitizing(line, scene)):
            return "concentration"
    return ""


def _degrees(line: Line, figure: Figure, scene: Scene, degrees: str) -> str:
    """The unit of a temperature said without one: that of the rules, or °C beside figures said in °C."""
    if degrees != "degF":
        return degrees
    if scene.all_celsius:
        return "degC"
    for at, value in scene.celsius:
        near = at >= line.index - 1
        cold = value <= 12 and figure.value <= 12
        hot = value >= 40 and (40 if near else 52) <= figure.value <= 100
        if cold or hot or (scene.only_celsius and (near or scene.celsius_twice) and figure.value <= 30):
            return "degC"
    return degrees


def _is_agent(line: Line, chunk: Chunk) -> bool:
    return any(chunk.first <= start and end <= chunk.last for start, end, _ in line.agents)


def _measured(line: Line, figure: Figure, about: Subject) -> bool:
    """Whether a bare number may be a temperature at all: something was named, or a verb of measuring stands before it."""
    if about.chunk is not None or about.shares is not None or about.places or about.instrument or about.gauge:
        return not (figure.number.words and figure.value < 10 and not about.direct)
    before = line.tokens[figure.first - 1].low if figure.first else ""
    kind = line.classes[figure.first - 1] if figure.first else ""
    if figure.number.words and figure.value <= 24 and not figure.number.decimals:
        return before in ("at", "reads", "reading", "is", "'s") and figure.value >= 10
    return figure.value > 24 or kind in ("links", "auxiliaries") or before in ("at", "now", "to")


def _temperature(
    read: Read, draft: Draft, about: Subject, parent: Draft | None, scene: Scene, clocks: int
) -> Draft:
    line, figure = read.line, draft.figure
    first, end = line.sentence_span(figure.first)
    thing = draft.chunk.object if draft.chunk is not None else None
    what = thing.what if thing is not None and not (draft.chunk and draft.chunk.known_food) else ""
    iced = about.instrument is not None and any(
        token.low in ("ice", "slush") for token in line.tokens[first:end]
    )
    checking = (
        iced
        or any(cue.stage == "thermometer_check" for _, _, cue in line.cues)
        or (
            scene.check_line >= line.index - 1
            and (about.instrument is not None or about.pronoun in ("theirs", "mine", "ours", "hers"))
        )
    )
    known_food = draft.chunk is not None and draft.chunk.known_food and about.chunk is not None
    if known_food and draft.chunk is not None and _is_check_medium(line, draft.chunk):
        known_food, draft.item = False, None
    if (
        checking
        and not known_food
        and (20 <= figure.value <= 45 or 195 <= figure.value <= 220 or draft.unit == "degC")
    ):
        draft.stage = "thermometer_check"
        draft.place = draft.place_row = None
        owner = _owner(line, figure) or _owner_after(line, figure)
        if owner is not None:
            draft.item = owner
        elif about.instrument is not None and not (
            about.pronoun in ("theirs", "mine", "ours") and _nearer(line, about, figure)
        ):
            draft.item = item_name(line, about.instrument)
        elif about.pronoun in ("theirs", "mine", "ours", "hers"):
            draft.item = _said_pronoun(line, figure, about.pronoun)
        elif parent is not None:
            draft.item = parent.item
        else:
            draft.item = _any_instrument(line, figure)
        draft.rules.append(("stage: thermometer check", line.index, *_chars(line, first, end)))
        return draft
    if parent is not None and about.chunk is None and parent.kind == "temperature":
        draft.stage = parent.stage
        if parent.stage in ("cooking", "hot_holding", "cold_holding", "reheating", "cooling") and (
            about.places or clocks
        ):
            stage, why = food_stage(line, draft, about, scene, clocks=clocks, others=_others(read, figure))
            draft.stage = stage
            del why
        return draft
    washing = _washing(line, draft, about, scene, what, first, end)
    if washing is not None:
        draft.stage = washing
        return draft
    if about.chunk is None and about.instrument is not None and _is_unit_thermometer(line, about.instrument):
        return _ambient(line, draft, about, scene)
    if what == "air":
        return _ambient(line, draft, about, scene)
    if (
        draft.chunk is None
        and about.chunk is None
        and (later := _food_behind(line, figure, read)) is not None
    ):
        draft.chunk, draft.item, draft.food = later, item_name(line, later), True
    elif draft.chunk is None or (about.chunk is None and (about.gauge or about.pronoun in ("theirs",))):
        if (
            about.gauge is not None
            or about.pronoun == "theirs"
            or (about.places and not about.pronoun and _subject_place(line, figure, about))
        ):
            return _ambient(line, draft, about, scene)
        _carry(line, draft, scene)
        if (
            draft.item is None
            and draft.place_row is not None
            and draft.place_row.air
            and (about.places or _heading(line, figure))
        ):
            return _ambient(line, draft, about, scene)
    stage, why = food_stage(line, draft, about, scene, clocks=clocks, others=_others(read, figure))
    draft.stage = stage
    draft.rules.append((f"stage: {stage} from “{why}”", line.index, *_chars(line, first, end)))
    return draft


def _is_unit_thermometer(line: Line, chunk: Chunk) -> bool:
    """`its thermometer`, `the thermometer inside`: what hangs in a cooler, not the inspector's probe."""
    words = {token.low for token in line.tokens[chunk.first : chunk.last + 1]}
    if chunk.determiner == "my" or words & {"probe", "thermocouple", "digital", "infrared", "stem", "pocket"}:
        return False
    before = line.tokens[chunk.first - 1].low if chunk.first else ""
    after = {token.low for token in line.tokens[chunk.last : chunk.last + 3]}
    if after & {"hanging", "inside", "mounted", "outside"} or "inside" in words:
        return True
    at = line.chunk_at[chunk.first - 1] if chunk.first else -1
    if at >= 0 and line.chunks[at].place is not None:
        return True
    return chunk.determiner in ("its", "their", "the") or before == "'s"


def _is_check_medium(line: Line, chunk: Chunk) -> bool:
    return any(
        cue.stage == "thermometer_check" and start < chunk.last and end > chunk.first
        for start, end, cue in line.cues
    )


def _others(read: Read, figure: Figure) -> list[tuple[int, int]]:
    return [
        (f.first, f.last)
        for f in read.figures
        if f is not figure and f.role in ("figure", "set_point") and f.kind != "duration"
    ]


def _nearer(line: Line, about: Subject, figure: Figure) -> bool:
    assert about.instrument is not None
    return any(line.tokens[n].low == about.pronoun for n in range(about.instrument.last, figure.first))


def _owner(line: Line, figure: Figure) -> str | None:
    """`the chef's 36`: whose thermometer, when only the person is named."""
    i = figure.first - 1
    while i >= 0 and line.classes[i] in ("links", "auxiliaries", "adverbs") and line.tokens[i].low != "'s":
        i -= 1
    if (
        i >= 1
        and line.tokens[i].low == "'s"
        and line.tokens[i - 1].stem in ("chef", "cook", "manag", "kitchen", "owner", "restaurant")
    ):
        at = line.chunk_at[i - 1]
        return line.words(line.chunks[at].first if at >= 0 else i - 1, i + 1)
    return None


def _owner_after(line: Line, figure: Figure) -> str | None:
    """`32 on mine, 34 on theirs`."""
    after = line.tokens[figure.last : figure.last + 2]
    if (
        len(after) == 2
        and after[0].low in ("on", "for", "with")
        and after[1].low in ("mine", "theirs", "ours", "hers", "his")
    ):
        return line.words(figure.last + 1, figure.last + 2)
    return None


def _said_pronoun(line: Line, figure: Figure, pronoun: str) -> str:
    for n in range(figure.first - 1, -1, -1):
        if line.tokens[n].low == pronoun:
            return line.words(n, n + 1)
    return pronoun


def _any_instrument(line: Line, figure: Figure) -> str | None:
    before = [chunk for chunk in line.chunks if chunk.sort == "instrument" and chunk.first < figure.first]
    return item_name(line, before[-1]) if before else None


_SERVED_IN = frozenset(("rice", "soup", "queso", "cheese", "oatmeal", "gravy", "chili", "nacho cheese"))


def _food_in_place(line: Line, about: Subject) -> str | None:
    """`the rice cooker is at 158`: a vessel named after the one food it holds."""
    for place in about.places:
        name = line.words(place.first, place.last - 1).lower() if place.last - place.first > 1 else ""
        if name in _SERVED_IN:
            return line.words(place.first, place.last - 1)
    return None


def _food_behind(line: Line, figure: Figure, read: Read) -> Chunk | None:
    """`log reads minus 5 for 5 days on the halibut`: a food named behind the figure and a span of time."""
    _, end = line.sentence_span(figure.first)
    stop = next(
        (
            f.first
            for f in read.figures
            if f.first > figure.first and f.role == "figure" and f.kind != "duration"
        ),
        end,
    )
    for chunk in line.chunks:
        if (
            figure.last <= chunk.first < stop
            and chunk.known_food
            and chunk.preposition in ("on", "for", "of")
        ):
            return chunk
    return None


def _subject_place(line: Line, figure: Figure, about: Subject) -> bool:
    """`Walk-in is at 38`: the place itself is what the figure is about."""
    nearest = max(about.places, key=lambda chunk: chunk.first if chunk.first < figure.first else -1)
    if nearest.place is None or not (nearest.place.air or nearest.place.stage == "freezing"):
        return False
    between = [token.low for token in line.tokens[nearest.last : figure.first]]
    return nearest.first < figure.first and "," not in between and not nearest.preposition


def _heading(line: Line, figure: Figure) -> bool:
    """Only a place was named before the figure in its sentence: `Freezer here reads minus 6`."""
    first, _ = line.sentence_span(figure.first)
    return not any(chunk.known_food and first <= chunk.first < figure.first for chunk in line.chunks)


def _ambient(line: Line, draft: Draft, about: Subject, scene: Scene) -> Draft:
    draft.item, draft.chunk = None, None
    cold = draft.place_row is not None and draft.place_row.stage == "freezing"
    draft.stage = "freezing" if cold else "ambient"
    first, end = line.sentence_span(draft.figure.first)
    draft.rules.append(("stage: the unit's own temperature", line.index, *_chars(line, first, end)))
    del about, scene
    return draft


def _carry(line: Line, draft: Draft, scene: Scene) -> None:
    """Takes the food named before, when nothing was named with the figure."""
    last = scene.last
    draft.carried = True
    if scene.topic is not None and scene.topic_food and scene.topic_line >= line.index - 1 and (
        last is None or scene.topic_line > last.line.index or scene.topic_line == line.index
    ):  # fmt: skip
        draft.item, draft.chunk, draft.food = scene.topic, scene.topic_chunk, True
        if last is not None and last.item is not None and heads_agree(last.item, scene.topic):
            draft.item = last.item
        return
    if last is not None and last.kind == "temperature" and last.line.index >= line.index - 3 and last.food:
        draft.item, draft.chunk, draft.food = last.item, last.chunk, last.food
        if draft.place == scene.place and scene.place != last.place and last.place is not None:
            draft.place, draft.place_row = last.place, last.place_row


def _washing(
    line: Line, draft: Draft, about: Subject, scene: Scene, what: str, first: int, end: int
) -> str | None:
    """Stage of a temperature that is of water, a machine or a dish; sets the item. None: it is food or air."""
    known_food = draft.chunk is not None and draft.chunk.known_food
    if known_food:
        return None
    row = draft.place_row
    near = [
        chunk.object.what for chunk in line.chunks if chunk.object is not None and first <= chunk.first < end
    ]
    machine = (row is not None and row.stage == "machine") or (
        scene.machine == "machine" and what in ("wash", "rinse", "surface")
    )
    hand = row is not None and row.stage == "handwashing"
    if (
        any(cue.stage == "thawing" and first <= start < end for start, _, cue in line.cues)
        and what == "water"
    ):
        return "thawing"
    if what == "surface":
        return "utensil_surface"
    if what == "sanitize_basin" or (
        row is not None and row.stage == "warewashing" and _hot_sanitizing(line, draft)
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
        wash = what == "wash" or ("wash" in near and "rinse" not in near)
        if machine or (row is None and scene.machine != "warewashing"):
            if not _named_part(line, draft, about):
                draft.item = None
            draft.chunk = None
            return "machine_wash" if wash else "machine_rinse"
        return "manual_wash" if wash else "other"
    if hand and what in ("water", "") and not (scene.last is not None and scene.last.stage == "thawing"):
        draft.item = _hand_sink(line, draft) or draft.item or draft.place
        if (
            draft.place is not None
            and draft.item is not None
            and draft.place.casefold() == draft.item.casefold()
        ):
            draft.place = None
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
            return "sanitizer"
        if last is not None and last.stage == "thawing":
            return "thawing"
        if row is not None and row.stage == "warewashing":
            return "manual_wash"
        if scene.machine == "handwashing":
            return "handwashing"
        return "other"
    last = scene.last
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
    return None


def _named_part(line: Line, draft: Draft, about: Subject) -> bool:
    """Parts such as `wash tank` and `rinse line` are named as measured; `wash` and `final rinse` are the stage only."""
    return about.chunk is not None and line.tokens[about.chunk.last - 1].low in (
        "tank",
        "line",
        "basin",
        "manifold",
        "water",
    )


def _hot_sanitizing(line: Line, draft: Draft) -> bool:
    place = (draft.place or "").lower()
    first, end = line.sentence_span(draft.figure.first)
    if any(agent == "hot_water" and first <= start < end for start, _, (agent, _) in line.agents):
        return True
    return "sanit" in place and draft.value >= 100


def _hand_sink(line: Line, draft: Draft) -> str | None:
    sinks = [c for c in line.chunks if c.place is not None and c.place.stage == "handwashing"]
    before = [c for c in sinks if c.first < draft.figure.first]
    for chunk in before[-1:] or sinks[:1]:
        if chunk.place is not None:
            rest = [c for c in line.chunks if c.sort == "place" and c.first > chunk.last and c.preposition]
            name = item_name(line, chunk)
            if rest and rest[0].prepared_at - chunk.last <= 2 and rest[0].prepared_at >= chunk.last:
                draft.place = place_name(line, rest[0])
            return name
    return "hand sink"


def _concentration(
    read: Read, draft: Draft, about: Subject, parent: Draft | None, scene: Scene, clocks: int
) -> Draft:
    line = read.line
    del clocks
    draft.stage = "sanitizer"
    draft.agent = _agent(line, draft.figure, parent, scene)
    thing = draft.chunk.object if draft.chunk is not None else None
    last = scene.last
    if thing is not None and thing.what in ("bucket", "surface"):
        return draft
    bucket = [
        c
        for c in line.chunks
        if c.object is not None and c.object.what in ("bucket", "surface") and c.first < draft.figure.first
    ]
    surface = [c for c in line.chunks if c.object is not None and c.object.what == "surface"]
    if bucket:
        draft.item = item_name(line, bucket[-1])
    elif surface and line.sentence[surface[0].first] == line.sentence[draft.figure.first]:
        draft.item = item_name(line, surface[0])
    elif (
        last is not None
        and last.kind == "concentration"
        and (about.chunk is None or _is_agent(line, about.chunk))
        and not about.places
        and _nothing_new(line, draft.figure)
    ):
        draft.item, draft.place, draft.place_row = last.item, last.place, last.place_row
    else:
        draft.item = None
    draft.chunk = None
    return draft


def _nothing_new(line: Line, figure: Figure) -> bool:
    return not any(
        chunk.first < figure.first
        and (
            chunk.sort == "place"
            or (chunk.object is not None and chunk.object.what in ("sanitize_basin", "bucket"))
        )
        for chunk in line.chunks
    )


def _agent(line: Line, figure: Figure, parent: Draft | None, scene: Scene) -> str | None:
    before = [agent for start, _, (agent, _) in line.agents if start < figure.first]
    after = [agent for start, _, (agent, _) in line.agents if start >= figure.first]
    if before:
        return before[-1]
    if after:
        return after[0]
    if parent is not None and parent.agent:
        return parent.agent
    return scene.agent


def _ph(read: Read, draft: Draft, about: Subject, parent: Draft | None, scene: Scene, clocks: int) -> Draft:
    del parent, clocks
    line = read.line
    last = scene.last
    food = draft.chunk is not None and draft.chunk.known_food
    washing = bool(line.agents) or (
        last is not None and last.stage == "sanitizer" and last.line.index >= line.index - 1
    )
    if washing and not food:
        draft.stage, draft.item, draft.chunk = "sanitizer", None, None
        draft.agent = _agent(line, draft.figure, None, scene)
    else:
        draft.stage = "other"
        if draft.chunk is None:
            _carry(line, draft, scene)
        if about.places == [] and food:
            draft.place = draft.place if scene.place else None
    return draft


def _plain(
    read: Read, draft: Draft, about: Subject, parent: Draft | None, scene: Scene, clocks: int
) -> Draft:
    del clocks
    line = read.line
    if draft.kind == "illuminance":
        draft.stage = "lighting"
        spot = [c for c in line.chunks if c.preposition in ("over", "at", "in", "above", "on", "under", "inside")
                and c.first < draft.figure.first and line.sentence[c.first] == line.sentence[draft.figure.first]]  # fmt: skip
        if spot and not about.places and spot[-1].sort != "gone":
            draft.place, draft.place_row = line.words(spot[-1].prepared_at, spot[-1].last), spot[-1].place
        draft.item, draft.chunk = None, None
    elif draft.kind == "pressure":
        draft.stage = "machine_rinse"
        rinse = [c for c in line.chunks if c.object is not None and c.object.what == "rinse"]
        part = [
            c
            for c in rinse
            if line.tokens[c.last - 1].low in ("line", "manifold") and c.first < draft.figure.first
        ]
        draft.item = item_name(line, part[-1]) if part else None
    elif draft.kind == "water_activity":
        draft.stage = "other"
        if draft.chunk is None:
            _carry(line, draft, scene)
    del parent
    return draft


def _length(
    read: Read, draft: Draft, about: Subject, parent: Draft | None, scene: Scene, clocks: int
) -> Draft | None:
    del clocks, parent
    line, figure = read.line, draft.figure
    first, end = line.sentence_span(figure.first)
    lows = {token.low for token in line.tokens[first:end]}
    after = [token.low for token in line.tokens[figure.last : figure.last + 4]]
    stored = bool({"floor", "ground"} & {token.low for token in line.tokens})
    gap = any(c.object is not None and c.object.what == "distance" for c in line.chunks) or bool(
        lows & {"rim", "gap", "spout", "pipe", "faucet", "drain", "hole", "across", "diameter", "overflow"}
    )
    pile = bool(lows & {"up", "off"}) and (draft.food and draft.chunk is not None and draft.chunk.known_food)
    if not gap and pile:
        stored = True
    if stored and not ("gap" in lows and "door" in lows):
        draft.stage = "storage"
        if draft.item is None or (draft.chunk is not None and draft.chunk.known_food is False and draft.chunk.object is None
                                  and line.tokens[draft.chunk.last - 1].low == "floor"):  # fmt: skip
            shelf = [
                c
                for c in line.chunks
                if c.sort == "place" and c.first < figure.first and "shel" in line.tokens[c.last - 1].low
            ]
            draft.item = item_name(line, shelf[-1]) if shelf else draft.item
        shelf = [
            c
            for c in about.places
            if line.tokens[c.last - 1].low in ("shelf", "shelves", "rack", "pallet", "dunnage")
        ]
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
        if draft.chunk is None:
            things = [c for c in line.chunks if c.object is not None and c.object.what == "distance"]
            if things:
                draft.item = item_name(line, things[0])
            elif scene.drafts and scene.drafts[-1].kind == "length":
                draft.item = scene.drafts[-1].item
        return draft
    del after
    if draft.chunk is None and not about.places:
        return None
    vessels = {"deep", "pan", "pans", "thick", "wide", "tall", "layer", "piece", "pieces", "long"}
    if lows & vessels:
        return None
    draft.stage = "other"
    return draft


_ELAPSED = frozenset(
    [
        "out",
        "been",
        "sitting",
        "since",
        "ago",
        "for",
        "over",
        "about",
        "warming",
        "heating",
        "took",
        "old",
        "past",
        "at",
        "made",
        "same",
        "that's",
        "log",
        "holding",
    ]
)


def _duration(
    read: Read, draft: Draft, about: Subject, parent: Draft | None, scene: Scene, clocks: int
) -> Draft | None:
    """A span of time, kept only where the rules judge the time itself."""
    del clocks, parent
    line, figure = read.line, draft.figure
    if draft.unit == "week":
        draft.value, draft.unit = draft.value * 7, "day"
    first, end = line.sentence_span(figure.first)
    lows = {token.low for token in line.tokens[first:end]}
    before = " ".join(token.low for token in line.tokens[max(first, figure.first - 4) : figure.first])
    after = " ".join(token.low for token in line.tokens[figure.last : figure.last + 4])
    last = scene.last
    stage = ""
    cues = {cue.stage for start, _, cue in line.cues if first <= start < end}
    near = {cue.stage for _, _, cue in line.cues}
    allowed = _allowance(before, after, lows)
    if draft.unit == "day":
        stage = _days(line, figure, last, lows, cues, before, after, scene)
    elif allowed or (draft.unit == "minute" and draft.value < 30 and "time_control" not in near):
        return None
    elif "reheating" in cues or (
        last is not None
        and last.stage == "reheating"
        and lows & {"warming", "heating", "reheat", "taken", "took"}
    ):
        stage = "reheating"
    elif last is not None and last.stage == "freezing" and last.line is line and draft.unit == "hour":
        stage = "freezing"
    elif ("time_control" in near or scene.time_line >= line.index - 2) and lows & _ELAPSED:
        stage = "time_control"
    elif last is not None and last.stage == "cooking" and last.line.index >= line.index - 1 and (
        lows & {"at", "held", "log", "holding", "for"} and not lows & {"ago"}
    ) and last.value < 150 and (lows & {"log", "held", "holding"} or "at that" in after):  # fmt: skip
        stage = "cooking"
    if not stage:
        return None
    draft.stage = stage
    if draft.chunk is None or not draft.chunk.known_food:
        draft.item, draft.chunk, draft.food = None, None, False
        if stage == "time_control":
            same = (
                last is not None
                and last.line is line
                and line.sentence[last.figure.first] == line.sentence[figure.first]
            )
            if (
                scene.topic_line == line.index
                and scene.topic_chunk is not None
                and scene.topic_chunk.first >= first
            ):
                draft.item, draft.chunk, draft.food = scene.topic, scene.topic_chunk, True
            elif same and last is not None:
                draft.item, draft.food = last.item, last.food
        elif (
            stage in ("reheating", "cooking", "freezing", "storage") or last is None or last.line is not line
        ):
            if scene.topic is not None and scene.topic_food and scene.topic_line >= line.index - 1:
                draft.item, draft.chunk, draft.food = scene.topic, scene.topic_chunk, True
            elif last is not None and last.line.index >= line.index - 1:
                draft.item, draft.food = last.item, last.food
    if last is not None and last.line is line and last.place:
        draft.place, draft.place_row = last.place, last.place_row
    del about
    return draft


def _allowance(before: str, after: str, lows: set[str]) -> bool:
    """A time that is allowed, planned or a comparison rather than one that passed."""
    if any(
        word in after
        for word in (
            "then toss",
            "and toss",
            "then discard",
            "limit",
            "rule",
            "window",
            "to hit",
            "to get",
            "to cool",
        )
    ):
        return True
    if any(before.endswith(word) for word in ("that 's", "that is")) and lows & {"tag", "discard"}:
        return True
    if before.endswith(
        (
            "they get",
            "it gets",
            "gets",
            "you get",
            "allowed",
            "got",
            "says",
            "within",
            "every",
            "in under",
            "another",
            "next",
        )
    ):
        return True
    if "that 's past" in before or "that 's over" in before or "that is over" in before:
        return True
    return (
        "that 's" in before
        and "out" not in lows
        and "been" not in lows
        and not lows & {"warming", "heating", "coming", "old"}
    )


def _days(
    line: Line,
    figure: Figure,
    last: Draft | None,
    lows: set[str],
    cues: set[str],
    before: str,
    after: str,
    scene: Scene,
) -> str:
    if (
        "freezing" in cues
        or (last is not None and last.stage == "freezing" and last.line is line)
        or "parasite" in lows
    ):
        return "freezing"
    if {"letter", "supplier", "label", "poster", "policy"} & lows:
        return ""
    if (
        before.endswith(
            ("past", "max", "gets", "within", "every", "in", "least", "than", "under", "over", "only")
        )
        and "ago" not in after
    ):
        return ""
    if line.tokens[figure.first].low == "day":
        return "storage"
    if after.startswith(("ago", "old", "past", "since", "in the", "today", "on it")) or lows & {
        "dated",
        "date",
        "made",
        "opened",
        "old",
        "marked",
        "sticker",
        "prep",
    }:
        del line, figure, scene
        return "storage"
    return ""


_MAKERS = {
    "temperature": _temperature,
    "concentration": _concentration,
    "ph": _ph,
    "length": _length,
    "duration": _duration,
}


def _chars(line: Line, first: int, end: int) -> tuple[int, int]:
    """The characters of tokens `first` to `end`."""
    return (line.tokens[first].start, line.tokens[end - 1].end) if end > first else (0, 0)

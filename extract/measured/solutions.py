"""Readings of sanitizer, pH, light, pressure and water activity."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.figures.quantities import MOST_PH
from extract.measured.acid_or_dry import PH_LINES
from extract.measured.kinds import is_agent
from extract.measured.mishearings import misheard
from extract.measured.refills import is_paper, mixed_again, of_produce
from extract.measured.strengths import SINKS, same_strength
from extract.measured.temperatures import carry
from extract.of_what.subject import Subject
from extract.scene import Draft, Read, Scene
from extract.words.lexicon import lexicon
from extract.words.lexicon import read as vocabulary
from extract.words.line import Chunk, Line
from extract.words.naming import generic, item_name
from extract.words.text import tokens, word_set


def concentration(
    read: Read, draft: Draft, about: Subject, parent: Draft | None, scene: Scene, clocks: int
) -> Draft:
    line = read.line
    del clocks
    draft.stage = "sanitizer"
    draft.agent = _agent(line, draft.figure, parent, scene)
    first, end = line.sentence_span(draft.first)
    if _of_supply(line, draft, first, end):
        draft.stage, draft.item, draft.chunk = "other", None, None
        return draft
    if (produce := of_produce(line, first, end)) is not None:
        draft.stage, draft.item, draft.chunk = "other", item_name(line, produce), None
        return draft
    again = mixed_again(line, draft.figure, scene)
    if again is not None and not any(first <= start < end for start, _, _ in line.agents):
        draft.agent = again.agent or draft.agent
        draft.chunk = None
        if not about.places:
            draft.item, draft.place, draft.place_row = again.item, again.place, again.place_row
            return draft
    thing = draft.chunk.object if draft.chunk is not None else None
    last = scene.last
    named = [chunk for chunk in line.chunks if first <= chunk.first < draft.first and chunk.sort != "place"]
    if named and same_strength(line, draft.figure, scene):
        draft.item, draft.chunk = item_name(line, named[-1]), None
        return draft
    if thing is not None and thing.what in ("bucket", "surface"):
        if draft.chunk is not None and draft.chunk in line.chunks:
            draft.item = _whole_name(line, draft.chunk)
        return draft
    bucket = [
        c
        for c in line.chunks
        if c.object is not None
        and c.first < draft.first
        and (c.object.what == "bucket" or (c.object.what == "surface" and first <= c.first))
    ]
    surface = [c for c in line.chunks if c.object is not None and c.object.what == "surface"]
    if bucket and not _elsewhere_since(line, bucket[-1], draft, scene):
        draft.item = _whole_name(line, bucket[-1])
    elif surface and line.sentence[surface[0].first] == line.sentence[draft.first]:
        draft.item = item_name(line, surface[0])
    elif (
        last is not None
        and last.kind == "concentration"
        and (about.chunk is None or is_agent(line, about.chunk))
        and not about.places
        and _nothing_new(line, draft.figure)
    ):
        draft.item, draft.place, draft.place_row = last.item, last.place, last.place_row
    else:
        draft.item = None
    draft.chunk = None
    return draft


_SUPPLY = word_set("tap faucet spigot well supply residual free total municipal city")
MOST_DRUNK = 4.0
"""ppm of chlorine in drinking water at most: US EPA, maximum residual disinfectant level, 40 CFR 141.65 (from
memory)."""


def _of_supply(line: Line, draft: Draft, first: int, end: int) -> bool:
    """`free chlorine at the kitchen tap 0.4`: of the water that is drunk, and no sanitizer."""
    told = {token.low for token in line.tokens[first:end]}
    return draft.agent == "chlorine" and 0 < draft.value <= MOST_DRUNK and not _SUPPLY.isdisjoint(told)


def _elsewhere_since(line: Line, bucket: Chunk, draft: Draft, scene: Scene) -> bool:
    """The sink of `line bucket 100. Pot sink, 10`: in a sentence of its own, behind the bucket's figure."""
    since = [
        chunk.first
        for chunk in line.chunks
        if chunk.sort == "place"
        and line.tokens[chunk.last - 1].low in _NO_BUCKETS
        and bucket.last <= chunk.first < draft.first
        and line.sentence[bucket.first] < line.sentence[chunk.first]
    ]
    tested = (d for d in scene.drafts if d.line is line and d.kind == "concentration")
    return bool(since) and any(bucket.last <= d.first < since[-1] for d in tested)


def _whole_name(line: Line, chunk: Chunk) -> str | None:
    """`salad bucket`, though a bucket of salad is salad: what stands in it is sanitizer."""
    name = item_name(line, chunk)
    last = line.tokens[chunk.last - 1]
    food_alone = name is not None and chunk.known_food and last.low not in name.lower().split()
    return line.words(chunk.first, chunk.last) if food_alone else name


_NO_BUCKETS = SINKS | word_set("machine washer")


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
    return _misheard_agent(line) or scene.agent


def _misheard_agent(line: Line) -> str | None:
    """The quat of `quart in the third bay, 300`; the word is doubted (`extract.measured.mishearings`)."""
    for doubt in misheard(line):
        hits = lexicon().agents.find(tokens(" ".join(doubt.alternatives)))
        if hits:
            return hits[0][2][0]
    return None


def ph(read: Read, draft: Draft, about: Subject, parent: Draft | None, scene: Scene, clocks: int) -> Draft:
    del parent, clocks
    line = read.line
    last = scene.last
    food = draft.chunk is not None and draft.chunk.known_food and not is_paper(line, draft.chunk)
    if MOST_PH < draft.value <= 10 * MOST_PH:
        printed, draft.value = draft.value, draft.value / 10
        why = f"No pH is {printed:g}: taken as {draft.value:g}, its point not heard"
        draft.codes.append(("lost_point", why, (f"{draft.value:g}",)))
    washing = bool(line.agents) or (
        last is not None and last.stage == "sanitizer" and last.line.index >= line.index - 1
    )
    if washing and not (food or _of_something_else(line, draft)):
        draft.stage, draft.item, draft.chunk = "sanitizer", None, None
        draft.agent = _agent(line, draft.figure, None, scene)
    else:
        draft.stage = "other"
        _of_the_food(line, draft, scene)
        if about.places == [] and food:
            draft.place = draft.place if scene.place else None
    return draft


def _of_something_else(line: Line, draft: Draft) -> bool:
    """The `Whey drink, pH 4.4` told behind a sanitizer: a sentence that begins with a thing that is neither a
    place nor anything of a solution."""
    chunk = draft.chunk
    first, end = line.sentence_span(draft.first)
    if chunk is None or chunk.object is not None or chunk.sort != "thing" or chunk.first != first:
        return False
    words = {token.low for token in line.tokens[chunk.first : chunk.last]}
    return words.isdisjoint(_OF_SOLUTIONS | _TOLD_BY) and not any(
        first <= at < end for at, _, _ in line.agents
    )


_OF_SOLUTIONS = word_set("""water solution mix paper papers sink bay basin tub tank bucket pail dip rinse
  sanitizer sani side bottle spray test tests reading same it vat machine compartment kit litmus card""")
_TOLD_BY = word_set("letter sheet plan meter log lab report paper result strip probe batch one certificate")
"""What tells a pH or a water activity, and is not what has it."""


def _of_the_food(line: Line, draft: Draft, scene: Scene) -> None:
    """Takes the food spoken of where none, or only the letter or meter that tells it, stands beside."""
    chunk = draft.chunk
    told = chunk is not None and not chunk.known_food and (
        line.tokens[chunk.last - 1].low in _TOLD_BY or _names_itself(line, chunk)
    )  # fmt: skip
    if chunk is None or told:
        draft.item = draft.chunk = None
        last = scene.last
        if last is not None and last.kind == draft.kind and last.line.index >= line.index - PH_LINES:
            draft.item, draft.chunk, draft.food, draft.carried = last.item, last.chunk, last.food, True
        else:
            carry(line, draft, scene)
        if draft.item is None:
            draft.item = _batch(line, draft)
    if draft.item is not None and draft.item.lower().endswith(" water activity"):
        draft.item = draft.item[: -len(" water activity")]


def _batch(line: Line, draft: Draft) -> str | None:
    """The `batch one` of `batch one reads 0.83`, where no food is spoken of."""
    first, _ = line.sentence_span(draft.first)
    for n in range(draft.first - 1, first - 1, -1):
        if line.tokens[n].kind == "mark":
            return None
        if line.tokens[n].low in ("batch", "lot") and n + 1 < draft.first:
            counted = line.classes[n + 1] == "number"
            return line.words(n, n + 2 if counted else n + 1)
    return None


def _names_itself(line: Line, chunk: Chunk) -> bool:
    """`Water activity on his little machine 0.93`: the words are what is measured, and no food."""
    return [token.low for token in line.tokens[chunk.first : chunk.last]][-2:] == ["water", "activity"]


def _pressed(line: Line, chunk: Chunk) -> bool:
    """The final rinse of `the flow pressure of the final rinse`."""
    at = chunk.prepared_at - 1
    return chunk.preposition == "of" and at >= 0 and line.tokens[at].low == "pressure"


def _line_under_pressure(line: Line, draft: Draft) -> str | None:
    """The rinse line of `rinse line pressure 9 psi`."""
    for n in range(draft.first - 1, 1, -1):
        if line.tokens[n].low == "pressure" and line.tokens[n - 1].low in ("line", "manifold"):
            return line.words(n - 2, n)
    return None


_OTHER_PRESSURES = word_set(" ".join(vocabulary("units.toml")["other_pressures"]["words"]))


def _other_pressure(line: Line, draft: Draft, scene: Scene) -> bool:
    """`gas bottle 90 psi`: a pressure of no dish machine. One that nothing is named with is the rinse's."""
    first, _ = line.sentence_span(draft.first)
    near = [token.low for token in line.tokens[first : draft.last]]
    if "rinse" in near:
        return False
    if _OTHER_PRESSURES & set(near):
        return True
    last = scene.last
    machine = scene.machine == "machine" or (
        draft.place_row is not None and draft.place_row.stage == "machine"
    )
    machine = machine or (last is not None and last.stage in ("machine_wash", "machine_rinse"))
    chunk = draft.chunk
    named = chunk is not None and (chunk.object is None or chunk.object.what not in ("pressure", "rinse"))
    return named and not machine


def other_kind(
    read: Read, draft: Draft, about: Subject, parent: Draft | None, scene: Scene, clocks: int
) -> Draft:
    del clocks
    line = read.line
    if draft.kind == "illuminance":
        draft.stage = "lighting"
        spot = [
            c
            for c in line.chunks
            if c.preposition in ("over", "at", "in", "above", "on", "under", "inside")
            and c.first < draft.first
            and line.sentence[c.first] == line.sentence[draft.first]
        ]
        again = bool(spot) and line.tokens[spot[-1].last - 2].low == "same" and draft.place is not None
        if spot and not again and all(generic(line, c) for c in about.places) and spot[-1].sort != "gone":
            draft.place, draft.place_row = line.words(spot[-1].prepared_at, spot[-1].last), spot[-1].place
        draft.item, draft.chunk = None, None
    elif draft.kind == "pressure" and _other_pressure(line, draft, scene):
        draft.stage = "other"
    elif draft.kind == "pressure":
        draft.stage = "machine_rinse"
        rinse = [c for c in line.chunks if c.object is not None and c.object.what == "rinse"]
        part = [
            c
            for c in rinse
            if (line.tokens[c.last - 1].low in ("line", "manifold") or _pressed(line, c))
            and c.first < draft.first
        ]
        draft.item = item_name(line, part[-1]) if part else _line_under_pressure(line, draft)
    elif draft.kind == "water_activity":
        draft.stage = "other"
        _of_the_food(line, draft, scene)
    del parent
    return draft


def keep_point(figure: Figure) -> None:
    """Takes a figure for a pH as it is printed, in place: the 3.98 that would be 398 degrees."""
    printed = next((value for value in figure.alternatives if value <= MOST_PH), None)
    if figure.value > MOST_PH and printed is not None and "lost_point" in figure.codes:
        figure.alternatives, figure.value = (figure.value,), printed
        figure.codes = tuple(code for code in figure.codes if code != "lost_point")

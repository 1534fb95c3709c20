"""Which words of an utterance a figure is about: the food or thing, where it is, and what measured it."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, field

from extract.figures.figure import Figure, holding
from extract.of_what.mentioned_things import (
    SKIPPED_BEFORE,
    before_pronoun,
    complement,
    food_further_left,
    food_just_before,
    goes_with,
    holds_food,
    made_with,
    of_ones,
    said_aside,
    shows_by_itself,
    told_where,
    unlinked,
)
from extract.of_what.named_behind import (
    all_behind,
    by_gauge,
    goes_on_behind,
    names_follow,
    said_next,
    told_what,
)
from extract.words.line import NOUN, Chunk, Line
from extract.words.text import word_set

_PEOPLE = word_set("""cook chef manager owner guy lady server employee boss worker clerk bartender driver
kid operator instructor teacher director supervisor nurse technician assistant attendant student inspector
  pic staff crew log record chart sheet entry entries ph aw meter morning afternoon evening night yesterday
  today lunch dinner breakfast
  opening ticket customer color bone way stuff dot hand hands minute minutes temp temps temperature
  temperatures
  reading readings note point call thing number figure thermometer's window cleaner shift paperwork person
  girl
  dude fella gentleman vendor supplier lid lids test tests everything nothing something kind sort problem
  issue
  question concern rim flood mine monday tuesday wednesday thursday friday saturday sunday deal report bit
  example time times celsius centigrade fahrenheit thumb finger fingers glasses eyes wire mistake
  fellow lad boy gal folks guys receipt arrival""")
"""Heads that never name what was measured."""

_LEAST_OF_WATER = 10.0
"""Degrees of either scale under which a bare number is none of water: common practice, no source."""
_TO_FOOD = word_set("on for in inside of with between among")


@dataclass(slots=True)
class Subject:
    """What was found around one figure."""

    chunk: Chunk | None = None
    after: bool = False
    """The thing was named behind the figure: `48 on the turkey`."""
    places: list[Chunk] = field(default_factory=list)
    instrument: Chunk | None = None
    gauge: Chunk | None = None
    position: Chunk | None = None
    shares: int | None = None
    """An earlier figure of the same sentence whose subject this one has too."""
    pronoun: str = ""
    direct: bool = False
    """Only small words stand between the thing and the figure."""


def subject(line: Line, found: list[Figure], at: int, taken: set[int]) -> Subject:
    """Looks left, then right. `taken`: chunks that an earlier figure already claimed from its right side."""
    figure = found[at]
    left = _left(line, found, at, taken)
    right = _right(line, found, at)
    if right is None and left.chunk is None:
        right = told_what(line, found, at)
        if right is None and left.shares is None and not of_unit(left):
            right = said_next(line, found, at)
    if right is None and figure.range_with == at + 1:
        right = _right(line, found, at + 1)
        if right is not None and left.chunk is None:
            left.chunk, left.after, left.shares = right, True, None
            return left
    if right is not None and (_prefers_right(line, figure, left, right) or all_behind(line, found, at)):
        taken.add(line.chunks.index(right))
        left.chunk, left.after, left.shares = right, True, None
    _right_places(line, found, at, left)
    behind = by_gauge(line, figure) if left.gauge is None else None
    if behind is not None and (left.chunk is None or behind.determiner in ("its", "own")):
        left.gauge, left.chunk = behind, None  # `the nacho pump's got 140 on its dial`
    return left


def of_unit(left: Subject) -> bool:
    """Whether a figure may be the unit's own: `Walk-in 38, milk's fine`."""
    return (
        any(not place.preposition for place in left.places)
        or left.gauge is not None
        or left.instrument is not None
    )


def _left(line: Line, found: list[Figure], at: int, taken: set[int]) -> Subject:
    result = Subject(direct=True)
    skipped: Chunk | None = None
    figure = found[at]
    floor, _ = line.sentence_span(figure.first)
    i = figure.first - 1
    while i >= floor:
        earlier = holding(found, i)
        if earlier is not None:
            if found[earlier].role in ("figure", "restated") and found[earlier].kind != "duration":
                if not shows_by_itself(result.gauge):
                    result.shares = earlier
                return result
            i = found[earlier].first - 1
            continue
        where = line.chunk_at[i]
        if where < 0:
            low = line.tokens[i].low
            if low in (",", ":"):
                result.direct = False
            if (low in ("theirs", "mine", "ours", "yours", "hers", "his") and not result.pronoun) or (
                low in ("it", "they", "them") and not result.pronoun
            ):
                result.pronoun = low
            i -= 1
            continue
        chunk = line.chunks[where]
        nxt = min(i, chunk.first) - 1
        if where in taken or chunk.sort in ("gone", "position"):
            if chunk.sort == "position" and result.position is None:
                result.position = chunk
            i = chunk.prepared_at - 1 if chunk.preposition else nxt
            continue
        if chunk.determiner == "no" and chunk.sort != "place":
            i = nxt  # `no ice, 66`
            continue
        if chunk.sort == "place" and chunk.preposition in ("after", "before", "than", "since"):
            i = chunk.prepared_at - 1
            continue
        if chunk.preposition in ("in", "with", "off") and chunk.known_food and food_just_before(line, chunk):
            i = chunk.prepared_at - 1  # the sauce of `meatballs in marinara`
            continue
        if chunk.sort == "instrument":
            result.instrument = result.instrument or chunk
            i = nxt
            continue
        if _closes_figure(found, chunk):
            i = chunk.prepared_at - 1
            continue
        head = line.tokens[chunk.last - 1].low
        if head in _PEOPLE and not chunk.known_food and chunk.object is None and chunk.sort != "place":
            i = chunk.prepared_at - 1 if chunk.preposition in SKIPPED_BEFORE else nxt
            continue
        if chunk.object is not None and chunk.object.what in ("gauge", "air") and chunk.place is None:
            result.gauge = result.gauge or chunk
            i = nxt
            continue
        if chunk.sort == "place":
            result.places.append(chunk)
            i = chunk.prepared_at - 1 if chunk.preposition else nxt
            follows = line.tokens[chunk.last].low if chunk.last < len(line.tokens) else ""
            if (
                not chunk.preposition
                and chunk.determiner != "same"
                and follows not in ("log", "record", "chart", "sheet")
            ):
                if skipped is not None and skipped.preposition == "with":
                    result.chunk, result.direct = skipped, False  # `a cooler with sandwiches, 45`
                return result
            continue
        if (
            chunk.object is not None
            and holds_food(chunk)
            and (
                chunk.preposition
                or chunk.last - chunk.first == 1
                or food_further_left(line, found, chunk, floor)
            )
        ):
            i = chunk.prepared_at - 1
            continue
        if goes_with(line, found, chunk, floor) or of_ones(line, chunk) or made_with(line, chunk, figure):
            i = chunk.prepared_at - 1
            continue
        if complement(line, chunk) or (result.pronoun and before_pronoun(line, found, chunk, floor)):
            i = chunk.prepared_at - 1
            continue
        if (chunk.object is not None and chunk.object.what == "tool") or said_aside(
            line, found, chunk, figure, floor
        ):
            i = nxt
            continue
        if (
            chunk.preposition == "in"
            and line.tokens[chunk.last - 1].stem in BODY_PARTS
            and _more_left(line, chunk, floor, commas=True)
        ):
            i = chunk.prepared_at - 1
            continue
        around = chunk.preposition in ("on", "in", "over", "under", "of", "from", "into")
        if (around or chunk.determiner == "same") and (
            head in ("ice", "water", "oil") or line.tokens[chunk.first].low == "ice"
        ):
            i = chunk.prepared_at - 1
            continue
        if (
            chunk.preposition in SKIPPED_BEFORE
            and not _linked(line, chunk, figure)
            and not (chunk.preposition == "for" and _opens(line, chunk, floor))
        ):
            if chunk.known_food and skipped is None:
                skipped = chunk
            i = chunk.prepared_at - 1
            continue
        if (
            chunk.preposition
            in ("in", "on", "from", "off", "of", "to", "under", "over", "at", "against", "into", "onto")
            and not chunk.known_food
            and chunk.object is None
            and _more_left(line, chunk, floor)
        ):
            i = chunk.prepared_at - 1
            continue
        if unlinked(line, chunk, figure, floor):
            i = chunk.prepared_at - 1 if chunk.preposition else nxt
            continue
        water = chunk.object is not None and chunk.object.what == "water"
        if water and figure.unit is None and figure.value < _LEAST_OF_WATER:
            return result
        if skipped is not None and skipped.preposition == "for" and chunk.sort == "thing":
            chunk = skipped  # `the almanac wants 165 for the chili and I'm at 149`
        result.chunk = chunk
        result.direct = result.direct and chunk.last <= figure.first
        j = chunk.prepared_at - 1 if chunk.preposition else chunk.first - 1
        _places_further_left(line, found, j, floor, result)
        return result
    if skipped is not None and not result.places:
        # `cooling log for the turkey soup, 135`: nothing else was named
        result.chunk, result.direct = skipped, False
    return result


def _closes_figure(found: list[Figure], chunk: Chunk) -> bool:
    """The strip of `100 on the strip and the thermometer's 131`: it told the figure before."""
    strip = chunk.object is not None and chunk.object.what == "strip" and bool(chunk.preposition)
    return strip and holding(found, chunk.prepared_at - 1) is not None


def _linked(line: Line, chunk: Chunk, figure: Figure) -> bool:
    """`with the rinse at 122`: only verbs of measuring stand between the two."""
    if chunk.preposition in ("for", "beside", "alongside") or (
        chunk.preposition == "by" and chunk.sort == "thing"
    ):
        return False  # `drawer by your knee 40`
    between = range(chunk.last, figure.first)
    return len(between) <= 3 and all(
        line.classes[n] in ("links", "auxiliaries", "adverbs") or line.tokens[n].low == "at" for n in between
    )


def _opens(line: Line, chunk: Chunk, floor: int) -> bool:
    """`for the ham, 41`: nothing but small words before it."""
    return not any(line.classes[n] == NOUN for n in range(floor, chunk.prepared_at))


def _more_left(line: Line, chunk: Chunk, floor: int, *, commas: bool = False) -> bool:
    i = chunk.prepared_at - 1
    while i >= floor and (commas or line.tokens[i].low not in (",", ":")):
        if line.chunk_at[i] >= 0 and line.chunks[line.chunk_at[i]].sort in ("food", "thing", "object"):
            return True
        i -= 1
    return False


def _places_further_left(line: Line, found: list[Figure], i: int, floor: int, result: Subject) -> None:
    while i >= floor:
        held = holding(found, i)
        if held is not None and found[held].role == "figure":
            return
        where = line.chunk_at[i]
        if where >= 0:
            chunk = line.chunks[where]
            if chunk.sort == "place":
                result.places.append(chunk)
            elif chunk.sort == "instrument":
                result.instrument = result.instrument or chunk
            elif chunk.object is not None and chunk.object.what in ("gauge", "air"):
                result.gauge = result.gauge or chunk
            i = chunk.first - 1
            continue
        i -= 1


def _right(line: Line, found: list[Figure], at: int) -> Chunk | None:
    """`48 on the turkey`, `36 for the milk`, `41 turkey`."""
    figure = found[at]
    _, end = line.sentence_span(figure.first)
    i = figure.last
    while i < end and (
        line.classes[i] in ("adverbs",) or line.tokens[i].low in ("degrees", "internal", "there", "each")
    ):
        i += 1
    if i >= end or line.tokens[i].kind == "mark":
        return None
    preposition = line.tokens[i].low if line.classes[i] == "prepositions" else ""
    if preposition:
        if preposition not in _TO_FOOD and not (preposition in ("at", "from") and _of_a_tap(line, i)):
            return None
        i += 1
    elif line.classes[i] == "verbs" and line.tokens[i].low.endswith("ed") and i + 1 < end:
        i += 1  # `37 pulled chicken`
    elif line.classes[i] not in (NOUN, "determiners") and not _was_the(line, figure, i):
        return None
    if not preposition and _was_the(line, figure, i):
        i += 1
    while (i < end and line.classes[i] in ("determiners", "adverbs")) or (
        i < end and line.tokens[i].low in ("her", "his", "their")
    ):
        i += 1
    if i >= end or line.chunk_at[i] < 0:
        return None
    chunk = line.chunks[line.chunk_at[i]]
    head = line.tokens[chunk.last - 1].low
    if chunk.sort in ("place", "position", "gone", "instrument") or (
        head in _PEOPLE and not chunk.known_food
    ):
        return None
    what = chunk.object.what if chunk.object is not None and not chunk.known_food else ""
    if what in ("strip", "gauge", "light") or (what == "vessel" and preposition != "on"):
        return None
    if not preposition and what in ("distance", "water"):
        return chunk
    if preposition in ("in", "with", "on") and line.tokens[chunk.first].low in ("ice", "boiling", "crushed"):
        return None
    if preposition in ("in", "with", "of", "inside", "for") and not chunk.known_food and chunk.object is None:
        return chunk if preposition == "for" and chunk.determiner in ("the", "this", "that") else None
    part = what in _PARTS_OF_WASHING and _named_behind(line, found, at)
    part = part or goes_on_behind(line, found, at, chunk)
    if not preposition and not chunk.known_food and not part and not _was_the(line, figure, figure.last):
        return None
    next_at = bisect_left(found, chunk.last, key=lambda figure: figure.first)
    following = found[next_at] if next_at < len(found) else None
    if (
        following is not None
        and following.role == "figure"
        and preposition
        and _linked(line, chunk, following)
        and not names_follow(line, found, at)
    ):
        return None
    if not preposition and not part and following is not None and following.role == "figure":
        gap = line.tokens[chunk.last : following.first]
        if not any(token.low in (",", "and") for token in gap):
            # `40 ham 41 turkey 38`: the thing may as well belong to the next figure
            return None if _had_left(line, found, at) and not names_follow(line, found, at) else chunk
    return chunk


def _of_a_tap(line: Line, i: int) -> bool:
    """`96 at the tap`, `104 from the faucet`."""
    at = next(
        (line.chunk_at[n] for n in range(i + 1, min(i + 4, len(line.tokens))) if line.chunk_at[n] >= 0), -1
    )
    chunk = line.chunks[at] if at >= 0 else None
    return chunk is not None and chunk.object is not None and chunk.object.what == "water"


_PARTS_OF_WASHING = frozenset(("wash", "rinse", "surface"))


def _named_behind(line: Line, found: list[Figure], at: int) -> bool:
    """`150 wash, 182 rinse`: here the parts of a machine rather follow their figures than lead them."""
    first, end = line.sentence_span(found[at].first)
    behind = 0
    for figure in found:
        if figure.role == "figure" and first <= figure.first < end:
            behind += figure.last < end and _is_part(line, figure.last)
            behind -= figure.first > first and _is_part(line, figure.first - 1)
    return behind > 0


def _is_part(line: Line, i: int) -> bool:
    chunk = line.chunks[line.chunk_at[i]] if line.chunk_at[i] >= 0 else None
    return chunk is not None and chunk.object is not None and chunk.object.what in _PARTS_OF_WASHING


def _had_left(line: Line, found: list[Figure], at: int) -> bool:
    floor = found[at - 1].last if at else line.sentence_span(found[at].first)[0]
    return any(line.chunk_at[n] >= 0 for n in range(floor, found[at].first))


def _was_the(line: Line, figure: Figure, i: int) -> bool:
    """`the 46 was croutons`."""
    return (
        figure.first > 0
        and line.tokens[figure.first - 1].low in ("the", "that")
        and i < len(line.tokens)
        and line.tokens[i].low in ("was", "is", "'s", "were")
    )


BODY_PARTS = word_set("thigh breast leg wing bone joint drum center middl thickest yolk")


def _prefers_right(line: Line, figure: Figure, left: Subject, right: Chunk) -> bool:
    if left.chunk is None or (figure.unit is not None and not right.preposition and right.object is not None):
        return True
    if _was_the(line, figure, figure.last):
        return True
    if right.object is not None and right.object.what in _PARTS_OF_WASHING and right.preposition == "on":
        return True
    if left.chunk.preposition and left.chunk.known_food is False:
        return True
    if right.preposition == "in" and left.chunk.known_food and line.tokens[right.last - 1].stem in BODY_PARTS:
        return False
    between = [token.low for token in line.tokens[left.chunk.last : figure.first]]
    return ("," in between or "and" in between or len(between) > 4) and bool(right.preposition)


def _right_places(line: Line, found: list[Figure], at: int, result: Subject) -> None:
    """`55 in the display case`, `48 on the turkey in the walk-in`."""
    figure = found[at]
    _, end = line.sentence_span(figure.first)
    stop = next((f.first for f in found[at + 1 :] if f.role == "figure"), end)
    begin = told_where(line, figure.last, end)
    for n in range(begin, min(stop, end)):
        if line.tokens[n].low in (",", ":", "but", "so", "because"):
            return
        where = line.chunk_at[n]
        if where >= 0:
            chunk = line.chunks[where]
            if chunk.sort == "place" and chunk.preposition in (
                "in",
                "at",
                "on",
                "from",
                "inside",
                "under",
                "by",
                "of",
            ):
                result.places.insert(0, chunk)
                return
        if line.tokens[n].low == "and":
            return

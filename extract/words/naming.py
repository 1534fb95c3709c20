"""What a thing or place is called: as it was said, without what does not belong to the name."""

from __future__ import annotations

from extract.words.headings import MOST_STALLS, STALLS
from extract.words.line import Chunk, Line
from extract.words.text import word_set

ASIDE = frozenset(("after", "before", "than", "since", "from", "off", "like"))
"""What stands before a place where a thing is not any more, or not yet."""
_TOWARDS = frozenset(("into", "onto", "to", "toward", "towards"))
_TAILS = word_set("""cooling holding reheating thawing sitting warming heating chilling boiling cooking
resting still now
  today inside there temp temps temperature temping internal surface is was""")
_VESSELS = word_set("crat carton container tub pan bin bucket cas box bag tray pot jug pack packag")
_MARKS = word_set("sticker label tag")
_GENERIC_PLACES = word_set("""floor wall ceiling slicer mixer hood dumpster can opener tubs block locker
toilet register
  office hallway alley enclosure""")


_LEADS_A_NAME = word_set("new same okay first second uh cooling reheating reheated rewarmed thawing holding")


def item_name(line: Line, chunk: Chunk) -> str:
    """The thing as it was said, without article and place."""
    first, last = chunk.first, chunk.last
    while last - first > 1 and line.tokens[last - 1].low in _TAILS:
        last -= 1
    while last - first > 1 and chunk.known_food and line.tokens[last - 1].stem in _VESSELS:
        last -= 1
    if last - first > 1 and chunk.known_food and line.tokens[last - 1].stem in _MARKS:
        last -= 1
    if (
        last - first > 2
        and chunk.known_food
        and line.tokens[first].stem in _VESSELS
        and line.tokens[first + 1].low == "of"
    ):
        first += 2
        if line.classes[first] == "determiners" and last - first > 1:
            first += 1
    while last - first > 1 and line.tokens[first].low in _LEADS_A_NAME:
        first += 1
    if chunk.sort == "instrument" and chunk.determiner in ("my", "their", "his", "her"):
        return line.words(chunk.first - 1, last)
    return line.words(first, last)


def place_name(line: Line, chunk: Chunk) -> str:
    """The place as it was said, with what stands behind it: `cooler by the back stairs`."""
    last = _with_number(line, chunk)
    if chunk.preposition in ASIDE:
        goal = next((c for c in line.chunks if c.first > last and c.preposition in _TOWARDS), None)
        if goal is not None and goal.sort == "place" and _touches(line, last, goal):
            return line.words(goal.first, goal.last)  # `from the cooler onto the steam table`
    for other in line.chunks:
        if (
            other.sort == "place"
            and other.preposition
            and other.preposition not in ASIDE
            and other.preposition not in _TOWARDS
            and other.first > last
            and _touches(line, last, other)
        ):
            last = _with_number(line, other)
    return line.words(chunk.first, last)


_NUMBERED = word_set("""station kitchen bay zone bain line unit cart stall booth stand table rack room window
register kettle compartment basin""")
_FEW = word_set("one two three four five six seven eight nine ten")


def _with_number(line: Line, chunk: Chunk) -> int:
    """The end of `fridge number 3` or `station two`, which tells it from the next one."""
    last, size = chunk.last, len(line.tokens)
    said = last < size and line.tokens[last].low in ("number", "no", "#")
    n = last + 1 if said else last
    if n >= size or line.classes[n] != "number":
        return last
    closes = n + 1 >= size or line.tokens[n + 1].kind == "mark"
    counted = line.tokens[last - 1].low in _NUMBERED or chunk.place is None or bool(chunk.place.stage)
    spoken = line.tokens[n].kind == "word"
    if spoken and counted and line.tokens[n].low in _FEW:
        closes = closes or line.classes[n + 1] in ("auxiliaries", "links", "verbs", "prepositions")
        return n + 1 if closes else last
    low = line.tokens[n].low
    figures = line.tokens[last - 1].low in STALLS and low.isdigit() and closes and int(low) <= MOST_STALLS
    figures = figures or _one_of_several(line, chunk, n)
    return n + 1 if said or figures else last


def _one_of_several(line: Line, chunk: Chunk, n: int) -> bool:
    """`Walk-in 1 chicken 38`, `Cooler 4, ham 46`: which unit of its kind, and not what it reads."""
    low = line.tokens[n].low
    unit = chunk.place is not None and chunk.place.air and chunk.place.stage != "freezing"
    ends = n + 1 >= len(line.tokens) or (line.tokens[n + 1].kind == "mark" and line.tokens[n + 1].low != ",")
    counts = not ends and line.tokens[n + 1].low in _COUNTED
    return (
        unit
        and low.isdigit()
        and 1 <= int(low) <= _MOST_UNITS
        and n == chunk.last
        and not ends
        and not counts
    )


_MOST_UNITS = 12
_COUNTED = word_set("hour hours minute minutes day days week weeks inch inches psi ppm")
"""`into a crock pot 3 hours ago`: the number is of what comes behind it."""


def _touches(line: Line, last: int, other: Chunk) -> bool:
    begin = other.prepared_at
    words = [line.tokens[n].low for n in range(last, begin)]
    return all(word in ("next", "right", "over", "back", "up", "down", "out", "in") for word in words)


def generic(line: Line, chunk: Chunk) -> bool:
    """A place that no food temperature is taken in, such as a wall."""
    return line.tokens[chunk.last - 1].low in _GENERIC_PLACES


_PARTS = word_set("corner corners edge edges rim rims seam seams handle handles lid lids")


def part_of_thing(place: str) -> bool:
    """`open at the corners`: where on a thing, and no place that what is said next could be in."""
    return place.split()[-1] in _PARTS


_SCENE_BARS = frozenset(
    [
        "for",
        "above",
        "over",
        "below",
        "beneath",
        "underneath",
        "against",
        "to",
        "toward",
        "towards",
        "into",
        "through",
    ]
)


_SMALL_PLACES = frozenset(("bath", "oil", "water", "pallet"))
"""Places that hold the one thing named with them and nothing that is named later."""


def bare_door(line: Line, chunk: Chunk) -> bool:
    """A door as a thing that a log hangs on or that is shut, not what stands in it, and no `two door`."""
    if chunk.place is not None and chunk.place.air:
        return False
    return line.tokens[chunk.last - 1].low in ("door", "doors") and chunk.preposition != "in"


def _arrivals_door(line: Line, chunk: Chunk) -> bool:
    """`Back door, the lorry came.`: the door that a delivery is taken in at."""
    named = chunk.last - chunk.first > 1 and chunk.preposition in ("", "at")
    return named and any(cue.stage == "receiving" for _, _, cue in line.cues)


_WOULD_BE = word_set("belong belongs should must ought need needs supposed meant")
_MAKES_A_CLAUSE = word_set("when whenever while if until because once where how why unless")
_PAPERS = word_set("report form sheet list log page paper application menu")


def _only_thought_of(line: Line, chunk: Chunk) -> bool:
    """The cooler of `belongs in the cooler`, the range of `when the range draws`: nobody is there."""
    first, _ = line.sentence_span(chunk.first)
    at = chunk.prepared_at - 1
    if not chunk.preposition:
        verb = chunk.last < len(line.tokens) and line.classes[chunk.last] in ("verbs", "links", "auxiliaries")
        return at >= first and verb and line.tokens[at].low in _MAKES_A_CLAUSE
    if chunk.preposition in ASIDE or line.tokens[at].low in ("be", "been"):
        return False
    for n in range(at, max(first, at - 4) - 1, -1):
        if line.tokens[n].kind == "mark" or line.classes[n] == "number":
            return False
        if line.tokens[n].low in _WOULD_BE:
            return True
    return False


def _part_of_a_paper(line: Line, chunk: Chunk) -> bool:
    """The line of `separate line on the report`."""
    after = line.tokens[chunk.last : chunk.last + 3]
    return (
        len(after) == 3
        and after[0].low in ("on", "of", "in")
        and after[2].low in _PAPERS
        and after[1].low != "a"
    )


_SOMEBODY = word_set("nobody somebody anybody everybody someone anyone everyone")
_TALKED = word_set("asked ask told tell talked talk spoke speak says")


def where_somebody_is(line: Line, chunk: Chunk) -> bool:
    """The pass of `nobody at the pass can say`, `I asked the guy at the pass`: the inspector is not there."""
    at = chunk.prepared_at - 1
    if chunk.preposition not in ("at", "on", "by", "behind", "in") or at < 0:
        return False
    if line.tokens[at].low in _SOMEBODY:
        return True
    first = line.chunks[line.chunk_at[at]].prepared_at if line.chunk_at[at] >= 0 else at
    return any(token.low in _TALKED for token in line.tokens[max(0, first - 2) : first])


def scene_place(line: Line, chunk: Chunk) -> bool:
    """Whether naming this place says where the inspector is now."""
    if bare_door(line, chunk) and not _arrivals_door(line, chunk):
        return False
    if chunk.preposition == "from" and chunk.place is not None and not chunk.place.stage:
        return False  # `hot boxes from the main kitchen`
    if chunk.preposition == "from" and line.tokens[chunk.prepared_at - 1].low in ("hot", "water", "warm"):
        return False  # `cut it with hot from the urn`
    if chunk.preposition == "down" and line.tokens[chunk.last - 1].low in ("sink", "drain", "toilet"):
        return False  # `pouring it down the hand sink`
    if _only_thought_of(line, chunk) or _part_of_a_paper(line, chunk):
        return False
    return (
        not generic(line, chunk)
        and line.tokens[chunk.last - 1].low not in _SMALL_PLACES
        and chunk.preposition not in _SCENE_BARS
    )


_REMARK = 12
"""Words behind a food within which a remark on it begins: common practice, no source."""


def _said_again_to_be(line: Line, chunk: Chunk) -> str | None:
    """`boneless bites 159. They're still chicken`: in the sentence behind the figure."""
    _, end = line.sentence_span(chunk.first)
    lows = [token.low for token in line.tokens[end : end + 3]]
    at = end + 3 if lows[:1] in (["they"], ["it"]) and lows[2:] in (["still"], ["all"]) else -1
    n = line.chunk_at[at] if 0 <= at < len(line.tokens) else -1
    if n < 0 or lows[1] not in ("'re", "'s", "are", "is") or not line.chunks[n].known_food:
        return None
    return f"{line.words(line.chunks[n].first, line.chunks[n].last)} {line.words(chunk.first, chunk.last)}"


def _said_to_keep(line: Line, chunk: Chunk) -> str | None:
    """`ranch dips 44, but those are the shelf stable cups`: said behind the figure, before any other food."""
    _, end = line.sentence_span(chunk.first)
    for n in range(chunk.last, min(end, chunk.last + _REMARK) - 1):
        at = line.chunk_at[n]
        if line.tokens[n].low == "shelf" and line.tokens[n + 1].low == "stable":
            told = any(token.low in ("are", "is", "'re", "'s") for token in line.tokens[chunk.last : n])
            return f"shelf stable {line.words(chunk.first, chunk.last)}" if told else None
        if at >= 0 and line.chunks[at].known_food:
            return None
    return None


def said_to_be(line: Line, chunk: Chunk) -> str | None:
    """`souvlaki, that is chicken, 151`: what it is made of, said right behind its name."""
    if (kept := _said_to_keep(line, chunk)) is not None:
        return kept
    if (again := _said_again_to_be(line, chunk)) is not None:
        return again
    at = [token.low for token in line.tokens[chunk.last : chunk.last + 3]]
    if at not in ([",", "that", "is"], [",", "that", "'s"], [",", "it", "'s"]):
        return None
    n = line.chunk_at[chunk.last + 3] if chunk.last + 3 < len(line.tokens) else -1
    kind = line.chunks[n] if n >= 0 else None
    if kind is None or not kind.known_food:
        return None
    return f"{line.words(kind.first, kind.last)} {line.words(chunk.first, chunk.last)}"

"""Words beside a figure that are not what was measured, though they stand nearer than that."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.words.line import Chunk, Line
from extract.words.text import word_set

SKIPPED_BEFORE = word_set("""for with by per since during until till like as after before about beside
alongside""")
"""What stands before a thing that is only mentioned along the way."""


def holds_food(chunk: Chunk) -> bool:
    """A pan or tub, or the dish of `paneer in the steel dish`."""
    what = chunk.object.what if chunk.object is not None else ""
    return what in ("vessel", "bucket") or (what == "surface" and chunk.preposition in ("in", "on", "from"))


def said_aside(line: Line, found: list[Figure], chunk: Chunk, figure: Figure, floor: int) -> bool:
    """The glasses of `sorry, my glasses, 68`, the factory of `burritos, factory made, 141`."""
    if chunk.sort != "thing" or chunk.known_food:
        return False
    if chunk.determiner == "my":
        return True
    apart = any(token.low == "," for token in line.tokens[chunk.last : figure.first])
    return apart and food_further_left(line, found, chunk, floor)


_AROUND_IT = (
    ["inside"],
    ["on", "top"],
    *([small, it] for small in ("in", "on", "over", "around") for it in ("it", "them")),
)


def goes_with(line: Line, found: list[Figure], chunk: Chunk, floor: int) -> bool:
    """The crab of `stuffed trout, crab and breadcrumb inside, 149`, the herbs of `turkey, herbs under the
    skin`: what is in or on the food named before, told between commas."""
    end = next((n for n in range(chunk.last, len(line.tokens)) if line.tokens[n].kind == "mark"), None)
    if end is None or line.tokens[end].low != "," or not food_further_left(line, found, chunk, floor):
        return False
    begin = chunk.first
    while begin > floor and line.tokens[begin - 1].kind != "mark":
        begin -= 1
    if begin == floor or any(line.classes[n] in ("number", "links") for n in range(begin, end)):
        return False
    last = max(
        (other.last for other in line.chunks if begin <= other.first and other.last <= end), default=end
    )
    behind = [token.low for token in line.tokens[chunk.last : end]]
    behind = behind if behind[:1] != ["and"] else [token.low for token in line.tokens[last:end]]
    return behind in _AROUND_IT or behind[:2] in (["under", "the"], ["inside", "the"])


def of_ones(line: Line, chunk: Chunk) -> bool:
    """The sun of `ones in the sun are 76`: where those are that were spoken of."""
    at = chunk.prepared_at - 1
    ones = bool(chunk.preposition) and at >= 0 and line.tokens[at].low in ("ones", "one")
    return ones and not chunk.known_food


def complement(line: Line, chunk: Chunk) -> bool:
    """The quality of `the water is cloudy, 73`: an unknown word that tells of the thing before it."""
    at = chunk.first - 1
    if chunk.sort != "thing" or chunk.known_food or chunk.determiner or chunk.preposition or at < 1:
        return False
    if chunk.last - chunk.first > 1 or line.classes[at] != "auxiliaries" or line.chunk_at[at - 1] < 0:
        return False
    told = line.chunks[line.chunk_at[at - 1]]
    return told.known_food or told.object is not None


def before_pronoun(line: Line, found: list[Figure], chunk: Chunk, floor: int) -> bool:
    """The words of `the curry was cold and we had words, and today it's 156`: `it` is the food before."""
    if chunk.sort != "thing" or chunk.known_food:
        return False
    foods = [c for c in line.chunks if floor <= c.first < chunk.first and c.known_food]
    if not foods or foods[-1].preposition in SKIPPED_BEFORE:
        return False
    return not any(held.role == "figure" and foods[-1].last <= held.first < chunk.first for held in found)


def food_further_left(line: Line, found: list[Figure], chunk: Chunk, floor: int) -> bool:
    """Whether the sentence opens with a food that no figure was said of yet: `dumplings, own pan, 135`."""
    for other in line.chunks:
        if (
            floor <= other.first < chunk.first
            and other.known_food
            and other.preposition not in SKIPPED_BEFORE
        ):
            return not any(held.role == "figure" and other.last <= held.first < chunk.first for held in found)
    return False


def food_just_before(line: Line, chunk: Chunk) -> bool:
    i = chunk.prepared_at - 1
    while i > 0 and chunk.preposition == "off" and line.classes[i] in ("links", "adverbs", "auxiliaries"):
        i -= 1  # `chicken tikka coming off the skewers`
    at = line.chunk_at[i] if i >= 0 else -1
    if at < 0:
        return False
    before = line.chunks[at]
    return before.known_food or (chunk.preposition == "with" and before.sort == "thing")


_LEADS_ON = frozenset(("links", "auxiliaries", "adverbs", "fillers", "predicates", "determiners", "number"))
_WHERE = frozenset(("place", "position", "instrument"))
_AS_SMALL = frozenset((",", ":", "at", "in", "on", "of", "from", "to", "degrees"))


def unlinked(line: Line, chunk: Chunk, figure: Figure, floor: int) -> bool:
    """The route of `I did this route for years, and yours is 141`: an unknown word that begins no clause and
    from which more than words of measuring stand to the figure."""
    if chunk.sort != "thing" or chunk.known_food or chunk.object is not None:
        return False
    if _opens_clause(line, chunk, floor):
        return False
    for n in range(chunk.last, figure.first):
        at = line.chunk_at[n]
        if at >= 0 and (line.chunks[at].sort in _WHERE or line.chunks[at].preposition == "on"):
            continue
        if chunk.determiner and line.tokens[n].low in ("it", "they"):
            continue
        if line.classes[n] not in _LEADS_ON and line.tokens[n].low not in _AS_SMALL:
            return True
    return False


def _opens_clause(line: Line, chunk: Chunk, floor: int) -> bool:
    before = chunk.prepared_at - 1
    if before < floor or line.tokens[before].kind == "mark" or line.classes[before] in ("links", "fillers"):
        return True
    if chunk.preposition == "of" and line.chunk_at[before] >= 0:
        return _opens_clause(line, line.chunks[line.chunk_at[before]], floor)  # `crock of jollof`
    joined = line.classes[before] == "conjunctions" and line.tokens[before].low != "that"
    return joined and not chunk.preposition


def told_where(line: Line, i: int, end: int) -> int:
    """Where the place begins in `119, that's in the warmer`; else `i`."""
    tokens = line.tokens
    if (
        i + 3 < end
        and tokens[i].low == ","
        and tokens[i + 1].low in ("that", "it", "this", "which", "they", "those", "all")
        and tokens[i + 2].low in ("'s", "is", "are", "was", "were")
    ):
        return i + 3
    if (
        i + 2 < end
        and tokens[i].low == ","
        and tokens[i + 1].low in ("in", "on", "at", "inside", "under")
        and not any(line.classes[n] == "number" for n in range(i + 1, end))
    ):
        return i + 1  # `45, in the sandwich unit.`
    return i


def shows_by_itself(gauge: Chunk | None) -> bool:
    """The display of `masago 38, display 29`: what it shows is of none of the foods before it."""
    if gauge is None or gauge.preposition or gauge.object is None:
        return False
    return gauge.object.what == "gauge"


_HOLDS = word_set("has have had got contains contain contained includes include")


def made_with(line: Line, chunk: Chunk, figure: Figure) -> bool:
    """The lamb of `the kibbeh has lamb, 154`: what the food named before is made of, and not, with no comma,
    what was measured of it: `the breading's got egg wash 63`."""
    at = (chunk.prepared_at if not chunk.preposition else 0) - 1
    if at < 1 or not chunk.known_food or line.tokens[at].low not in _HOLDS:
        return False
    if not any(line.tokens[n].low in (",", "it") for n in range(chunk.last, figure.first)):
        return False
    while at > 0 and line.classes[at] in ("auxiliaries", "links", "adverbs", "verbs"):
        at -= 1
    whole = line.chunks[line.chunk_at[at]] if line.chunk_at[at] >= 0 else None
    return whole is not None and whole.known_food and whole.last == at + 1 and not whole.preposition

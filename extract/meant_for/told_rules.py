"""Rules that are said aloud beside a reading: `the rule for the surface is 160`, `155 on a patty`."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.words.lexicon import read
from extract.words.line import Chunk, Line
from extract.words.text import word_set
from shared.foods import classify

_ROWS = read("roles.toml")["told_rule"]
_NOUNS = word_set(" ".join(_ROWS["nouns"]))
_ASKS = word_set(" ".join(_ROWS["asks"]))
_ENDS = word_set(" ".join(_ROWS["ends"]))
_APART = word_set(" ".join(_ROWS["apart"]))
_MULTIPLES = word_set(" ".join(_ROWS["multiples"]))
_DEMANDS = word_set(" ".join(_ROWS["demands"]))
_GENERAL = word_set("a an any that those this these every each")
_TILL = word_set("till until til by")
_AIMS = word_set("for make hit reach get")
_MOST_APART = 25.0
"""Degrees that a figure may be said to be over or under a limit: common practice, no source."""


def told_rule(line: Line, found: list[Figure], at: int, first: int) -> tuple[str, str] | None:
    """The role and the words of a figure that a rule said aloud has: a `limit`, or a `rule` for such food,
    which takes no reading back (`nope, 165 for that`)."""
    figure = found[at]
    if (noun := _rule_noun(line, figure, first)) is not None:
        return "limit", line.words(noun, figure.first)
    if (start := _multiple(line, figure, first)) is not None:
        return "limit", line.words(start, figure.first)
    if figure.kind not in (None, "temperature"):
        return None
    if at and _before_a_time(line, found[at - 1], figure):
        return "limit", line.words(found[at - 1].first, figure.first)
    if at and _apart(line, found[at - 1], figure):
        found[at - 1].role, found[at - 1].why = "difference", line.words(found[at - 1].first, figure.last)
        return "limit", line.words(figure.first - 1, figure.last)
    if at and (kind := _of_such(line, found, at)) is not None:
        return "rule", line.words(min(figure.first, kind.first), max(figure.last, kind.last))
    return None


def _rule_noun(line: Line, figure: Figure, first: int) -> int | None:
    """The rule of `the rule for the surface is 160`, `what the code asks for is 41`: it is the subject, and
    nobody measures between it and the figure."""
    tokens = line.tokens
    asks = False
    for n in range(figure.first - 1, first - 1, -1):
        low = tokens[n].low
        if (
            low in _ENDS
            or tokens[n].kind == "number"
            or (tokens[n].kind == "mark" and (low != "," or not asks))
        ):
            return None
        asks = asks or low in _ASKS
        if asks and low in _NOUNS:
            at = line.chunk_at[n]
            preposition = line.chunks[at].preposition if at >= 0 else ""
            refused = at >= 0 and line.chunks[at].determiner == "no"
            return None if preposition or refused else n
    return None


def _multiple(line: Line, figure: Figure, first: int) -> int | None:
    """`it must be twice the diameter, that is two inches`: the figure is worked out from the rule."""
    lows = [token.low for token in line.tokens[first : figure.first]]
    demand = next((n for n, low in enumerate(lows) if low in _DEMANDS), None)
    if demand is None or lows[-2:] not in (["that", "is"], ["that", "'s"], ["which", "is"], ["so", ","]):
        return None
    return first + demand if _MULTIPLES & set(lows[demand:]) else None


def _before_a_time(line: Line, one: Figure, two: Figure) -> bool:
    """`you've got till 2.20 for 41`, `they have until 3 to make 41`: what must be reached by then."""
    between = [token.low for token in line.tokens[one.last : two.first]]
    till = one.first > 0 and line.tokens[one.first - 1].low in _TILL
    aims = between[-1:] == ["for"] or (between[:1] == ["to"] and between[1:2] and between[1] in _AIMS)
    return till and bool(aims) and len(between) <= 4


def _apart(line: Line, one: Figure, two: Figure) -> bool:
    """`that's three over 41`: how far off, and from which limit."""
    between = [token.low for token in line.tokens[one.last : two.first]]
    near = one.role in ("figure", "count", "difference") and 0 < one.value <= _MOST_APART
    bare = one.unit in (None, "deg", "degF", "degC") and one.range_with is None
    return near and bare and len(between) in (1, 2) and set(between) <= _APART and two.value > one.value


def _of_such(line: Line, found: list[Figure], at: int) -> Chunk | None:
    """The kind of food in `patties 148. 155 on a patty`, `turkey 160. Nope, 165 for that`, `for fish it's
    145`: a round figure that is said of food in general, after one that was read of such food."""
    figure, one, tokens = found[at], found[at - 1], line.tokens
    if figure.value % 5 or one.role not in ("figure", "restated") or one.kind not in (None, "temperature"):
        return None
    first, end = line.sentence_span(figure.first)
    opened = figure.first
    while opened > first and _leads(line, opened - 1):
        opened -= 1
    kind = None
    if opened == first or tokens[opened - 1].low in (",", ";", "-"):
        n = figure.last
        if n + 1 >= end or tokens[n].low not in ("for", "on") or tokens[n + 1].low not in _GENERAL:
            return None
        if n + 2 >= end or tokens[n + 2].kind == "mark":
            return Chunk(n, n + 2, "thing") if tokens[n].low == "for" else None
        kind = line.chunks[line.chunk_at[n + 2]] if line.chunk_at[n + 2] >= 0 else None
        if kind is not None and (kind.last < end and tokens[kind.last].kind != "mark"):
            return None
    elif line.chunk_at[opened - 1] >= 0:
        kind = line.chunks[line.chunk_at[opened - 1]]
        if kind.preposition != "for" or kind.determiner or kind.prepared_at != first:
            return None
    if kind is None or not kind.known_food:
        return None
    return kind if _such(line, kind, one.first) else None


def _leads(line: Line, n: int) -> bool:
    return line.classes[n] == "fillers" or line.tokens[n].low in ("it", "'s", "no", "that", "is", "nope")


def _such(line: Line, kind: Chunk, before: int) -> bool:
    """Whether a food named before is one of the kind: the salmon of `for fish`."""
    name = {token.stem for token in line.tokens[kind.first : kind.last]}
    told = classify(line.words(kind.first, kind.last))
    tags = told.tags & _ANIMAL if told is not None else frozenset()
    for chunk in line.chunks:
        if not chunk.known_food or chunk.last > before:
            continue
        if name <= {token.stem for token in line.tokens[chunk.first : chunk.last]}:
            return True
        food = classify(line.words(chunk.first, chunk.last))
        if food is not None and tags & food.tags:
            return True
    return False


_ANIMAL = frozenset(("fish", "poultry", "comminuted", "intact_meat", "shell_egg", "egg"))

"""Figures that stand on paper: what a label, a plan, a plate or a poster says, wherever it hangs."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.words.lexicon import Lexicon, read
from extract.words.line import Line
from extract.words.text import word_set

_ROWS = read("roles.toml")["paper"]
_PAPERS = word_set(" ".join(_ROWS["things"]))
_SAY = word_set(" ".join(_ROWS["says"]))
_READ = word_set(" ".join(_ROWS["reads"]))
_READ_THINGS = word_set(" ".join(_ROWS["read_things"]))
_BEFORE_FIGURE = word_set("links auxiliaries adverbs prepositions determiners number")
_ORDERS = word_set("keep hold store cook heat reheat serve run wash rinse use mix dose chill set")
"""What a paper tells to do: `the sign says keep 36 to 40`."""
_REACH = 7
"""Words between a paper and its verb (`the plan on the wall says`): common practice, no source."""


def printed_on(line: Line, figure: Figure, first: int) -> tuple[str, str] | None:
    """The role of a figure that a paper named in its sentence says: `the plate on the side asks for 66`."""
    if figure.kind in ("water_activity", "duration"):
        return None
    tokens, i = line.tokens, figure.first - 1
    while i >= first and tokens[i].low not in _SAY and tokens[i].low not in _READ:
        small = line.classes[i] in _BEFORE_FIGURE or tokens[i].low in _ORDERS
        if not small or tokens[i].kind == "mark":
            return None
        i -= 1
    if i <= first:
        return None
    things = _PAPERS if tokens[i].low in _SAY else _READ_THINGS
    for n in range(i - 1, max(first, i - _REACH) - 1, -1):
        if tokens[n].low in things and n > first and tokens[n - 1].low in ("ph", "h", "my"):
            return None  # `the pH card says 4.4`, `my paper says`: it is measured with
        if tokens[n].low in things and not (n + 1 < i and line.chunk_at[n] == line.chunk_at[n + 1] >= 0):
            return "label", line.words(n, i + 1)
        if tokens[n].kind in ("mark", "number") or line.classes[n] in ("conjunctions", "verbs"):
            return None
        if line.chunk_at[n] >= 0 and not line.chunks[line.chunk_at[n]].preposition:
            return None
    return None


_TURNING = word_set("heat temp temperature thermal dish plate test strip surface")


def turns_color(line: Line, role: str, start: int) -> bool:
    """`heat label 163`: a label that changes color with the heat of a plate measures."""
    return (
        role == "label"
        and start > 0
        and line.tokens[start].low == "label"
        and line.tokens[start - 1].low in _TURNING
    )


def label_named(
    line: Line, found: list[Figure], at: int, floor: int, end: int, words: Lexicon
) -> tuple[str, str] | None:
    """`jug's label, 200 to 400`, `label range: 150 to 400`: a label that is named in front of its range."""
    if found[at].range_with is None or end <= floor or end + 1 != found[at].first:
        return None
    hit = words.roles_before.ending(line.tokens, end)
    if (hit is None or hit[1] != "label") and (start := _label_on(line, floor, end)) is not None:
        return "label", line.words(start, end)
    if hit is None or hit[1] != "label" or hit[0] < floor:
        return None
    return hit[1], line.words(hit[0], end)


def _label_on(line: Line, floor: int, end: int) -> int | None:
    """The label of `label on the jug, 200 to 400`: where it stands, with one place behind it."""
    for n in range(end - 1, max(floor, end - 6) - 1, -1):
        if line.tokens[n].low in ("label", "sticker", "placard", "plate"):
            return n if n + 1 == end or line.classes[n + 1] == "prepositions" else None
        if line.tokens[n].kind in ("mark", "number"):
            return None
    return None

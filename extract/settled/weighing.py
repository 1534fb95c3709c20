"""What the second reader's word makes of a figure: measured now, doubted, or only mentioned.

The shares below are chosen on walks that neither the rules nor the network that was asked had seen
(`docs/extraction.md` tells of them).
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from extract.amended.swaps import tells_swap
from extract.figures.counts import PRODUCT
from extract.figures.figure import Figure
from extract.figures.leaning import by_little
from extract.figures.numbered_things import NAMES
from extract.meant_for.said_limits import LOOKED_FOR
from extract.scene import Draft
from extract.second_reader.reader import FigureTold
from extract.settled.taking_back import BY_ITSELF
from extract.words.headings import STALLS
from extract.words.line import Line
from extract.words.text import word_set
from shared.units import convert

_MENTIONED, _COUNTED, _DOUBTED, _MEASURED = 0.96, 0.9, 0.2, 0.93
"""Share of all that is no measurement of today from which a figure is none, and of counts, names and times
alone; share from which it is doubted; share of `r` from which one that the rules take for something else is
kept, with a doubt."""
_NO_SPAN, _DOUBTED_SPAN = 0.95, 0.6
"""Shares of all but `r` from which a span of time is none that a rule judges (of 33 such spans two were), and
from which it is doubted."""
_HARDLY = 0.1
"""Share of `r` under which a figure is none if `l`, `p` or `n` is the likeliest."""
_AGAIN = 0.8
"""Share of `u` from which a figure of the same value, or the same in °C, is no reading of its own."""
_PERHAPS = word_set("limit previous hypothetical clock id label claim set_point")
"""Roles in which words around a figure may have been misunderstood."""
_HOTTEST, _SET_HOT = 300.0, 100.0
"""Above these no figure is taken for measured that the rules take for something else, and none that they take
for a set point (ovens, fryers); the units of food are colder."""


_STANDS = re.compile(r"\bmicrowav\w*\b.*\b(?:stand|stood|sit|sat|rest|rested)\b", re.IGNORECASE)
"""What is cooked or reheated in a microwave stands for a time that is judged."""


def span_only_mentioned(draft: Draft) -> bool:
    """Whether a span of time is none that a rule judges, by the second reader; what it is unsure of is
    doubted. Spans of people and machines are left to the rules."""
    figure = draft.figure
    if (
        draft.kind != "duration"
        or draft.stage == "other"
        or draft.stage_fixed
        or _STANDS.search(draft.line.text)
    ):
        return False
    mentioned = 1 - figure.told.meant["r"] if figure.told is not None else 0.0
    figure.perhaps_mentioned = figure.perhaps_mentioned or mentioned > _DOUBTED_SPAN
    return mentioned > _NO_SPAN


_WEIGHED = (None, "temperature", "length", "concentration", "pressure")
"""Kinds of which a figure may be none by its word alone."""


def weigh_figures(line: Line, found: Sequence[Figure], told: Sequence[FigureTold | None]) -> None:
    """Weighs each figure's role, in place, all roles settled by the rules. Spans of time are left to
    `extract.measured.durations`, which knows which of them a rule judges."""
    earlier: list[Figure] = []
    anew = _anew(line)
    for figure, one in zip(found, told, strict=True):
        figure.told = one
        if one is None or figure.kind == "duration":
            continue
        if figure.role == "figure" and not figure.why:
            alone = figure.range_with is None or _both_mentioned(figure, told)
            if figure.kind in _WEIGHED and alone and not figure.codes:
                listed = _listed(line, figure, found, told) or heated_to(line, figure)
                if _only_mentioned(figure, one) and not (_a_little_beside(figure, one) or listed):
                    figure.role, figure.why = "mentioned", BY_ITSELF
                elif figure.first < anew and _said_again(figure, one, earlier):
                    figure.role, figure.why = "restated", BY_ITSELF
            figure.perhaps_mentioned = _mentioned(one) > _DOUBTED
        elif (
            figure.role in _PERHAPS
            and one.meant["r"] > _MEASURED
            and _may_be_measured(figure)
            and not _nothing_beyond(line, figure)
        ):
            figure.role, figure.perhaps_mentioned, figure.clock = "figure", True, None
        earlier.append(figure)


def _anew(line: Line) -> int:
    """The token from which a figure that was said before is told of something else: behind `correction`, or
    words that two were swapped."""
    said = next((n for n, token in enumerate(line.tokens) if token.low == "correction"), len(line.tokens))
    swapped = tells_swap(line)
    return said if swapped is None else min(said, swapped)


def _listed(line: Line, figure: Figure, found: Sequence[Figure], told: Sequence[FigureTold | None]) -> bool:
    """The 131 of `roast at 128, stir fry at 131, pasta bake at 140`: said like others of a list that are
    measured."""
    if not figure.first or line.tokens[figure.first - 1].low != "at":
        return False
    return any(
        other is not figure
        and beside is not None
        and beside.meant["r"] > _LIKE_IT
        and other.first > 0
        and line.tokens[other.first - 1].low == "at"
        and line.sentence[other.first] == line.sentence[figure.first]
        for other, beside in zip(found, told, strict=True)
    )


_LIKE_IT = 0.5
"""Share of `r` from which another figure of a list is measured: chosen by us."""


def heated_to(line: Line, figure: Figure) -> bool:
    """`reheated to 165`: what was done, and no limit."""
    before = [token.low for token in line.tokens[max(0, figure.first - 2) : figure.first]]
    return before in (["reheated", "to"], ["heated", "to"])


def _nothing_beyond(line: Line, figure: Figure) -> bool:
    """`not one thing above 41 in the cooler`."""
    first, _ = line.sentence_span(figure.first)
    before = [token.low for token in line.tokens[first : figure.first]]
    return before[-1:] in (["above"], ["over"], ["below"], ["under"]) and not _NONE.isdisjoint(before)


_NONE = word_set("not nothing none no nobody")
_A_LIMIT = 0.95
"""Share of `l` from which even a figure told as a little beside another number is a limit."""


def _a_little_beside(figure: Figure, one: FigureTold) -> bool:
    """`Final rinse just under 180`, but not `get it just under 41`."""
    return by_little(figure.approximate) and (one.item is not None or one.meant["l"] < _A_LIMIT)


def _said_again(figure: Figure, one: FigureTold, earlier: Sequence[Figure]) -> bool:
    """The same reading once more: by the words around, or said right behind the first (`fifty, five oh`)."""
    if earlier and "split_number" in earlier[-1].codes and figure.value in earlier[-1].alternatives:
        return False  # `1 37, I repeat, 37`
    at_once = bool(earlier) and figure.first - earlier[-1].last <= 1 and earlier[-1].value == figure.value
    return _said_before(figure, earlier) and (
        one.meant["u"] > _AGAIN or (at_once and one.meant["r"] < _SURELY_ANOTHER)
    )


_SURELY_ANOTHER = 0.9
"""Share of `r` from which a figure said right behind the same one is of its own."""


def _only_mentioned(figure: Figure, one: FigureTold) -> bool:
    """Whether a figure is no measurement of today."""
    if figure.kind == "length":
        return _mentioned(one) - one.meant["n"] > _MENTIONED  # a depth is a size, and is judged
    likeliest = max(one.meant, key=one.meant.__getitem__)
    if one.meant["r"] < _HARDLY and likeliest in "lpn":
        return True
    return _mentioned(one) > _MENTIONED or one.meant["n"] > _COUNTED


def _mentioned(one: FigureTold) -> float:
    """The share of all that is only mentioned."""
    return one.meant["l"] + one.meant["p"] + one.meant["n"]


def _both_mentioned(figure: Figure, told: Sequence[FigureTold | None]) -> bool:
    """Whether the other end of its range is no measurement either."""
    other = told[figure.range_with] if figure.range_with is not None else None
    return other is not None and _mentioned(other) > _MENTIONED


_SURELY_PH = 0.8
"""Share from which a figure like a time of day is a pH."""


def _may_be_measured(figure: Figure) -> bool:
    if figure.number.lone_one or (figure.role == "limit" and figure.why.lower() in LOOKED_FOR):
        return False  # `I check that one again`
    if figure.role == "clock" and figure.told is not None and figure.told.kinds["ph"] > _SURELY_PH:
        return True  # `reading at 2.20 is 4.08`
    if figure.number.decimals > 1 or (figure.role == "clock" and figure.number.words):
        return False  # a price; `it's one thirty now`
    if figure.role == "id" and (figure.why in (PRODUCT, NAMES) or figure.why.rpartition(" ")[2] in STALLS):
        return False  # `Quat 256` and `by register 2` are names
    if figure.why.endswith(" at that"):
        return False  # `it's 7 at that temperature`
    most = _SET_HOT if figure.role == "set_point" else _HOTTEST
    return figure.kind in (None, "temperature") and figure.value <= most


_TAKEN_BACK = 0.5
"""Share of `w` from which a figure is none that another one says again."""


def _said_before(figure: Figure, earlier: Sequence[Figure]) -> bool:
    """Whether one of the readings said just before has the same value, or the same in the other scale."""
    return any(
        one.role == "figure"
        and one.kind in (None, "temperature")
        and _same(one.value, figure.value)
        and not (one.told is not None and one.told.meant["w"] > _TAKEN_BACK)
        for one in earlier[-2:]
    )


_ROUNDED = 0.6
"""°C by which a converted temperature may be off: both are rounded to whole degrees."""


def _same(one: float, two: float) -> bool:
    return one == two or any(
        abs(convert(a, "degF", "degC") - b) <= _ROUNDED for a, b in ((one, two), (two, one))
    )

"""Limits that a plan gives, or that are just told, beside a pH or a water activity."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extract.checks import Measured
from extract.figures.figure import Figure
from extract.meant_for.said_limits import is_limit
from extract.of_what.staging import heads_agree
from extract.scene import Draft, Read
from extract.words.text import word_set

_PLANNED = word_set("plan haccp variance approved approval paper papers permit letter")
PLAN_LIMITS = {"ph": (2.0, 7.0), "water_activity": (0.5, 1.0)}
"""Between which a critical limit of an approved plan lies: common practice, no source."""


_NEAR, _FAR = 2, 12
"""Utterances back in which a limit is of whatever is measured, and of a food that it names."""
_OF_ANOTHER_DAY = 0.9
"""Share from which a figure beside a plan is one of another day, such as of a laboratory, and no limit."""


def under_plan(measured: Measured, draft: Draft, reads: Sequence[Read]) -> Measured:
    """`their approved plan says the pH has to be 4.2 or under`, `pH 4.6, should be 4.2 or less`: the limit
    said beside a pH, or earlier of just this food."""
    at = draft.line.index
    low, high = PLAN_LIMITS[draft.kind]
    near = (*reversed(reads[max(0, at - _NEAR) : at + 1]), *reads[at + 1 : at + 2])
    for beside in (*near, *reversed(reads[max(0, at - _FAR) : max(0, at - _NEAR)])):
        planned = any(token.low in _PLANNED for token in beside.line.tokens)
        same = _names(beside, draft.item) or _unnamed(draft)
        if at - beside.line.index > _NEAR and not (planned and same):
            continue
        found = [
            figure
            for figure in beside.figures
            if (figure.role == "label" or is_limit(figure))
            and figure.kind in (None, draft.kind)
            and low <= figure.value <= high
            and (planned or figure.number.decimals or figure.unit)
            and not (figure.told is not None and figure.told.meant["p"] > _OF_ANOTHER_DAY)
        ]
        if any(figure.range_with is None for figure in found):
            found = _of_its_food(draft, beside, found)
        told = [figure.value for figure in found]
        if told:
            least = min(told) if len(told) > 1 else None
            says = measured.says if planned else measured.says | {"only_told"}
            return replace(measured, label_min=least, label_max=max(told), says=says)
    return measured


_LOTS = word_set("lot batch reading sample it")


def _unnamed(draft: Draft) -> bool:
    """`Lot 9 was reworked. Reading is 4.08`: no food of its own is named."""
    return draft.item is None or draft.item.lower().split()[0] in _LOTS


def _names(beside: Read, item: str | None) -> bool:
    return item is not None and any(
        chunk.known_food and heads_agree(item, beside.line.words(chunk.first, chunk.last))
        for chunk in beside.line.chunks
    )


def _of_its_food(draft: Draft, beside: Read, limits: Sequence[Figure]) -> list[Figure]:
    """Of limits that a plan gives for several foods that of the reading's own: `the kraut has to be down to
    4.2 and the hot sauce 4.0 or under`. One that is said of no food is of any."""
    own: list[Figure] = []
    others: list[Figure] = []
    for limit in limits:
        foods = [c for c in beside.line.chunks if c.known_food and c.last <= limit.first]
        name = beside.line.words(foods[-1].first, foods[-1].last) if foods else None
        its = not name or not draft.item or heads_agree(draft.item, name)
        (own if its else others).append(limit)
    chosen = own if own else others
    return chosen[-1:] if own or len(others) == 1 else []

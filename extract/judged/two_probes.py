"""The kitchen's own food thermometer beside the inspector's, in one food: `mine's 38, theirs says 45`.

The inspector's figure is that of the food; the other is a check of the other thermometer, and breaks no limit
of the food. Common practice, no source."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from extract.of_what.staging import FOOD_STAGES
from extract.scene import Draft
from extract.words.text import word_set
from shared.rules.model import Rules
from shared.types import Evidence, Question
from shared.units import written

BESIDE = "beside_mine"
"""The fact that a figure is of another thermometer in the same food."""
_LIMIT = "ice_point"
_MINE = word_set("mine my")
_THEIRS = word_set("theirs his hers")
_THEIR = word_set("their his her cook's chef's house kitchen's")
_PROBES = word_set("probe thermometer stem digital thermocouple stick")


def check_beside(drafts: Sequence[Draft]) -> None:
    """Makes of the second figure of one food, in place, a check of the thermometer that shows it."""
    for one, two in pairwise([d for d in drafts if d.fallen is None]):
        if one.line is not two.line or one.unit != two.unit or one.kind != "temperature" != two.kind:
            continue
        if not {one.stage, two.stage} <= FOOD_STAGES or one.stage != two.stage or one.item != two.item:
            continue
        first, second = _words(one, 0, two.first), _words(two, _said(one), len(two.line.tokens))
        for mine, other, own, theirs in ((one, two, first, second), (two, one, second, first)):
            name = _of_theirs(theirs)
            if name is not None and not _MINE.isdisjoint(own) and _MINE.isdisjoint(theirs):
                other.stage, other.item, other.food, other.place = "thermometer_check", name, False, None
                other.facts = other.facts | {BESIDE}
                other.rules.append(("another thermometer in the same food", other.line.index, *other.span))
                mine.stage_fixed = True


def _words(draft: Draft, least: int, most: int) -> tuple[str, ...]:
    """The words around a figure that may tell which thermometer shows it: `38 on mine`, `his says 45`."""
    tokens = draft.line.tokens
    first, end = draft.line.sentence_span(draft.first)
    before = [token.low for token in tokens[max(first, least) : draft.first]]
    after = [token.low for token in tokens[draft.last : min(end, draft.last + 3, most)]]
    return (*before, *(after if not _ON.isdisjoint(after[:1]) else ()))


def _said(draft: Draft) -> int:
    """The token behind a figure and what it was said to be on: `38 on mine`."""
    tokens, n = draft.line.tokens, draft.last
    return n + 2 if n < len(tokens) and tokens[n].low in _ON else n


_ON = word_set("on by with")


def _of_theirs(told: Sequence[str]) -> str | None:
    """The name of a thermometer that is not the inspector's; None where the words tell of none."""
    for n, low in enumerate(told):
        if low in _THEIR and n + 1 < len(told) and told[n + 1] in _PROBES:
            return f"{low} {told[n + 1]}"
        if low in _THEIRS:
            return low
    return None


def further_apart(standing: Sequence[Draft], ids: Mapping[int, str], rules: Rules) -> Iterator[Question]:
    """Asks whether a food thermometer is inaccurate that is further from the inspector's, in the same food,
    than 4-203.11 allows. `ids`: reading by the order of its draft."""
    limit = rules.limits.get(_LIMIT)
    for one, two in pairwise(standing):
        other = next((d for d in (one, two) if BESIDE in d.facts), None)
        if limit is None or other is None or other.unit not in limit.tolerance or one.line is not two.line:
            continue
        off, most = abs(one.value - two.value), limit.tolerance[other.unit]
        if off > most:
            apart_by, allowed = written(off, other.unit), written(most, other.unit)
            yield Question(
                f"The kitchen's thermometer and yours are {apart_by} apart in one food, and {allowed} is "
                "allowed. Is it inaccurate?",
                (Evidence(reading=ids[one.order]), Evidence(reading=ids[two.order])),
                (limit.section,),
            )

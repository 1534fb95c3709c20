"""A unit's own thermometer beside the inspector's, in the same air: `the dial says 35 and mine says 45`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from extract.of_what.staging import elsewhere
from extract.scene import Draft
from extract.words.text import word_set
from shared.rules.model import Rules
from shared.types import Evidence, Question
from shared.units import written

_LIMIT = "air_device"
GAUGE = "4-203.12"
"""FDA Food Code 2022: thermometers for air and water, within 3 °F."""
_UNITS_OWN = word_set("dial gauge display readout thermometer thermometers theirs hers his its")
_MINE = word_set("mine my")
_STAGES = ("ambient", "cold_holding", "hot_holding")


def apart(standing: Sequence[Draft], ids: Mapping[int, str], rules: Rules) -> Iterator[Question]:
    """Asks whether a thermometer is inaccurate that is further than 4-203.12 allows from what the
    inspector's own shows of the same air. `ids`: reading by the order of its draft."""
    limit = rules.limits.get(_LIMIT)
    if limit is None:
        return
    for one, two in pairwise(standing):
        if one.line is not two.line or one.unit != two.unit or one.unit not in limit.tolerance:
            continue
        if "ambient" not in (one.stage, two.stage) or not {one.stage, two.stage} <= set(_STAGES):
            continue
        first, second = _words(one, 0), _words(two, one.figure.last)
        off, most = abs(one.value - two.value), limit.tolerance[one.unit]
        if off <= most or elsewhere(one.place, two.place) or not _one_of_each(first, second):
            continue
        place = one.place or two.place
        where = f" of the {place}" if place else ""
        apart_by, allowed = written(off, one.unit), written(most, one.unit)
        yield Question(
            f"The thermometer{where} and yours are {apart_by} apart, and {allowed} is allowed for "
            "an air thermometer. Is it inaccurate?",
            (Evidence(reading=ids[one.order]), Evidence(reading=ids[two.order])),
            (limit.section,),
        )


def _words(draft: Draft, least: int) -> frozenset[str]:
    """The words of its sentence in front of a figure, from token `least` on."""
    first, _ = draft.line.sentence_span(draft.figure.first)
    return frozenset(token.low for token in draft.line.tokens[max(first, least) : draft.figure.first])


def _one_of_each(first: frozenset[str], second: frozenset[str]) -> bool:
    """Whether one figure is of the inspector's own thermometer and the other of the unit's."""
    for own, other in ((first, second), (second, first)):
        if own & _MINE and not other & _MINE and other & _UNITS_OWN:
            return True
    return False

"""How a matched condition is meant: as seen now, as in order, as advice, or as seen at an earlier visit."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from extract.conditions.content import COMMA, STOP
from extract.conditions.matching import Match, said_in, sentence
from extract.conditions.model import Polarity
from extract.conditions.nodes import Found, Node, Scene
from extract.words.text import stem

_NEGATOR_REACH = 4
_NEGATOR_ENDS = frozenset({STOP, COMMA, "but", "becaus", "so", "and", "then", "with"})
_NO_AGAIN = frozenset({"no", "not", "never", "nobody"})
"""A "no" right before another is an answer: "no, we don't wash those"."""
_STILL = frozenset(map(stem, ("still", "again", "not", "never", "once", "has", "nothing")))
"""First words of what tells of now (`a cook with a fever, still working`, `not getting fixed today`) unless
an earlier visit is named too."""
_HYPOTHETICAL_REACH = 12
_ASKED_IF = 6
"""Words from "asked" to an "if" that only tells what was asked."""
_ANSWERED = frozenset({STOP, COMMA, "but", "and", "say", "said", "becaus", "answer", "reply"})


_EXCEPT_REACH = 4
"""Words from what is in order to its exception."""


class Meaning(NamedTuple):
    """How a match is meant."""

    polarity: Polarity
    repeated: bool
    excepted: bool = False
    """All is in order but for what is named: `all labeled except one bottle`."""


def meaning(scene: Scene, match: Match, context: Mapping[str, Node], question: bool) -> Meaning:
    """How `match` is meant; `question`: its sentence ends in a question mark."""
    first, last = sentence(scene, match.first)
    stills = [place for place in context["still"].found(scene) if first <= place.first < last]
    still = bool(stills)
    before = any(first <= place.first < last for place in context["earlier"].found(scene))
    again = before or any(scene.content.stems[place.first] not in _STILL for place in stills)
    repeated = still and again
    ordered = first not in scene.content.with_subject and any(
        place.first == first for place in context["imperative"].found(scene)
    )
    if question or ordered or _hypothetical(scene, match, context):
        return Meaning("hypothetical", repeated)
    if not still and _earlier(scene, match, context, first, last):
        return Meaning("earlier", False)
    if any(match.last <= place.first < last for place in context["all_clear"].found(scene)):
        return Meaning("earlier", False)
    negated = (match.in_order or match.row.negatable) and _negated(scene, match, context)
    if negated == match.in_order:
        return Meaning("violation", repeated)
    if not before and _excepted(scene, match, context, last):
        return Meaning("violation", repeated, excepted=True)
    return Meaning("compliance", repeated)


def _excepted(scene: Scene, match: Match, context: Mapping[str, Node], end: int) -> bool:
    """Whether what is in order has an exception right behind it: `no droppings except under the sink`."""
    return any(
        match.first < place.first <= match.last + _EXCEPT_REACH and place.last < end
        for place in context["exception"].found(scene)
    ) and not said_in(scene, match.row.unless, sentence(scene, match.first))


def of_earlier_visit(scene: Scene, part: tuple[int, int], context: Mapping[str, Node]) -> bool:
    """Whether the sentence of words `part` tells only of an earlier visit, whatever it tells."""
    first, last = part
    said = {
        name: any(first <= place.first < last for place in context[name].found(scene))
        for name in ("earlier", "still", "from_now")
    }
    return said["earlier"] and not said["still"] and not said["from_now"]


def _negated(scene: Scene, match: Match, context: Mapping[str, Node]) -> bool:
    stems = scene.content.stems
    void = context["negators_void"].found(scene)
    for negator in context["negators"].found(scene):
        if negator.first in match.positions or any(place.first == negator.first for place in void):
            continue
        if negator.last < len(stems) and stems[negator.last] in _NO_AGAIN:
            continue
        for part in match.parts:
            if part.first < negator.last:
                continue
            between = stems[negator.last : part.first]
            between = [stem for at, stem in enumerate(between, negator.last) if at not in match.positions]
            if len(between) <= _NEGATOR_REACH and (
                not _NEGATOR_ENDS.intersection(between) or _sign_of(between)
            ):
                return True
            break
    return False


def _sign_of(between: list[str]) -> bool:
    """Whether all that stands between is "problem with" or the like."""
    return "with" in between and not _NEGATOR_ENDS.difference({"with"}).intersection(between)


def _hypothetical(scene: Scene, match: Match, context: Mapping[str, Node]) -> bool:
    inquiries = context["inquiry"].found(scene)
    for name, ends in (("hypothetical", (STOP, COMMA, "but")), ("hypothetical_if", (STOP, "but"))):
        for place in context[name].found(scene):
            if place.last > match.last or place.first in match.positions:
                continue
            if any(place.first - asked.last < _ASKED_IF for asked in inquiries if asked.last <= place.first):
                ends = (STOP, COMMA, "but")
            target = next((part.first for part in match.parts if part.first >= place.last), None)
            if target is None or target - place.last > _HYPOTHETICAL_REACH:
                continue
            if not any(stem in ends for stem in _open(scene, match, place.last, target)):
                return True
    return any(_only_asked(scene, match, place) for place in inquiries)


def _open(scene: Scene, match: Match, start: int, end: int) -> list[str]:
    stems = scene.content.stems
    return [stems[at] for at in range(start, end) if at not in match.positions]


def _only_asked(scene: Scene, match: Match, place: Found) -> bool:
    """Whether the match is what was asked about; what comes after a comma or "said" is the answer."""
    if not place.last <= match.last or place.first in match.positions:
        return False
    said = scene.content.stems[place.last : match.last]
    return len(said) <= _HYPOTHETICAL_REACH and not _ANSWERED.intersection(said)


def _earlier(scene: Scene, match: Match, context: Mapping[str, Node], first: int, last: int) -> bool:
    stems = scene.content.stems
    now = [place.first for place in context["from_now"].found(scene) if first <= place.first < last]
    for place in context["earlier"].found(scene):
        if not first <= place.first < last or place.first in match.positions:
            continue  # the years of `ran out two years ago` are what is wrong
        if place.last <= match.first:
            if "but" in stems[place.last : match.first]:
                continue
            if not any(place.last <= at <= match.first for at in now):
                return True
        elif not any(stem in (COMMA, "but", "and") for stem in stems[match.last : place.first]):
            return True
    return False

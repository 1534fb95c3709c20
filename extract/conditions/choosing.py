"""Of all overlapping matches, those that stand, each with the sections that lost to it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from extract.conditions.content import COMMA
from extract.conditions.matching import Match
from extract.conditions.nodes import Range, Scene

_JOINERS = frozenset({"and", "or", "nor", COMMA, "plus", "both", "of"})
_WHERE = frozenset({"on", "in", "of", "at", "by", "for", "insid", "under", "behind"})
_PLAIN = 0.2
"""By how much words that leave nothing to weigh come before others."""
_IN_ORDER_YIELDS = 0.1
"""What is wrong is heard before what is right, when both are said of the same thing."""


def chosen(scene: Scene, found: Sequence[Match]) -> list[tuple[Match, tuple[str, ...]]]:
    """The matches that stand, in the order of the text, with their runners-up."""
    if len(found) == 1:
        return [(found[0], tuple(sorted(found[0].row.near))[:3])]
    pairs: list[Match] = []
    found = [match for match in found if not _of_another(scene, match, found)]
    for match in sorted(found, key=lambda match: (_gap(scene, match), -match.confidence)):
        if not _crossed(scene, match, pairs):
            pairs.append(match)
    ordered = sorted(pairs, key=lambda match: (-_strength(match), match.first, match.row.name))
    kept: list[_Kept] = []
    for match in ordered:
        winner = next((one for one in kept if any(_loses(match, other) for other in one.family)), None)
        if winner is None:
            kept.append(_Kept(match, [match], []))
        elif match.row.section == winner.match.row.section and match.in_order == winner.match.in_order:
            winner.family.append(match)
        elif not match.in_order and match.row.section not in (winner.match.row.section, *winner.lost):
            winner.lost.append(match.row.section)
    kept.sort(key=lambda one: (one.match.first, one.match.last))
    return [
        (one.match, tuple(dict.fromkeys([*one.lost, *sorted(one.match.row.near)]))[: max(3, len(one.lost))])
        for one in kept
    ]


class _Kept(NamedTuple):
    """A match that stands, those of its section that say it in other words, and the sections that lost."""

    match: Match
    family: list[Match]
    lost: list[str]


def _of_another(scene: Scene, match: Match, found: Sequence[Match]) -> bool:
    """Whether the thing only says where the real one is: "apron on the grill cook is filthy"."""
    item = match.item
    if item is None or item[0] < 2 or scene.content.stems[item[0] - 1] not in _WHERE:
        return False
    states = match.positions.difference(range(*item))
    if not states or min(states) < item[1]:
        return False
    return any(
        other.item is not None
        and other.item[1] == item[0] - 1
        and states & other.positions
        and other.row is not match.row
        for other in found
    )


def _strength(match: Match) -> float:
    strength = match.confidence + _PLAIN * match.row.plain + 0.02 * min(len(match.positions), 8)
    return strength - _IN_ORDER_YIELDS if match.in_order else strength


def _loses(match: Match, winner: Match) -> bool:
    """Whether `match`, the weaker, says no more than `winner`."""
    shared = match.positions & winner.positions
    if not shared:
        return False
    if match.positions <= winner.positions or (match.in_order and not winner.in_order):
        return True
    if _apart(match.item, winner.item):
        return False
    if match.row.section == winner.row.section:
        return True
    if winner.row.section not in match.row.near and match.row.section not in winner.row.near:
        return False
    things = {at for item in (match.item, winner.item) if item for at in range(*item)}
    return bool(shared - things)


def _apart(item: Range | None, other: Range | None) -> bool:
    """Whether both name a thing, and not the same one."""
    return item is not None and other is not None and (item[1] <= other[0] or other[1] <= item[0])


def _gap(scene: Scene, match: Match) -> float:
    """How much lies between the words of a match."""
    return sum(
        scene.content.between(one[1], two[0]) for one, two in pairwise(match.ranges) if two[0] > one[1]
    )


def _crossed(scene: Scene, match: Match, nearer: Sequence[Match]) -> bool:
    """Whether a word of this match belongs to a nearer one, so that it reaches over its neighbour.

    "floor clean, slicer dirty": floor and dirty are not a pair, since the slicer stands between, nor are
    slicer and clean, since the comma closes what was said of the floor. "hood and walls dirty" are two pairs,
    for only "and" stands between.
    """
    gaps = [(one[1], two[0]) for one, two in pairwise(match.ranges) if two[0] > one[1]]
    if _said_further(scene, match, gaps):
        return False
    for other in nearer:
        if not match.positions & other.positions or (not match.in_order and _unrelated(match, other)):
            continue
        if match.in_order and _denied(scene, match, other):
            return True
        for gap in gaps:
            for taken in other.ranges:
                if gap[0] <= taken[0] and taken[1] <= gap[1] and not _joined(scene, taken, gap):
                    return True
            if _closed(scene, match, other, gap):
                return True
    return False


def _denied(scene: Scene, match: Match, other: Match) -> bool:
    """The good order of `soap's good, no towels`: what is said to be wrong stands together, of the same."""
    wrong = not other.in_order and other.row.section == match.row.section
    return wrong and not _gap(scene, other) and bool(_gap(scene, match))


def _said_further(scene: Scene, match: Match, gaps: Sequence[Range]) -> bool:
    """Whether more is said of one thing: "the dog runs around in the kitchen and he pets it"."""
    if match.item is None or match.ranges[0] != match.item:
        return False
    wide = [gap for gap in gaps if gap[1] - gap[0] > 1]
    return bool(wide) and all(scene.content.stems[gap[1] - 1] == "and" for gap in wide)


def _unrelated(match: Match, other: Match) -> bool:
    """Whether the other one says only that something else is well."""
    denied = other.pattern not in other.row.in_order
    return other.in_order and (denied or other.row.section != match.row.section)


def _joined(scene: Scene, taken: Range, gap: Range) -> bool:
    """Whether the neighbour is joined to this match's own word by "and" alone."""
    stems = scene.content.stems
    before = stems[gap[0] : taken[0]]
    after = stems[taken[1] : gap[1]]
    for words in (before, after):
        if words and all(word in _JOINERS for word in words):
            return True
    return not before and not after


def _closed(scene: Scene, match: Match, other: Match, gap: Range) -> bool:
    """Whether a comma after the shared word ends what was said of the other match's thing."""
    stems = scene.content.stems
    shared = [taken for taken in match.ranges if taken in other.ranges and taken[1] == gap[0]]
    if not shared or COMMA not in stems[slice(*gap)]:
        return False
    return other.ranges[0] < shared[0] and other.last <= gap[0] and match.ranges[0] == shared[0]

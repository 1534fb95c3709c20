"""Every place where a pattern of the catalogue matches an utterance."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import islice, pairwise
from typing import NamedTuple

from extract.conditions.catalogue import Row
from extract.conditions.compiling import CompiledPart, CompiledPattern
from extract.conditions.content import STOP
from extract.conditions.nodes import Found, Range, Scene

_MOST = 24
"""Matches of one pattern that are looked at in one utterance; more are no speech."""
_DISTANCE_COST = 0.02
_OPTIONAL_GAIN = 0.08
_HIGHEST = 0.97


class Match(NamedTuple):
    """A pattern, and the words it rests on."""

    row: Row
    pattern: CompiledPattern
    in_order: bool
    parts: tuple[Found, ...]
    """In the order of the text."""
    ranges: tuple[Range, ...]
    """Positions of all words it rests on, in order."""
    positions: frozenset[int]
    confidence: float
    item: Range | None

    @property
    def first(self) -> int:
        return self.ranges[0][0]

    @property
    def last(self) -> int:
        return self.ranges[-1][1]


def matches(scene: Scene) -> list[Match]:
    """All matches, also those that overlap."""
    found: list[Match] = []
    tried: set[int] = set()
    holds = scene.holds
    for terminal in {id(phrase[2]): phrase[2] for phrase in scene.phrases}.values():
        for row, pattern, in_order in terminal.candidates:
            if holds(pattern.masks) and id(pattern) not in tried:
                tried.add(id(pattern))
                for chosen in islice(places(scene, pattern), _MOST):
                    found.append(_match(scene, row, pattern, in_order, chosen))
    return [match for match in found if not _excluded(scene, match)]


def places(scene: Scene, pattern: CompiledPattern) -> Iterator[tuple[Found | None, ...]]:
    """Every way to place the parts of the pattern; None stands for an optional one that is not there."""
    if not all(node.found(scene) for node in pattern.needed):
        return
    first, *rest = pattern.parts
    if first.optional:
        yield from _placed(scene, rest, (None,))
        return
    if not rest:
        yield from ((place,) for place in first.node.found(scene))
        return
    for place in first.node.found(scene):
        yield from _placed(scene, rest, (place,))


def _placed(
    scene: Scene, rest: list[CompiledPart], sofar: tuple[Found | None, ...]
) -> Iterator[tuple[Found | None, ...]]:
    if not rest:
        yield sofar
        return
    part, *others = rest
    standing = [place for place in sofar if place is not None]
    before = standing[-1] if part.after and standing else None
    any_found = False
    for place in part.node.found(scene):
        if before is not None and place.first < before.last and not _turned(place, standing, others):
            continue
        if standing and not _fits(scene, part.window, place, standing):
            continue
        any_found = True
        yield from _placed(scene, others, (*sofar, place))
    if part.optional and not any_found:
        yield from _placed(scene, others, (*sofar, None))


def _turned(place: Found, standing: list[Found], others: list[CompiledPart]) -> bool:
    """Whether the two parts touch the other way round, as in "leaking faucet" for "faucet leaking"."""
    alone = len(standing) == 1 and all(part.optional for part in others)
    return alone and place.last == standing[0].first and place.last - place.first == 1


def _fits(scene: Scene, window: float, place: Found, standing: list[Found]) -> bool:
    """Whether `place` overlaps nothing chosen so far and is near enough to some of it."""
    nearest = 1e9
    for other in standing:
        if place.last <= other.first:
            distance = scene.content.between(place.last, other.first)
        elif other.last <= place.first:
            distance = scene.content.between(other.last, place.first)
        elif _disjoint(place, other):
            distance = 0.0
        else:
            return False
        nearest = min(nearest, distance)
    return nearest <= window


def _disjoint(a: Found, b: Found) -> bool:
    return all(i >= q or p >= j for i, j in a.ranges for p, q in b.ranges)


def _match(
    scene: Scene, row: Row, pattern: CompiledPattern, in_order: bool, chosen: tuple[Found | None, ...]
) -> Match:
    confidence = pattern.confidence
    item: Range | None = None
    for part, place in zip(pattern.parts, chosen, strict=True):
        if place is None:
            continue
        confidence *= place.weight
        if part.optional:
            confidence += _OPTIONAL_GAIN
        if item is None:
            item = place.item
    parts = tuple(sorted(place for place in chosen if place is not None))
    gap = 0.0
    for one, two in pairwise(parts):
        if two.first > one.last:
            gap += scene.content.between(one.last, two.first)
    confidence -= _DISTANCE_COST * max(0.0, gap - 1.0)
    ranges = tuple(sorted({taken for place in parts for taken in place.ranges}))
    positions = frozenset(at for i, j in ranges for at in range(i, j))
    confidence = round(min(_HIGHEST, max(0.05, confidence)), 3)
    return Match(row, pattern, in_order, parts, ranges, positions, confidence, item)


def _excluded(scene: Scene, match: Match) -> bool:
    """Whether the same sentence holds what the row says it does not apply to."""
    if match.in_order:
        return False
    return said_in(scene, (*match.row.unless, *match.row.clears), sentence(scene, match.first))


def said_in(scene: Scene, patterns: Iterable[CompiledPattern], part: Range) -> bool:
    """Whether any of the patterns stands in the sentence of words `part`."""
    first, last = part
    for pattern in patterns:
        if not scene.holds(pattern.masks):
            continue
        for chosen in places(scene, pattern):
            standing = [place for place in chosen if place is not None]
            if first <= standing[0].first < last:
                return True
    return False


def sentence(scene: Scene, at: int) -> Range:
    """The positions of the sentence around position `at`, half-open, without its stop."""
    stems = scene.content.stems
    first = at
    while first > 0 and stems[first - 1] != STOP:
        first -= 1
    last = at
    while last < len(stems) and stems[last] != STOP:
        last += 1
    return first, last

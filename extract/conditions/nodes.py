"""Compiled elements of patterns: each finds all places in an utterance where it stands."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, NamedTuple

from extract.conditions.content import COMMA, STOP, Content

Range = tuple[int, int]


class Found(NamedTuple):
    """Where an element stands: content positions `first` to `last`, half-open."""

    first: int
    last: int
    ranges: tuple[Range, ...]
    """The positions it rests on."""
    weight: float = 1.0
    """Below 1 where the words say it less than plainly, such as "needs a lid" for no lid."""
    item: Range | None = None
    """The thing that it names."""


class Terminal:
    """The end of a phrase in the trie: the vocabulary entries that this phrase belongs to."""

    def __init__(self, entries: frozenset[int], patterns: Mapping[int, tuple[Any, ...]]) -> None:
        self.entries = entries
        self._patterns = patterns

    @cached_property
    def mask(self) -> int:
        """The entries as one mask."""
        return sum(1 << entry for entry in self.entries)

    @cached_property
    def candidates(self) -> tuple[Any, ...]:
        """The patterns to try where this phrase stands."""
        return tuple(each for entry in sorted(self.entries) for each in self._patterns.get(entry, ()))


@dataclass(slots=True)
class Scene:
    """One utterance with the vocabulary found in it."""

    content: Content
    phrases: list[tuple[int, int, Terminal]]
    """Every phrase of the vocabulary that stands in it: from, to, and its entries; by `from`, then `to`."""
    entries: int
    """The set of vocabulary entries that it holds, as a mask."""
    memo: dict[int, list[Found]] = field(default_factory=dict)

    def holds(self, masks: Iterable[int]) -> bool:
        """Whether it holds an entry of each mask; where not, nothing that needs them can stand in it."""
        entries = self.entries
        for mask in masks:  # noqa: SIM110 - a generator would cost more than the loop
            if not mask & entries:
                return False
        return True


class Node:
    """One element; `masks` are sets of vocabulary entries, of each of which the utterance must hold one."""

    __slots__ = ("masks", "number")

    def __init__(self, number: int, masks: tuple[int, ...]) -> None:
        self.number = number
        self.masks = masks

    def found(self, scene: Scene) -> list[Found]:
        """All places where it stands."""
        known = scene.memo.get(self.number)
        if known is None:
            known = scene.memo[self.number] = self._search(scene) if scene.holds(self.masks) else []
        return known

    def _search(self, scene: Scene) -> list[Found]:
        raise NotImplementedError


class Entry(Node):
    """A vocabulary entry: a class of phrases, or a run of words."""

    __slots__ = ("entry", "thing")

    def __init__(self, number: int, entry: int, *, thing: bool = False) -> None:
        super().__init__(number, (1 << entry,))
        self.entry = entry
        self.thing = thing

    def _search(self, scene: Scene) -> list[Found]:
        entry = self.entry
        places: list[Range] = []
        for i, j, terminal in scene.phrases:
            if entry in terminal.entries:
                if places and places[-1][0] == i:
                    places[-1] = (i, j)
                elif not places or places[-1][1] < j:
                    places.append((i, j))
        if self.thing:
            return [Found(i, j, ((i, j),), 1.0, (i, j)) for i, j in places]
        return [Found(i, j, ((i, j),)) for i, j in places]


class AnyOf(Node):
    """Any of several elements."""

    __slots__ = ("nodes",)

    def __init__(self, number: int, nodes: tuple[Node, ...]) -> None:
        mask = 0
        for node in nodes:
            mask |= node.masks[0]
        super().__init__(number, (mask,))
        self.nodes = nodes

    def _search(self, scene: Scene) -> list[Found]:
        entries = scene.entries
        found = {
            place[:2]: place for node in self.nodes if node.masks[0] & entries for place in node.found(scene)
        }
        return list(found.values())


class Run(Node):
    """Elements next to each other."""

    __slots__ = ("nodes",)

    def __init__(self, number: int, nodes: tuple[Node, ...]) -> None:
        super().__init__(number, tuple(mask for node in nodes for mask in node.masks))
        self.nodes = nodes

    def _search(self, scene: Scene) -> list[Found]:
        runs = self.nodes[0].found(scene)
        for node in self.nodes[1:]:
            places = node.found(scene)
            runs = [
                Found(
                    run.first,
                    place.last,
                    run.ranges + place.ranges,
                    run.weight * place.weight,
                    run.item or place.item,
                )
                for run in runs
                for place in places
                if place.first == run.last
            ]
            if not runs:
                break
        return runs


@dataclass(frozen=True, slots=True)
class AbsenceWords:
    """The nodes that say that something is not there, from the classes of the same names."""

    before: Node
    """"no", "out of", "without": what is missing follows."""
    before_weak: Node
    """"needs", "should have": it follows, and is only implied to be missing."""
    after: Node
    """"is missing", "all out": it came before."""
    between: frozenset[str]
    """Stems that may not stand between: "no problem with soap" does not miss soap."""
    present: Node
    """"is there", "good": what says that it is there after all."""


_LISTING = frozenset({"and", COMMA})
_OUT_OF = frozenset(
    {"of", "onto", "on", "to", "into", "through", "over", "back", "front", "there", "here", "from"}
)
"""After "out" these say where something is, or that something else is lacking: "water running out onto the
grass", "the bathroom is out of paper"."""


class Missing(Node):
    """Any way to say that the inner element is not there."""

    __slots__ = ("inner", "words")

    _LEAD = 2
    _TRAIL = 4

    def __init__(self, number: int, inner: Node, words: AbsenceWords) -> None:
        super().__init__(number, inner.masks)
        self.inner = inner
        self.words = words

    def _search(self, scene: Scene) -> list[Found]:
        found: list[Found] = []
        for thing in self.inner.found(scene):
            if self._doubly(scene, thing):
                continue
            place = self._led(scene, thing) or self._trailed(scene, thing)
            if place is not None:
                found.append(place)
        return found

    def _doubly(self, scene: Scene, thing: Found) -> bool:
        """Whether it is "no … missing": there after all."""
        stems = scene.content.stems
        if thing.last >= len(stems) or stems[thing.last] not in ("miss", "empty", "lack"):
            return False
        return any(lead.last == thing.first for lead in self.words.before.found(scene)) and (
            stems[thing.first - 1] in ("no", "not")
        )

    def _led(self, scene: Scene, thing: Found) -> Found | None:
        best: Found | None = None
        for node, weight in ((self.words.before, 1.0), (self.words.before_weak, 0.75)):
            for lead in node.found(scene):
                if lead.last > thing.first or (best is not None and lead.last <= best.first):
                    continue
                between = scene.content.stems[lead.last : thing.first]
                if self._leads(between) and not (
                    _LISTING.intersection(between) and self._affirmed(scene, thing.last)
                ):
                    best = Found(
                        lead.first, thing.last, lead.ranges + thing.ranges, thing.weight * weight, thing.item
                    )
            if best is not None:
                return best
        return None

    def _leads(self, words: list[str]) -> bool:
        """Whether the words between a "no" and the thing let it reach: adjectives, or a list."""
        if any(word == STOP or word in self.words.between for word in words):
            return False
        if len(words) <= self._LEAD and COMMA not in words:
            return "and" not in words and "but" not in words
        return len(words) <= 6 and words[-1] in ("or", "nor", "and", COMMA) and _is_list(words)

    def _affirmed(self, scene: Scene, j: int) -> bool:
        return any(j == place.first for place in self.words.present.found(scene))

    def _trailed(self, scene: Scene, thing: Found) -> Found | None:
        stems = scene.content.stems
        for trail in self.words.after.found(scene):
            if trail.first < thing.last:
                continue
            words = stems[thing.last : trail.first]
            if len(words) > self._TRAIL or STOP in words or "but" in words or "and" in words:
                continue
            if COMMA in words and words != [COMMA]:
                continue
            if any(thing.last <= good.first < trail.first for good in self.words.present.found(scene)):
                continue
            if stems[trail.last - 1] == "out" and trail.last < len(stems) and stems[trail.last] in _OUT_OF:
                continue
            if trail.last - trail.first == 1 and stems[trail.first] in ("no", "none"):
                after = stems[trail.last] if trail.last < len(stems) else STOP
                if after not in (STOP, COMMA, "and", "but"):
                    continue
            return Found(thing.first, trail.last, thing.ranges + trail.ranges, thing.weight, thing.item)
        return None


def _is_list(words: list[str]) -> bool:
    """Whether the words are things in a list: no more than two words between its joints."""
    run = 0
    for word in words:
        run = 0 if word in ("or", "nor", "and", COMMA) else run + 1
        if run > 2:
            return False
    return True


def _joined(run: Found, place: Found) -> Found:
    weight = run.weight * place.weight
    return Found(run.first, place.last, run.ranges + place.ranges, weight, run.item or place.item)

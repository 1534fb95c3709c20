"""Patterns and classes, compiled once into nodes and one trie over all their words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from extract.conditions.content import Content, phrase_meaning
from extract.conditions.nodes import AbsenceWords, AnyOf, Entry, Missing, Node, Range, Run, Scene, Terminal
from extract.conditions.pattern import (
    Absent,
    Choice,
    Class,
    Element,
    Pattern,
    PatternError,
    Sequence,
    Words,
    element,
)

ABSENCE_CLASSES = ("no_before", "no_before_weak", "no_after", "present")
"""Classes that the grammar of absence itself is made of; every catalogue must define them."""


@dataclass(slots=True)
class Vocabulary:
    """All words of the patterns as one trie, and a node for each element."""

    classes: Mapping[str, tuple[str, ...]]
    things: frozenset[str] = frozenset()
    """The classes that name a thing, which can be the item of a finding."""
    compounds: Iterable[str] = ()
    """Terms whose words mean nothing on their own: "ice cream" is no ice."""
    not_between: Iterable[str] = ()
    """Words that keep a "no" from reaching what follows them."""
    _trie: dict[str, Any] = field(default_factory=dict)
    _entries: dict[object, int] = field(default_factory=dict)
    _nodes: dict[Element, Node] = field(default_factory=dict)
    _open: list[str] = field(default_factory=list)
    _absence: AbsenceWords | None = None
    _compound: int = -1
    count: int = 0

    def __post_init__(self) -> None:
        self._compound = self._entry("compounds", self.compounds)

    # ------------------------------------------------------------ building

    def node(self, made: Element) -> Node:
        """The compiled element; equal elements share one node. PatternError: an unknown or circular class."""
        known = self._nodes.get(made)
        if known is None:
            known = self._make(made)
            self._nodes[made] = known
        return known

    def _make(self, made: Element) -> Node:
        if isinstance(made, Words):
            return Entry(self._number(), self._entry(made, made.choices))
        if isinstance(made, Class):
            return self._class(made.name)
        if isinstance(made, Absent):
            return Missing(self._number(), self.node(made.inner), self._absence_words())
        nodes = tuple(self.node(part) for part in made.elements)
        return (Run if isinstance(made, Sequence) else AnyOf)(self._number(), nodes)

    def _class(self, name: str) -> Node:
        if name not in self.classes:
            raise PatternError(f"there is no class @{name}")
        if name in self._open:
            raise PatternError(f"class @{name} contains itself")
        self._open.append(name)
        try:
            return self._members(name)
        finally:
            self._open.pop()

    def _members(self, name: str) -> Node:
        plain = [member for member in self.classes[name] if "@" not in member and "no(" not in member]
        others = [member for member in self.classes[name] if "@" in member or "no(" in member]
        nodes: list[Node] = []
        if plain:
            entry = self._entry(("class", name), plain)
            nodes.append(Entry(self._number(), entry, thing=name in self.things))
        nodes += [self.node(element(member)) for member in others]
        return nodes[0] if len(nodes) == 1 else AnyOf(self._number(), tuple(nodes))

    def _absence_words(self) -> AbsenceWords:
        if self._absence is None:
            before, weak, after, present = (self.node(Class(name)) for name in ABSENCE_CLASSES)
            between = frozenset(stem for word in self.not_between for stem in phrase_meaning(word))
            self._absence = AbsenceWords(before, weak, after, between, present)
        return self._absence

    def _number(self) -> int:
        self.count += 1
        return self.count

    def _entry(self, key: object, phrases: Iterable[str]) -> int:
        known = self._entries.get(key)
        if known is not None:
            return known
        number = self._entries[key] = len(self._entries)
        for phrase in phrases:
            stems = phrase_meaning(phrase)
            if not stems:
                raise PatternError(f"{phrase!r} holds only words that are left out")
            at = self._trie
            for stem in stems:
                at = at.setdefault(stem, {})
            at.setdefault("", []).append(number)
        return number

    def close(self, candidates: Mapping[int, tuple[Any, ...]]) -> None:
        """Make the trie ready for looking; `candidates` are the patterns to try for each entry."""
        known: dict[frozenset[int], Terminal] = {}
        open_nodes: list[dict[str, Any]] = [self._trie]
        while open_nodes:
            node = open_nodes.pop()
            for stem, below in node.items():
                if stem:
                    open_nodes.append(below)
                    continue
                entries = frozenset(below)
                terminal = known.get(entries)
                if terminal is None:
                    terminal = known[entries] = Terminal(entries, candidates)
                node[stem] = terminal

    # ------------------------------------------------------------ looking

    def scene(self, content: Content) -> Scene:
        """The utterance with its vocabulary found."""
        stems = content.stems
        size = len(stems)
        phrases: list[tuple[int, int, Terminal]] = []
        trie = self._trie
        for i in range(size):
            at = trie.get(stems[i])
            j = i + 1
            while at is not None:
                terminal = at.get("")
                if terminal is not None:
                    phrases.append((i, j, terminal))
                if j == size:
                    break
                at = at.get(stems[j])
                j += 1
        compound = self._compound
        hiding = [(i, j) for i, j, terminal in phrases if compound in terminal.entries]
        if hiding:
            phrases = [phrase for phrase in phrases if not _inside(phrase[0], phrase[1], hiding)]
        mask = 0
        for _, _, terminal in phrases:
            mask |= terminal.mask
        return Scene(content, phrases, mask)


def _inside(i: int, j: int, compounds: list[Range]) -> bool:
    """Whether the phrase is only a part of a compound."""
    return any(a <= i and j <= b and (i, j) != (a, b) for a, b in compounds)


@dataclass(frozen=True, slots=True)
class CompiledPart:
    """One part of a pattern, compiled."""

    node: Node
    optional: bool
    after: bool
    window: float


@dataclass(frozen=True, slots=True)
class CompiledPattern:
    """One pattern, compiled, with what tells quickly that it cannot match."""

    text: str
    parts: tuple[CompiledPart, ...]
    masks: tuple[int, ...]
    needed: tuple[Node, ...]
    """The nodes of its parts that are not optional."""
    confidence: float


def compiled(pattern: Pattern, vocabulary: Vocabulary) -> CompiledPattern:
    """The pattern with its elements compiled into `vocabulary`."""
    parts = tuple(
        CompiledPart(vocabulary.node(part.element), part.optional, part.after, part.window)
        for part in pattern.parts
    )
    needed = tuple(part.node for part in parts if not part.optional)
    masks = tuple(mask for node in needed for mask in node.masks)
    confidence = pattern.confidence
    if confidence is None:
        confidence = _usual_confidence([part.element for part in pattern.parts if not part.optional])
    return CompiledPattern(pattern.text, parts, masks, needed, confidence)


def _usual_confidence(needed: list[Element]) -> float:
    """How sure a pattern is before its words are looked at: the more it asks for, the surer."""
    if len(needed) >= 3:
        return 0.92
    if len(needed) == 2:
        return 0.86
    only = needed[0]
    if isinstance(only, Words):
        shortest = min(len(choice.split()) for choice in only.choices)
        return {1: 0.6, 2: 0.8}.get(shortest, 0.88)
    return 0.82


__all__ = ["ABSENCE_CLASSES", "Choice", "CompiledPattern", "Vocabulary", "compiled"]

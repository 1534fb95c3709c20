"""`classify` gives what kind of food a said name is, from `vocabulary/foods.toml`.

Nothing here knows a limit. The answer is a vocabulary's opinion; a product assessment or a label
overrules it.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from shared.errors import InputError
from shared.kept import kept

VOCABULARY = Path(__file__).parent / "vocabulary" / "foods.toml"

COOKED_STAGES = frozenset({"hot_holding", "reheating", "cooling", "cooking"})
"""Stages in which a plant food has been or is being heated."""


@dataclass(frozen=True, slots=True)
class Food:
    """What the vocabulary holds of a named food."""

    said: str
    name: str
    """The entry that names what it is: `burger` in "turkey burgers from the flat top"."""
    kind: str
    """The vocabulary's group, such as `poultry` or `bakery`."""
    tags: frozenset[str]
    """Kinds and states that limits ask for: `poultry`, `comminuted`, `ready_to_eat`, `cut`, …"""
    tcs: bool | None
    """Whether it needs time/temperature control as named; None: it depends on what nobody said."""
    tcs_when_cooked: bool
    """Whether it needs control once heated, as plant foods do."""
    asks: str | None = None
    """What would settle `tcs`, in plain words."""

    def needs_control(self, stage: str) -> bool | None:
        """Whether it is TCS food at that stage of its life; None: it depends on what nobody said."""
        if stage in COOKED_STAGES and self.tcs_when_cooked:
            return True
        return self.tcs

    @property
    def ready_to_eat(self) -> bool:
        return "ready_to_eat" in self.tags

    @property
    def commercially_processed(self) -> bool:
        return "commercially_processed" in self.tags


@lru_cache(maxsize=4096)
def classify(text: str) -> Food | None:
    """The food that `text` names, or None when no name in it is known."""
    words = _words(text)
    known = _vocabulary()
    found = list(known.names_in(words))
    head = _head(found, words)
    if head is None:
        return None
    before = [entry for start, _, entry in found if start < head.start and entry is not head.entry]
    states = known.states_in(words)
    return _food(text, head, before, states)


@dataclass(frozen=True, slots=True)
class _Entry:
    name: str
    kind: str
    tags: frozenset[str]
    passes: frozenset[str]
    composite: bool
    alone: frozenset[str]
    cut_tags: frozenset[str]
    tcs: bool | str
    asks: str | None
    filled: _Entry | None = None
    """What it is when an animal food is named before it."""


@dataclass(frozen=True, slots=True)
class _Head:
    start: int
    end: int
    entry: _Entry
    parts: tuple[str, ...]


def _food(said: str, head: _Head, before: list[_Entry], states: frozenset[str]) -> Food:
    entry = head.entry
    meat = [other for other in before if "animal" in other.tags]
    if entry.filled is not None and meat:
        entry = entry.filled  # `chicken pie`, `ham croissant`: no bread any more
    tags = set(entry.tags)
    if entry.composite:
        for other in before:
            tags |= other.passes
        if not any(other.passes for other in before):
            tags |= entry.alone
    elif "animal" in entry.tags:
        tags |= {tag for other in before for tag in other.passes if tag in ("stuffed",)}
    tags |= states - {"cut", "whole", "cooked", "raw", "frozen", "comminuted"}
    tags |= states & {"frozen", "raw"}
    if "comminuted" in states and "animal" in entry.tags:
        tags.add("comminuted")
    if {"comminuted", "stuffed", "tenderized", "injected"} & tags:
        tags -= {"roast"}
    if "cooked" in states and "plant" in tags:
        tags.add("cooked_plant")
    tcs = _tcs(entry, states)
    if tcs is True and "cut" in states:
        tags |= entry.cut_tags
    return Food(
        said=said,
        name=entry.name,
        kind=entry.kind,
        tags=frozenset(tags),
        tcs=tcs,
        tcs_when_cooked="plant" in entry.tags and "shelf_stable" not in entry.tags,
        asks=entry.asks if tcs is None else None,
    )


def _tcs(entry: _Entry, states: frozenset[str]) -> bool | None:
    if "dried" in states and "cooked" not in states:
        return False
    if entry.tcs == "cooked":
        return "cooked" in states
    if entry.tcs == "cut":
        if "cooked" in states or ("cut" in states and "whole" not in states):
            return True
        return False if "whole" in states else None
    if entry.tcs == "ask":
        return None
    return bool(entry.tcs)


def _head(found: list[tuple[int, int, _Entry]], words: tuple[str, ...]) -> _Head | None:
    """The last name before the first "with" or "in" that has one on its left; "bowl of rice" is rice."""
    borders = [place for place, word in enumerate(words) if word in _BORDERS]
    for border in [*borders, len(words)]:
        left = [item for item in found if item[0] < border]
        if left:
            start, end, entry = left[-1]
            return _Head(start, end, entry, words[start:end])
    return None


_BORDERS = frozenset(
    {"with", "in", "on", "of", "over", "from", "for", "at", "under", "by", "and", "or", "inside", "near"}
)


@dataclass(frozen=True, slots=True)
class _Vocabulary:
    by_first: Mapping[str, tuple[tuple[tuple[str, ...], _Entry], ...]]
    states: Mapping[str, tuple[tuple[tuple[str, ...], str], ...]] = field(default_factory=dict)

    def names_in(self, words: tuple[str, ...]) -> Iterator[tuple[int, int, _Entry]]:
        """Names from left to right, the longest first, none overlapping."""
        place = 0
        while place < len(words):
            for parts, entry in self.by_first.get(words[place], ()):
                if words[place : place + len(parts)] == parts:
                    yield place, place + len(parts), entry
                    place += len(parts)
                    break
            else:
                place += 1

    def states_in(self, words: tuple[str, ...]) -> frozenset[str]:
        return frozenset(
            adds
            for place, word in enumerate(words)
            for parts, adds in self.states.get(word, ())
            if words[place : place + len(parts)] == parts
        )


@cache
def table() -> dict[str, Any]:
    """The food vocabulary as plain values, not to be changed. InputError says why it cannot be read."""
    try:
        return tomllib.loads(VOCABULARY.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise InputError(
            f"{VOCABULARY}: the food vocabulary cannot be read ({error}); install the program again"
        ) from error


@cache
def _vocabulary() -> _Vocabulary:
    return kept("foods", sources(), compile_foods)


def sources() -> list[Path]:
    """All files that the food vocabulary is made from, code included."""
    return [VOCABULARY, Path(__file__)]


def compile_foods() -> _Vocabulary:
    """The food vocabulary, compiled anew."""
    raw = table()
    by_first: dict[str, list[tuple[tuple[str, ...], _Entry]]] = {}
    kinds = {kind["id"]: kind for kind in raw["kind"]}
    for kind in raw["kind"]:
        fillable = frozenset(kind.get("fillable", ()))
        for name in kind["names"]:
            entry = _entry(name, kind)
            if name in fillable:
                entry = replace(entry, filled=_entry(name, kinds[kind["filled_is"]]))
            parts = _words(name)
            by_first.setdefault(parts[0], []).append((parts, entry))
    states: dict[str, list[tuple[tuple[str, ...], str]]] = {}
    for state in raw["state"]:
        for word in state["words"]:
            parts = _words(word)
            states.setdefault(parts[0], []).append((parts, state["adds"]))
    return _Vocabulary(
        {first: tuple(sorted(names, key=lambda item: -len(item[0]))) for first, names in by_first.items()},
        {first: tuple(items) for first, items in states.items()},
    )


def _entry(name: str, kind: Mapping[str, Any]) -> _Entry:
    return _Entry(
        name=name,
        kind=kind["id"],
        tags=frozenset(kind["tags"]),
        passes=frozenset(kind.get("passes", ())),
        composite=kind.get("composite", False),
        alone=frozenset(kind.get("alone", ())),
        cut_tags=frozenset(kind.get("cut_tags", ())),
        tcs=kind["tcs"],
        asks=kind.get("asks"),
    )


_LONGEST = 400
"""Characters of a name that are read; a longer one is no name."""
_WORD = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)?", re.UNICODE)


def _words(text: str) -> tuple[str, ...]:
    """Lower-case words in the singular, hyphens as spaces."""
    lower = text[:_LONGEST].lower().replace("’", "'")
    forms = _forms()
    whole = " ".join(forms.plain.get(word, word) for word in _WORD.findall(lower))
    return tuple(_singular(word, forms.unchanged) for word in whole.split())


@dataclass(frozen=True, slots=True)
class _Forms:
    plain: Mapping[str, str]
    unchanged: frozenset[str]


@cache
def _forms() -> _Forms:
    words = table()["words"]
    return _Forms(words["plain"], frozenset(words["unchanged"]))


def _singular(word: str, unchanged: frozenset[str]) -> str:
    word = word.removesuffix("'s")
    if len(word) < 4 or word in unchanged or word.endswith(("ss", "us", "is")) or not word.endswith("s"):
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "sses", "xes", "zes")):
        return word[:-2]
    return word[:-1]

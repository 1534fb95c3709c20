"""`classify` gives what kind of food a said name is, from `vocabulary/foods.toml`.

Nothing here knows a limit. The answer is a vocabulary's opinion; a product assessment or a label
overrules it.
"""

from __future__ import annotations

import re
import tomllib
import unicodedata
from collections.abc import Mapping, Sequence
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
    seldom_tcs: bool = False
    """Whether most of its kind need no control where `tcs` is open: hard cheese, dry salami."""

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
    known = _vocabulary()
    words = _words(text, known.forms)
    found = known.names_in(words)
    marks = known.states_in(words)
    head = _head(found, words, marks)
    if head is None:
        return None
    before = [entry for start, _, entry in found if start < head.start and entry is not head.entry]
    states = _states(marks, head, found, words)
    if head.entry.filled is not None and _is_filled(head, before, found, words, marks):
        head = replace(head, entry=head.entry.filled)
    return _food(text, head, before, states)


@lru_cache(maxsize=4096)
def called_later(text: str) -> frozenset[str]:
    """Words by which a food that was named may be spoken of again: `fish`, of tilapia."""
    food = classify(text)
    return _vocabulary().called_later(food) if food is not None else frozenset()


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
    """What it is when a filling is named with it."""
    topped: bool = False
    """Whether only what stands after "with" is such a filling: no `lobster chips`."""
    fills: bool = False
    """Whether it makes a filling when it is named before such food: all animal foods, custard, cream."""


@dataclass(frozen=True, slots=True)
class _Head:
    start: int
    end: int
    entry: _Entry
    parts: tuple[str, ...]


_Found = Sequence[tuple[int, int, _Entry]]
_Marks = Sequence[tuple[int, int, str]]
"""First word, the word after the last, and what stands there: names of foods; states."""


def _food(said: str, head: _Head, before: list[_Entry], states: frozenset[str]) -> Food:
    entry = head.entry
    tags = set(entry.tags)
    if entry.composite:
        for other in before:
            tags |= other.passes
        if not any(other.passes for other in before):
            tags |= entry.alone
    elif "animal" in entry.tags:
        tags |= {tag for other in before for tag in other.passes if tag in ("stuffed",)}
    tags |= states - _NO_TAGS
    tags |= states & {"frozen", "raw"}
    if "comminuted" in states and "animal" in entry.tags:
        tags.add("comminuted")
    if {"comminuted", "stuffed", "tenderized", "injected"} & tags:
        tags -= {"roast"}
    if "cooked" in states and "plant" in tags:
        tags.add("cooked_plant")
    if "meatless" in states and "animal" in tags:
        tags = (tags & _OF_A_MEAL) | {"plant", "cooked_plant"}
    tcs = _tcs(entry, states)
    with_meat = "plant" in entry.tags and any("animal" in other.tags for other in before)
    if with_meat and not states & {"dried", "shelf_stable"}:
        tcs = True  # `beef broccoli`, `bacon wrapped jalapenos`
    if tcs is True and "cut" in states:
        tags |= entry.cut_tags
    return Food(
        said=said,
        name=entry.name,
        kind=entry.kind,
        tags=frozenset(tags),
        tcs=tcs,
        tcs_when_cooked="plant" in entry.tags and "shelf_stable" not in tags,
        asks=_asks(entry, states) if tcs is None else None,
        seldom_tcs=entry.tcs == "seldom",
    )


_NO_TAGS = frozenset(
    {"cut", "whole", "cooked", "raw", "frozen", "comminuted", "dry_treated", "unopened_can", "meatless"}
)
_OF_A_MEAL = frozenset({"ready_to_eat", "dish", "frozen", "commercially_processed"})
"""Tags that a food without meat shares with the meat that it is named after."""
_UNOPENED = "whether the can is for storage without refrigeration"
_STUFFED = "what it is stuffed with"


def _asks(entry: _Entry, states: frozenset[str]) -> str:
    return _UNOPENED if "unopened_can" in states else entry.asks or _STUFFED


def _tcs(entry: _Entry, states: frozenset[str]) -> bool | None:
    if "shelf_stable" in states or ("dried" in states and "cooked" not in states):
        return False
    if "unopened_can" in states and entry.tcs is not False:
        return None
    if "stuffed" in states and "plant" in entry.tags:
        return None if entry.tcs is False else True
    if entry.tcs == "cooked":
        return "cooked" in states
    if entry.tcs == "cut":
        if "cooked" in states or ("cut" in states and "whole" not in states):
            return True
        return False if "whole" in states and "cut" not in states else None
    if entry.tcs in ("ask", "seldom"):
        return None
    return bool(entry.tcs)


def _head(found: _Found, words: tuple[str, ...], marks: _Marks) -> _Head | None:
    """The last name before the first "with" or "in" that has one on its left; "bowl of rice" is rice.

    What "and" or "over" joins needs control if either food does: "salt and pepper shrimp" is shrimp.
    """
    borders = [place for place, word in enumerate(words) if word in _BORDERS]
    for border in [*borders, len(words)]:
        left = [item for item in found if item[0] < border]
        if not left:
            continue
        start, end, entry = left[-1]
        head = _Head(start, end, entry, words[start:end])
        if (
            border < len(words)
            and words[border] in ("and", "over")
            and not _controlled(head, found, words, marks)
        ):
            joined = _head([item for item in found if item[0] > border], words, marks)
            if joined is not None and _controlled(joined, found, words, marks):
                return joined
        return head
    return None


def _controlled(head: _Head, found: _Found, words: tuple[str, ...], marks: _Marks) -> bool:
    return _tcs(head.entry, _states(marks, head, found, words)) is True


def _states(marks: _Marks, head: _Head, found: _Found, words: tuple[str, ...]) -> frozenset[str]:
    """What was done to the head of a name; `dried` only where it is said of the head itself."""
    treated = {start for start, _, adds in marks if adds == "dry_treated"}
    return frozenset(
        adds
        for start, end, adds in marks
        if not (adds == "dried" and (start in treated or not _of_head(start, end, head, found, words)))
        and not (adds == "shelf_stable" and start and words[start - 1] in _DENIES)
    )


def _of_head(start: int, end: int, head: _Head, found: _Found, words: tuple[str, ...]) -> bool:
    """Whether a state is said of the head: `dried mushrooms`, `mushrooms dried`; not `chicken with dried
    cherries`, `dry rub ribs`, `dry pan of chicken`."""
    if start >= head.start:
        return start == head.end and "plant" in head.entry.tags
    between = words[end : head.start]
    named = any(first < head.start and end_of > start for first, end_of, _ in found)
    return not named and len(between) <= _BETWEEN and _BORDERS.isdisjoint(between)


_BETWEEN = 2
"""Words between a state and its food, at most: common practice, no source."""


def _is_filled(
    head: _Head, before: list[_Entry], found: _Found, words: tuple[str, ...], marks: _Marks
) -> bool:
    """`chicken pie`, `custard donut`, `stuffed bread`, `bagel with cream cheese`: no plain bread any more."""
    if not head.entry.topped and any("animal" in other.tags or other.fills for other in before):
        return True
    if any(adds == "stuffed" and start < head.start for start, _, adds in marks):
        return True
    with_it = [place for place, word in enumerate(words) if word == "with" and place >= head.end]
    return bool(with_it) and any(
        entry.tcs is True
        and start > with_it[0]
        and _controlled(_Head(start, end, entry, ()), found, words, marks)
        for start, end, entry in found
    )


_DENIES = frozenset({"not", "non", "isn't", "never"})
_BORDERS = frozenset(
    {"with", "in", "on", "of", "over", "from", "for", "at", "under", "by", "and", "or", "inside", "near"}
)


@dataclass(frozen=True, slots=True)
class _Forms:
    """Plurals that no rule gives, by their singular, and words in -s that are singular."""

    plain: Mapping[str, str]
    unchanged: frozenset[str]


@dataclass(frozen=True, slots=True)
class _Vocabulary:
    forms: _Forms
    by_last: Mapping[str, tuple[tuple[tuple[str, ...], _Entry], ...]]
    states: Mapping[str, tuple[tuple[tuple[str, ...], str], ...]] = field(default_factory=dict)
    called: tuple[tuple[str, frozenset[str], frozenset[str]], ...] = ()
    """A word, and the kinds and the names of food that may be called by it."""

    def called_later(self, food: Food) -> frozenset[str]:
        return frozenset(
            word for word, kinds, names in self.called if food.kind in kinds or food.name in names
        )

    def names_in(self, words: tuple[str, ...]) -> list[tuple[int, int, _Entry]]:
        """Names from left to right, none overlapping.

        What a food is stands last: of two that overlap the later counts, of two that end together the longer
        (`frozen | custard pie`, `whole | melon ball`).
        """
        found = []
        end = len(words)
        while end > 0:
            for parts, entry in self.by_last.get(words[end - 1], ()):
                start = end - len(parts)
                if start >= 0 and words[start:end] == parts:
                    found.append((start, end, entry))
                    end = start
                    break
            else:
                end -= 1
        return found[::-1]

    def states_in(self, words: tuple[str, ...]) -> list[tuple[int, int, str]]:
        return [
            (place, place + len(parts), adds)
            for place, word in enumerate(words)
            for parts, adds in self.states.get(word, ())
            if words[place : place + len(parts)] == parts
        ]


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
    forms = _Forms(raw["words"]["plain"], frozenset(raw["words"]["unchanged"]))
    by_last: dict[str, list[tuple[tuple[str, ...], _Entry]]] = {}
    kinds = {kind["id"]: kind for kind in raw["kind"]}
    own: dict[str, set[str]] = {}
    for row in raw["tagged"]:
        for name in row["names"]:
            own.setdefault(name, set()).add(row["adds"])
    for kind in raw["kind"]:
        topped = frozenset(kind.get("toppable", ()))
        fillable = topped.union(kind.get("fillable", ()))
        for name in kind["names"]:
            entry = _entry(name, kind)
            if name in own:
                entry = replace(entry, tags=entry.tags | own[name])
            if name in fillable:
                entry = replace(entry, filled=_entry(name, kinds[kind["filled_is"]]), topped=name in topped)
            parts = _words(name, forms)
            by_last.setdefault(parts[-1], []).append((parts, entry))
    states: dict[str, list[tuple[tuple[str, ...], str]]] = {}
    for state in raw["state"]:
        for word in state["words"]:
            parts = _words(word, forms)
            states.setdefault(parts[0], []).append((parts, state["adds"]))
    return _Vocabulary(
        forms,
        {last: tuple(sorted(names, key=lambda item: -len(item[0]))) for last, names in by_last.items()},
        {first: tuple(items) for first, items in states.items()},
        tuple(
            (row["word"], frozenset(row["kinds"]), frozenset(row.get("names", ()))) for row in raw["called"]
        ),
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
        fills=name in kind.get("fills", ()),
    )


_LONGEST = 400
"""Characters of a name that are read; a longer one is no name."""
_WORD = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)?", re.UNICODE)


def _words(text: str, forms: _Forms) -> tuple[str, ...]:
    """Lower-case words in the singular, hyphens as spaces."""
    lower = _plain(text[:_LONGEST].lower().replace("’", "'"))
    whole = " ".join(forms.plain.get(word, word) for word in _WORD.findall(lower))
    return tuple(_singular(word, forms.unchanged) for word in whole.split())


def _plain(text: str) -> str:
    """Without accents: `béarnaise` is the vocabulary's bearnaise."""
    if text.isascii():
        return text
    return "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c))


def _singular(word: str, unchanged: frozenset[str]) -> str:
    word = word.removesuffix("'s")
    if len(word) < 4 or word in unchanged or word.endswith(("ss", "us", "is")) or not word.endswith("s"):
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "sses", "xes", "zes")):
        return word[:-2]
    return word[:-1]

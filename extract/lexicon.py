"""The vocabulary files, compiled once for finding phrases in tokens.

All phrases are compared by the stems of their words and indexed by the first one, so looking at an
utterance costs
the same however many phrases there are.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from typing import Any, Generic, TypeVar

from extract.text import Token, phrase, plain, singular, stem
from shared.errors import InputError

VOCABULARY = Path(__file__).resolve().parent.parent / "shared" / "vocabulary"

T = TypeVar("T")

_MOST_SEEN = 50_000
"""Words remembered with the phrases that begin with them."""


def read(name: str) -> dict[str, Any]:
    """A vocabulary file as plain values. Raises InputError naming the file when it is missing or damaged."""
    path = VOCABULARY / name
    try:
        return tomllib.loads(path.read_text("utf-8"))
    except OSError as error:
        raise InputError(f"{path} cannot be read ({error.strerror}); install Probeside again") from error
    except tomllib.TOMLDecodeError as error:
        raise InputError(
            f"{path} is not valid TOML: {error}; correct it or install Probeside again"
        ) from error


class Phrases(Generic[T]):
    """Phrases with a value each, found at a token in the order longest first."""

    def __init__(self, rows: Iterable[tuple[str, T]] = (), *, form: Callable[[str], str] = stem) -> None:
        self._form = form
        self._seen: dict[str, list[tuple[tuple[str, ...], T]] | None] = {}
        self._by_first: dict[str, list[tuple[tuple[str, ...], T]]] = {}
        for text, value in rows:
            self.add(text, value)

    def __bool__(self) -> bool:
        return bool(self._by_first)

    def add(self, text: str, value: T) -> None:
        stems = phrase(text, self._form)
        if not stems:
            return
        self._seen.clear()
        rows = self._by_first.setdefault(stems[0], [])
        rows.append((stems, value))
        rows.sort(key=lambda row: -len(row[0]))

    def _rows(self, low: str) -> list[tuple[tuple[str, ...], T]] | None:
        rows = self._by_first.get(self._form(low))
        if len(self._seen) > _MOST_SEEN:
            self._seen.clear()
        self._seen[low] = rows
        return rows

    def at(self, line: list[Token], i: int) -> tuple[int, T] | None:
        """End token and value of the longest phrase that starts at `i`."""
        low = line[i][0]
        rows = self._seen[low] if low in self._seen else self._rows(low)
        if rows is None:
            return None
        return self._longest(rows, line, i)

    def _longest(
        self, rows: list[tuple[tuple[str, ...], T]], line: list[Token], i: int
    ) -> tuple[int, T] | None:
        form, size = self._form, len(line)
        for stems, value in rows:
            length = len(stems)
            if i + length > size:
                continue
            n = 1
            while n < length and form(line[i + n][0]) == stems[n]:
                n += 1
            if n == length:
                return i + length, value
        return None

    def begins(self, low: str) -> bool:
        """Whether any phrase begins with the word."""
        return (self._seen[low] if low in self._seen else self._rows(low)) is not None

    def ending(self, line: list[Token], end: int, *, longest: int = 7) -> tuple[int, T] | None:
        """Start token and value of the longest phrase that ends just before token `end`."""
        form = self._form
        for start in range(max(0, end - longest), end):
            low = line[start][0]
            rows = self._seen[low] if low in self._seen else self._rows(low)
            if rows is None:
                continue
            for stems, value in rows:
                if start + len(stems) == end and all(
                    form(line[start + n].low) == stems[n] for n in range(1, len(stems))
                ):
                    return start, value
        return None

    def find(self, line: list[Token], first: int = 0, last: int | None = None) -> list[tuple[int, int, T]]:
        """All phrases between two tokens, longest at each place, none overlapping."""
        found: list[tuple[int, int, T]] = []
        i, size = first, len(line) if last is None else last
        seen = self._seen
        while i < size:
            low = line[i][0]
            rows = seen[low] if low in seen else self._rows(low)
            if rows is not None:
                hit = self._longest(rows, line, i)
                if hit is not None and hit[0] <= size:
                    found.append((i, hit[0], hit[1]))
                    i = hit[0]
                    continue
            i += 1
        return found


@dataclass(frozen=True, slots=True)
class Unit:
    unit: str
    kind: str


@dataclass(frozen=True, slots=True)
class Place:
    stage: str
    air: bool
    nickname: str | None = None
    """The words that a name of this kitchen stands for; None: it is no such name."""


@dataclass(frozen=True, slots=True)
class Object:
    what: str
    stage: str
    kind: str


@dataclass(frozen=True, slots=True)
class Cue:
    stage: str
    weight: int


@dataclass(frozen=True)
class Lexicon:
    """Every table that finding readings needs."""

    classes: Mapping[str, str]
    """Closed-class words: word → class."""
    units_after: Phrases[Unit]
    units_before: Phrases[Unit]
    places: Phrases[Place]
    objects: Phrases[Object]
    agents: Phrases[tuple[str, bool]]
    cues: Phrases[Cue]
    roles_before: Phrases[str]
    roles_after: Phrases[str]
    roles_sentence: Phrases[str]
    replaces: Phrases[bool]
    withdraw: Phrases[bool]
    revise: Phrases[bool]
    same: Phrases[bool]
    same_after: Phrases[bool]
    clear: Phrases[bool]
    foods: Phrases[bool]
    heads: Phrases[Place]
    """What ends the name of a place only where it is a heading."""
    own: Phrases[bool] = field(default_factory=Phrases)
    """Words of this inspection."""
    nicknames: Phrases[Place] = field(default_factory=Phrases)
    """What places are called in this kitchen only."""


_CLASS_ORDER = (
    "links",
    "verbs",
    "adverbs",
    "predicates",
    "fillers",
    "auxiliaries",
    "pronouns",
    "conjunctions",
    "prepositions",
    "determiners",
)


@cache
def lexicon() -> Lexicon:
    """The shipped vocabulary, compiled at first use."""
    grammar = read("grammar.toml")
    classes = {word: name for name, row in read("word_classes.toml").items() for word in row.split()}
    for name in _CLASS_ORDER:
        for word in grammar[name].split():
            classes[word] = name
    units = read("units.toml")["unit"]
    amend = read("amendments.toml")
    roles = read("roles.toml")["role"]
    return Lexicon(
        classes=classes,
        units_after=Phrases(
            ((text, Unit(row["unit"], row["kind"])) for row in units for text in row.get("after", ())),
            form=singular,
        ),
        units_before=Phrases(
            (text, Unit(row["unit"], row["kind"])) for row in units for text in row.get("before", ())
        ),
        places=_named(
            "places.toml", "place", lambda row: Place(row["stage"], row.get("air", False)), form=singular
        ),
        objects=_named(
            "objects.toml",
            "object",
            lambda row: Object(row["what"], row.get("stage", ""), row.get("kind", "")),
            form=singular,
        ),
        agents=_named(
            "agents.toml", "agent", lambda row: (row["agent"], row.get("doubtful", False)), form=singular
        ),
        cues=_named("stages.toml", "cue", lambda row: Cue(row["stage"], row["weight"]), form=plain),
        roles_before=Phrases((text, row["role"]) for row in roles for text in row.get("before", ())),
        roles_after=Phrases((text, row["role"]) for row in roles for text in row.get("after", ())),
        roles_sentence=Phrases(
            ((text, row["role"]) for row in roles for text in row.get("sentence", ())), form=plain
        ),
        replaces=_flags(amend["replace"]),
        withdraw=_flags(amend["withdraw"]),
        revise=_flags(amend["revise"]),
        same=_flags(amend["same"]),
        same_after=_flags(amend["same_after"]),
        clear=_flags(amend["clear"]),
        foods=_food_names(),
        heads=_named("places.toml", "heading", lambda row: Place(row["stage"], air=False), form=singular),
    )


def _named(
    file: str, table: str, value: Callable[[dict[str, Any]], T], *, form: Callable[[str], str]
) -> Phrases[T]:
    """The `words` of every row of a table, each with the row's value."""
    return Phrases(((text, value(row)) for row in read(file)[table] for text in row["words"]), form=form)


def _flags(words: Iterable[str]) -> Phrases[bool]:
    return Phrases((word, True) for word in words)


def _food_names() -> Phrases[bool]:
    return Phrases(
        ((name, True) for row in read("foods.toml")["kind"] for name in row["names"]), form=singular
    )


def with_words(base: Lexicon, words: Iterable[str]) -> Lexicon:
    """The vocabulary and the words of one inspection: its menu, equipment and rooms."""
    own = Phrases(((word, True) for word in words), form=singular)
    return replace(base, own=own)

"""The vocabulary files, compiled once for finding phrases in tokens.

All phrases are compared by the stems of their words, or another form of them, and kept as trees, so looking
at an utterance costs the same however many phrases there are.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from typing import Any, Generic, TypeVar

import shared
from extract.words import text as text_module
from extract.words.text import Token, phrase, plain, singular, stem
from shared import foods
from shared.errors import InputError
from shared.kept import kept

VOCABULARY = Path(shared.__file__).resolve().parent / "vocabulary"

T = TypeVar("T")

_MOST_SEEN = 50_000
"""Words remembered with the phrases that begin with them."""


@cache
def read(name: str) -> dict[str, Any]:
    """A vocabulary file as plain values, not to be changed.

    Raises InputError naming the file when it is missing or damaged.
    """
    path = VOCABULARY / name
    try:
        return tomllib.loads(path.read_text("utf-8"))
    except OSError as error:
        raise InputError(f"{path} cannot be read ({error.strerror}); install Probeside again") from error
    except tomllib.TOMLDecodeError as error:
        raise InputError(
            f"{path} is not valid TOML: {error}; correct it or install Probeside again"
        ) from error


_Branch = dict[str | None, Any]
"""How phrases go on, by their next word; under None stands the value of the phrase that ends here."""

_UNSEEN: Any = object()


class Phrases(Generic[T]):
    """Phrases with a value each, kept as a tree of their words; the longest one at a token is found."""

    def __init__(self, rows: Iterable[tuple[str, T]] = (), *, form: Callable[[str], str] = stem) -> None:
        self._form = form
        self._tree: _Branch = {}
        self._seen: dict[str, _Branch | None] = {}
        """Where the phrases go on that begin with a word, for each word looked up so far."""
        for text, value in rows:
            self.add(text, value)

    @classmethod
    def of(cls, rows: Iterable[tuple[Sequence[str], T]], *, form: Callable[[str], str]) -> Phrases[T]:
        """The same from phrases whose words are already in the form in which they are compared."""
        made = cls(form=form)
        for words, value in rows:
            made._put(words, value)
        return made

    def __bool__(self) -> bool:
        return bool(self._tree)

    def __iter__(self) -> Iterator[tuple[tuple[str, ...], T]]:
        """The words of each phrase in the form in which they are compared, with its value."""
        branches: list[tuple[tuple[str, ...], _Branch]] = [((), self._tree)]
        while branches:
            words, branch = branches.pop()
            for word, below in branch.items():
                if word is None:
                    yield words, below
                else:
                    branches.append(((*words, word), below))

    def add(self, text: str, value: T) -> None:
        """Adds a phrase. Of two with the same words, the first one stays."""
        words = phrase(text, self._form)
        if words:
            self._seen.clear()
            self._put(words, value)

    def _put(self, words: Sequence[str], value: T) -> None:
        branch = self._tree
        for word in words:
            branch = branch.setdefault(word, {})
        branch.setdefault(None, value)

    def _begun(self, low: str) -> _Branch | None:
        """Where the phrases go on that begin with the word; None: there are none."""
        branch: _Branch | None = self._seen.get(low, _UNSEEN)
        if branch is _UNSEEN:
            if len(self._seen) > _MOST_SEEN:
                self._seen.clear()
            branch = self._seen[low] = self._tree.get(self._form(low))
        return branch

    def at(self, line: Sequence[Token], i: int) -> tuple[int, T] | None:
        """End token and value of the longest phrase that starts at `i`."""
        branch = self._begun(line[i][0])
        if branch is None:
            return None
        form, size = self._form, len(line)
        found: tuple[int, T] | None = None
        while True:
            i += 1
            if None in branch:
                found = i, branch[None]
            following = branch.get(form(line[i][0])) if i < size else None
            if following is None:
                return found
            branch = following

    def begins(self, line: Sequence[Token], first: int = 0, last: int | None = None) -> list[int]:
        """The tokens at which a phrase may begin."""
        seen, size = self._seen, len(line) if last is None else last
        return [i for i in range(first, size) if seen.get(line[i][0], _UNSEEN) is not None]

    def ending(self, line: Sequence[Token], end: int, *, longest: int = 7) -> tuple[int, T] | None:
        """Start token and value of the longest phrase that ends just before token `end`."""
        form = self._form
        for start in self.begins(line, max(0, end - longest), end):
            branch = self._begun(line[start][0])
            for i in range(start + 1, end):
                if branch is None:
                    break
                branch = branch.get(form(line[i][0]))
            if branch is not None and None in branch:
                return start, branch[None]
        return None

    def find(
        self, line: Sequence[Token], first: int = 0, last: int | None = None
    ) -> list[tuple[int, int, T]]:
        """All phrases between two tokens, longest at each place, none overlapping."""
        found: list[tuple[int, int, T]] = []
        free, size = first, len(line) if last is None else last
        for i in self.begins(line, first, size):
            hit = self.at(line, i) if i >= free else None
            if hit is not None and hit[0] <= size:
                found.append((i, hit[0], hit[1]))
                free = hit[0]
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
class Name:
    """What words name: a place, an object, a food, or several of these."""

    place: Place | None = None
    object: Object | None = None
    food: bool = False


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
    names: Phrases[Name]
    """All places, objects and foods."""
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
    return kept("lexicon", sources(), compile_lexicon)


def sources() -> list[Path]:
    """All files that the shipped vocabulary is made from, code included."""
    return [*VOCABULARY.glob("*.toml"), Path(__file__), Path(text_module.__file__), Path(foods.__file__)]


def compile_lexicon() -> Lexicon:
    """The same, compiled anew."""
    grammar = read("grammar.toml")
    classes = {word: name for name, row in read("word_classes.toml").items() for word in row.split()}
    for name in _CLASS_ORDER:
        for word in grammar[name].split():
            classes[word] = name
    units = read("units.toml")["unit"]
    amend = read("amendments.toml")
    roles = read("roles.toml")["role"]
    places = _named(
        "places.toml", "place", lambda row: Place(row["stage"], row.get("air", False)), form=singular
    )
    objects = _named(
        "objects.toml",
        "object",
        lambda row: Object(row["what"], row.get("stage", ""), row.get("kind", "")),
        form=singular,
    )
    food_names = _food_names()
    return Lexicon(
        classes=classes,
        units_after=Phrases(
            ((text, Unit(row["unit"], row["kind"])) for row in units for text in row.get("after", ())),
            form=singular,
        ),
        units_before=Phrases(
            (text, Unit(row["unit"], row["kind"])) for row in units for text in row.get("before", ())
        ),
        places=places,
        objects=objects,
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
        foods=food_names,
        names=_names(places, objects, food_names),
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
    return Phrases(((name, True) for row in foods.table()["kind"] for name in row["names"]), form=singular)


def _names(places: Phrases[Place], objects: Phrases[Object], food_names: Phrases[bool]) -> Phrases[Name]:
    """All that the three tables name, so that an utterance is looked through once."""
    named: dict[tuple[str, ...], Name] = {words: Name(place=place) for words, place in places}
    for words, thing in objects:
        named[words] = replace(named.get(words, Name()), object=thing)
    for words, _ in food_names:
        named[words] = replace(named.get(words, Name()), food=True)
    return Phrases.of(named.items(), form=singular)


def with_words(base: Lexicon, words: Iterable[str]) -> Lexicon:
    """The vocabulary and the words of one inspection: its menu, equipment and rooms."""
    own = Phrases(((word, True) for word in words), form=singular)
    return replace(base, own=own)

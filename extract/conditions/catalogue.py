"""The catalogue of observed conditions, read from `shared/vocabulary/conditions/` and compiled once.

The format is described at the top of `classes.toml` and `c3_food.toml` there.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

import shared
from extract.conditions.compiling import ABSENCE_CLASSES, CompiledPattern, Vocabulary, compiled
from extract.conditions.nodes import Node
from extract.conditions.pattern import Class, PatternError, read
from extract.words import text
from shared import foods
from shared.errors import InputError
from shared.kept import kept

FOLDER = Path(shared.__file__).parent / "vocabulary" / "conditions"
CONTEXT_CLASSES = (
    "negators", "negators_void", "hypothetical", "hypothetical_if", "inquiry", "imperative", "earlier",
    "from_now", "all_clear", "still", "exception", "followed",
)  # fmt: skip
"""Classes that tell how a condition is meant; every catalogue must define them."""
_FIELDS = frozenset(
    {
        "section",
        "says",
        "phrases",
        "unless",
        "in_order",
        "near",
        "ask",
        "source",
        "negated",
        "class",
        "clears",
        "plain",
    }
)
COMMON_PRACTICE = "common practice, no source"


class CatalogueError(InputError):
    """The catalogue's files cannot be used; the message lists every fault by file and entry."""


@dataclass(frozen=True, slots=True)
class Row:
    """One kind of condition, and the section it goes against."""

    name: str
    """File and number in the file, for the trace."""
    section: str
    says: str
    """What is wrong, as a short phrase that can follow "seen:"."""
    phrases: tuple[CompiledPattern, ...]
    in_order: tuple[CompiledPattern, ...]
    """What says that this is as it should be."""
    unless: tuple[CompiledPattern, ...]
    """In a sentence that also says this, the row does not apply."""
    near: frozenset[str]
    """Sections that the same words may mean; the surer match wins and the others are runners-up."""
    questions: tuple[str, ...]
    source: str
    negatable: bool
    """Whether "no …" before it means that all is well."""
    clears: tuple[CompiledPattern, ...] = ()
    """In a sentence that also says this, the section is not proposed from anything."""
    plain: bool = False
    """The words leave nothing to weigh: what the pattern says is so."""


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All rows, compiled."""

    rows: tuple[Row, ...]
    vocabulary: Vocabulary
    context: Mapping[str, Node]

    @property
    def sections(self) -> frozenset[str]:
        """Every section that some row proposes."""
        return frozenset(row.section for row in self.rows)


@dataclass(slots=True)
class _Reading:
    """What has been read so far, and every fault."""

    things: dict[str, tuple[str, ...]] = field(default_factory=dict)
    others: dict[str, tuple[str, ...]] = field(default_factory=dict)
    compounds: list[str] = field(default_factory=list)
    not_between: list[str] = field(default_factory=list)
    questions: dict[str, str] = field(default_factory=dict)
    raw: list[tuple[str, dict[str, Any]]] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)


@lru_cache(maxsize=4)
def load_catalogue(folder: Path = FOLDER) -> Catalogue:
    """The catalogue of `folder`. CatalogueError lists everything that is wrong in its files."""
    return kept("catalogue", sources(), compile_catalogue) if folder == FOLDER else compile_catalogue(folder)


def sources() -> list[Path]:
    """All files that the catalogue that ships is made from, code included."""
    code = [*Path(__file__).parent.glob("*.py"), Path(text.__file__), Path(foods.__file__)]
    return [*FOLDER.glob("*.toml"), foods.VOCABULARY, *code]


def compile_catalogue(folder: Path = FOLDER) -> Catalogue:
    """The same, compiled anew from the files of `folder`."""
    got = _Reading()
    paths = sorted(folder.glob("*.toml"))
    if not paths:
        raise CatalogueError(f"{folder}: there is no catalogue file (*.toml); name a folder that has some")
    for path in paths:
        try:
            _take(path.name, tomllib.loads(path.read_text(encoding="utf-8")), got)
        except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
            got.faults.append(f"{path.name}: cannot be read: {error}")
    made = _compile(got)
    if got.faults or made is None:
        shown = "; ".join(got.faults[:20])
        more = f"; and {len(got.faults) - 20} more" if len(got.faults) > 20 else ""
        raise CatalogueError(f"{folder}: correct the catalogue: {shown}{more}")
    return made


def _take(file: str, raw: dict[str, Any], got: _Reading) -> None:
    for name, value in raw.items():
        if name in ("things", "states", "grammar"):
            _take_classes(file, name, value, got)
        elif name in ("compounds", "not_between"):
            (got.compounds if name == "compounds" else got.not_between).extend(_texts(file, name, value, got))
        elif name == "questions":
            got.questions.update({key: str(text) for key, text in value.items()})
        elif name == "condition":
            got.raw += [(f"{file[:-5]} {number}", row) for number, row in enumerate(value, 1)]
        else:
            got.faults.append(f"{file}: `{name}` is no table of a catalogue")


def _take_classes(file: str, table: str, value: Mapping[str, Any], got: _Reading) -> None:
    into = got.things if table == "things" else got.others
    for name, members in value.items():
        if name in got.things or name in got.others:
            got.faults.append(f"{file}: class {name} is defined twice")
        if isinstance(members, str):
            members = [member.strip() for member in members.split(",") if member.strip()]
        into[name] = tuple(_texts(file, name, members, got))


def _texts(file: str, entry: str, value: object, got: _Reading) -> list[str]:
    if isinstance(value, str):
        value = [part.strip() for part in value.split(",") if part.strip()]
    if not isinstance(value, list) or not all(isinstance(text, str) and text.strip() for text in value):
        got.faults.append(f"{file}: {entry}: must be a list of texts")
        return []
    if not value:
        got.faults.append(f"{file}: {entry}: must not be empty")
    return value


def _compile(got: _Reading) -> Catalogue | None:
    classes = {**got.things, **got.others}
    missing = [name for name in (*ABSENCE_CLASSES, *CONTEXT_CLASSES) if name not in classes]
    if missing:
        got.faults.append(f"classes are missing: {', '.join(missing)}")
        return None
    by_tag = _foods()
    classes = {
        name: tuple(each for member in members for each in _members(name, member, by_tag, got))
        for name, members in classes.items()
    }
    vocabulary = Vocabulary(classes, frozenset(got.things), got.compounds, got.not_between)
    context: dict[str, Node] = {}
    for name in classes:
        try:
            node = vocabulary.node(Class(name))
        except PatternError as error:
            got.faults.append(f"class {name}: {error}")
            continue
        if name in CONTEXT_CLASSES:
            context[name] = node
    rows = tuple(_row(name, raw, vocabulary, got) for name, raw in got.raw)
    vocabulary.close(_indexed(rows))
    return Catalogue(rows, vocabulary, context)


def _foods() -> dict[str, list[str]]:
    """Food names by tag, from the food vocabulary; `*` is all."""
    by_tag: dict[str, list[str]] = {"*": []}
    for kind in foods.table()["kind"]:
        for tag in ("*", *kind["tags"]):
            by_tag.setdefault(tag, []).extend(kind["names"])
    return by_tag


def _members(name: str, member: str, by_tag: Mapping[str, list[str]], got: _Reading) -> Iterable[str]:
    if not member.startswith("food:"):
        return (member,)
    tag = member.removeprefix("food:")
    if tag not in by_tag:
        got.faults.append(f"class {name}: no food has the tag {tag!r}")
    return by_tag.get(tag, ())


def _row(name: str, raw: dict[str, Any], vocabulary: Vocabulary, got: _Reading) -> Row:
    section, says = raw.get("section"), raw.get("says")
    entry = f"{name} ({section})"
    if not isinstance(section, str) or not isinstance(says, str):
        got.faults.append(f"{entry}: needs a `section` and `says`")
        section, says = str(section), str(says)
    for strange in sorted(set(raw) - _FIELDS):
        got.faults.append(f"{entry}: `{strange}` is no field of a condition")
    asked = [str(key) for key in raw.get("ask", [])]
    for key in asked:
        if key not in got.questions:
            got.faults.append(f"{entry}: there is no question `{key}`")
    phrases = _patterns(entry, raw, "phrases", vocabulary, got)
    in_order = _patterns(entry, raw, "in_order", vocabulary, got)
    if not phrases and not in_order:
        got.faults.append(f"{entry}: needs `phrases` or `in_order`")
    return Row(
        name=name,
        section=section,
        says=says,
        phrases=phrases,
        in_order=in_order,
        unless=_patterns(entry, raw, "unless", vocabulary, got),
        near=frozenset(str(near) for near in raw.get("near", [])),
        questions=tuple(got.questions.get(key, "") for key in asked),
        source=str(raw.get("source", COMMON_PRACTICE)),
        negatable=bool(raw.get("negated", True)),
        clears=_patterns(entry, raw, "clears", vocabulary, got),
        plain=bool(raw.get("plain", False)),
    )


def _patterns(
    entry: str, raw: dict[str, Any], name: str, vocabulary: Vocabulary, got: _Reading
) -> tuple[CompiledPattern, ...]:
    if name not in raw:
        return ()
    made = []
    for written in _texts(entry, name, raw[name], got):
        try:
            made.append(compiled(read(written), vocabulary))
        except PatternError as error:
            got.faults.append(f"{entry}: {name}: {written!r}: {error}")
    return tuple(made)


def _indexed(rows: Iterable[Row]) -> dict[int, tuple[tuple[Row, CompiledPattern, bool], ...]]:
    """By an entry that must be there, of its rarest part: row, pattern, and whether it says all is well."""
    every = [(row, made, False) for row in rows for made in row.phrases]
    every += [(row, made, True) for row in rows for made in row.in_order]
    uses: dict[int, int] = {}
    for _, made, _ in every:
        for mask in made.masks:
            for number in _numbers(mask):
                uses[number] = uses.get(number, 0) + 1
    index: dict[int, list[tuple[Row, CompiledPattern, bool]]] = {}
    for entry in every:
        rarest = min(entry[1].masks, key=lambda mask: sum(uses[number] for number in _numbers(mask)))
        for number in _numbers(rarest):
            index.setdefault(number, []).append(entry)
    return {number: tuple(entries) for number, entries in index.items()}


def _numbers(mask: int) -> list[int]:
    numbers = []
    while mask:
        low = mask & -mask
        numbers.append(low.bit_length() - 1)
        mask ^= low
    return numbers

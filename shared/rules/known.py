"""Whether rows name what there is: a condition, a kind of food or a section that nothing knows switches a row
off, without a word."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection, Iterator, Mapping
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from typing import Any

from shared.errors import InputError
from shared.rules.fields import Row
from shared.rules.files import HERE, KEYS, Layers, gather

MODEL = HERE / "food_code_2022"
"""The rules whose own words are the known ones, beside those of the vocabulary."""
_NAMED = {
    "limit": ("foods", "not_foods", "when", "unless"),
    "time_temperature": ("foods", "not_foods", "when", "unless"),
    "ambiguity": ("foods", "not_foods", "unless"),
}
"""The fields that name kinds of food and conditions; what was said of a food counts as its kind."""
BY_SUMS = frozenset(("air_gap", "boiling", "more_than", "packaged", "time_plan", "unpackaged"))
"""Conditions that no row names and the sums themselves know."""
_BY_CODE = BY_SUMS | {"tcs", "unknown"}
_VOCABULARY = Path(__file__).parents[1] / "vocabulary"
_SECTION = re.compile(r"\d+-\d{3}\.\d+\w*")
_UNCITED = ("source", "provision", "form_item", "ambiguity", "edition_note")


def note_unknown(layers: Layers) -> None:
    """Notes every row that names a condition, a kind of food or a section that there is not."""
    asked = {word for row in layers.of("ambiguity") for word in _texts(row.raw, "options")}
    for kind, fields in _NAMED.items():
        for row in layers.of(kind):
            for field in fields:
                for word in _texts(row.raw, field):
                    if word not in asked and word not in words():
                        row.fault(f"`{field}` names {word!r}, which nothing knows: {_near(word, words())}")
    if layers.rows["provision"]:
        _sections(layers)


def _sections(layers: Layers) -> None:
    provisions = [str(key) for key in layers.rows["provision"]]
    for kind in KEYS:
        for row in layers.of(kind):
            told = [row.raw.get("section")] if kind not in _UNCITED else []
            told += [part.get("section") for part in _tables(row.raw, "stages")]
            told += _texts(row.raw, "sections") if kind == "form_item" else []
            for section in (each for each in told if isinstance(each, str) and each):
                if not _covered(section, provisions, exactly=kind == "limit"):
                    row.fault(
                        f"no [[provision]] covers the section {section!r}: {_near(section, provisions)}"
                    )


def _covered(section: str, provisions: Collection[str], *, exactly: bool) -> bool:
    """Whether a provision is there to be cited; `exactly`: for it or a paragraph above, not for one below."""
    whole = section
    while whole not in provisions and whole.endswith(")"):
        whole = whole[: whole.rindex("(")].rstrip() if "(" in whole else ""
    if whole in provisions or exactly:
        return whole in provisions
    if section in _model()[1] or not _SECTION.match(section):
        return True
    numbers = _SECTION.findall(section)
    return all(any(_SECTION.findall(known)[:1] == [number] for known in provisions) for number in numbers)


def _near(word: str, known: Collection[str]) -> str:
    near = get_close_matches(word, sorted(known), n=2)
    return f"did you mean {' or '.join(map(repr, near))}?" if near else "docs/rules.md tells what there is"


def words() -> frozenset[str]:
    """All names of conditions and kinds of food."""
    return _model()[0] | _vocabulary() | _BY_CODE


@cache
def _model() -> tuple[frozenset[str], frozenset[str]]:
    """The conditions and kinds that the model code names, and the sections that it cites."""
    layers = gather(MODEL)
    named = {word for kind in _NAMED for row in layers.of(kind) for word in _words(row, kind)}
    cited = {row.raw.get("section") for kind in KEYS for row in layers.of(kind)}
    cited |= {word for row in layers.of("form_item") for word in _texts(row.raw, "sections")}
    return frozenset(named), frozenset(each for each in cited if isinstance(each, str))


def _words(row: Row, kind: str) -> Iterator[str]:
    for field in (*_NAMED[kind], "options"):
        yield from _texts(row.raw, field)


@cache
def _vocabulary() -> frozenset[str]:
    foods = _read("foods.toml")
    found: set[str] = set()
    for table in ("kind", "state", "tagged"):
        for row in _tables(foods, table):
            for field in ("tags", "adds", "passes", "alone", "cut_tags"):
                found.update([row[field]] if isinstance(row.get(field), str) else _texts(row, field))
    found.update(row["says"] for row in _tables(_read("said.toml"), "condition"))
    found.update(row["adds"] for row in _tables(_read("surroundings.toml"), "condition"))
    return frozenset(found)


def _read(name: str) -> Mapping[str, Any]:
    try:
        return tomllib.loads((_VOCABULARY / name).read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise InputError(f"{name}: the vocabulary cannot be read ({error}); install again") from error


def _texts(raw: Mapping[str, Any], field: str) -> list[str]:
    value = raw.get(field)
    return [item for item in value if isinstance(item, str) and item] if isinstance(value, list) else []


def _tables(raw: Mapping[str, Any], field: str) -> list[dict[str, Any]]:
    value = raw.get(field)
    return [item for item in value if isinstance(item, dict)] if isinstance(value, list) else []

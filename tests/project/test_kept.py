"""Kept tables: used only while all that they were made from is the same, and the same as made anew."""

from __future__ import annotations

import pickle
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from extract.conditions import find_conditions
from extract.conditions.catalogue import compile_catalogue, sources
from extract.words.lexicon import compile_lexicon
from extract.words.line import prepare
from shared import kept as module
from shared.kept import keep, kept


@pytest.fixture(autouse=True)
def read_anew() -> None:
    """Files are looked at once in a process; here they change."""
    module._one.cache_clear()


@pytest.fixture
def source(tmp_path: Path) -> Path:
    path = tmp_path / "words.toml"
    path.write_text("word = 1", encoding="utf-8")
    return path


def test_a_kept_table_is_used_while_its_sources_are_the_same(tmp_path: Path, source: Path) -> None:
    keep("words", [source], "kept", folder=tmp_path)
    assert kept("words", [source], lambda: "anew", folder=tmp_path) == "kept"


def test_a_stale_table_is_never_used(tmp_path: Path, source: Path) -> None:
    keep("words", [source], "kept", folder=tmp_path)
    source.write_text("word = 2", encoding="utf-8")
    module._one.cache_clear()
    assert kept("words", [source], lambda: "anew", folder=tmp_path) == "anew"


def test_without_a_kept_table_it_is_made(tmp_path: Path, source: Path) -> None:
    assert kept("words", [source], lambda: "anew", folder=tmp_path) == "anew"


@dataclass(frozen=True, slots=True)
class Row:
    said: str
    words: tuple[str, ...] = ()
    counted: int = field(default=0, init=False)


@dataclass(frozen=True, slots=True)
class Further(Row):
    kind: str = ""


def test_what_stands_in_the_slots_of_a_row_is_kept_with_that_of_what_it_is_derived_from(
    tmp_path: Path, source: Path
) -> None:
    rows = [Row("ham", ("sliced", "ham")), Further("soup", kind="hot")]
    keep("rows", [source], rows, folder=tmp_path)
    found: list[Row] = kept("rows", [source], list, folder=tmp_path)
    assert found == rows and [type(row) for row in found] == [Row, Further]


@pytest.mark.parametrize("size", [0, 40, -1])
def test_a_damaged_table_is_never_used(tmp_path: Path, source: Path, size: int) -> None:
    path = keep("words", [source], "kept", folder=tmp_path)
    path.write_bytes(path.read_bytes()[:size])
    assert kept("words", [source], lambda: "anew", folder=tmp_path) == "anew"


def test_the_sources_of_the_catalogue_hold_its_words_and_its_code() -> None:
    names = {path.name for path in sources()}
    assert {"classes.toml", "foods.toml", "pattern.py", "compiling.py", "text.py"} <= names


@pytest.mark.parametrize(
    "said",
    [
        "No soap at the hand sink, and there's mold in the ice machine.",
        "Raw chicken over the lettuce. Dumpster lids up again.",
        "He isn't wearing gloves with the ready to eat food.",
        "Slicer dirty again, the floor drain is clean.",
    ],
)
def test_a_catalogue_that_was_kept_finds_what_one_made_anew_finds(said: str) -> None:
    made = compile_catalogue()
    again = pickle.loads(pickle.dumps(made))
    assert find_conditions(said, catalogue=again) == find_conditions(said, catalogue=made) != ()


def test_words_that_were_kept_name_what_words_made_anew_name() -> None:
    said = "Walk-in cooler, sliced turkey 48.5, quat bucket 150 ppm"
    again = pickle.loads(pickle.dumps(compile_lexicon()))
    assert prepare(said, 0, again) == prepare(said, 0, compile_lexicon())

"""The vocabulary files hold what their headers promise."""

from __future__ import annotations

from typing import get_args

import pytest

from extract.words.lexicon import VOCABULARY, lexicon, read
from extract.words.text import phrase
from shared.types import Agent, Kind, Stage
from shared.units import registry

FILES = sorted(path.stem for path in VOCABULARY.glob("*.toml"))


@pytest.mark.parametrize("name", FILES)
def test_every_file_names_its_source_and_loads(name: str) -> None:
    text = (VOCABULARY / f"{name}.toml").read_text("utf-8")
    assert text.startswith("#") and "source" in text.lower()
    assert read(f"{name}.toml")


def test_stages_and_agents_are_those_of_the_types() -> None:
    stages = set(get_args(Stage)) | {"", "machine", "warewashing", "wash", "rinse"}
    assert {row["stage"] for row in read("stages.toml")["cue"]} <= stages
    assert {row["stage"] for row in read("places.toml")["place"]} <= stages
    assert {row["agent"] for row in read("agents.toml")["agent"]} <= set(get_args(Agent))
    assert {stage for row in read("questions.toml")["question"] for stage in row["stages"]} <= stages


def test_units_are_known_to_pint() -> None:
    """Pint's registry, with the units that the trade adds, is the outside reference."""
    kinds = set(get_args(Kind)) | {"none"}
    for row in read("units.toml")["unit"]:
        assert row["kind"] in kinds
        if row["kind"] not in ("none",) and row["unit"] not in ("deg", "pH", "aw"):
            assert row["unit"] in registry()


def test_a_correction_reaches_form_items_that_exist() -> None:
    for row in read("corrections.toml")["action"]:
        assert all(1 <= number <= 56 for number in row["reaches"])


def test_no_phrase_is_empty() -> None:
    for name in ("stages", "places", "objects", "agents"):
        for rows in read(f"{name}.toml").values():
            assert all(phrase(word) for row in rows for word in row["words"])


def test_the_vocabulary_is_compiled_once() -> None:
    assert lexicon() is lexicon()

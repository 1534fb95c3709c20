"""Walks from which the second reader learns what kind of measure a bare figure tells of.

Wording, and what a bare figure may be of: common practice, no source.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from extract.second_reader.marked import Said, walks
from extract.teaching.bare import bare, with_kinds, without

SOURCE = "# Source: our own\n"
Walk = Callable[..., list[Said]]


class Always(random.Random):
    """Leaves every unit out."""

    def random(self) -> float:
        return 0.0


@pytest.fixture
def walk(tmp_path: Path) -> Walk:
    def made(*lines: str) -> list[Said]:
        path = tmp_path / "walks" / "own.txt"
        path.parent.mkdir(exist_ok=True)
        path.write_text(SOURCE + "\n".join(lines), encoding="utf-8")
        (only,) = walks(path)
        return only

    return made


def kinds(said: Sequence[Said]) -> list[str | None]:
    return [mark.kind for each in said for mark in each.marks]


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("Bucket {200 ppm:r|sanitizer|Bucket}", "concentration"),
        ("Rinse {19 psi:r|machine_rinse|-}", "pressure"),
        ("Rice {pH 4.1:r|other|Rice}", "ph"),
        ("Jerky at {0.83 water activity:r|other|Jerky}", "water_activity"),
        ("Prep {22 foot candles:r|lighting|-}", "illuminance"),
        ("Gap of {one inch:r|other|Gap}", "length"),
        ("Out {three hours:r|time_control|-}", "duration"),
        ("Soup {63 Celsius:r|hot_holding|Soup}", "celsius"),
        ("Soup {141 degrees:r|hot_holding|Soup}", "temperature"),
        ("The limit is {41 F:l}", "temperature"),
    ],
)
def test_a_unit_that_was_said_tells_the_kind(walk: Walk, words: str, kind: str) -> None:
    assert kinds(with_kinds(walk(words))) == [kind]


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("Ham {39:r|cold_holding|Ham}", "temperature"),
        ("Prep {22:r|lighting|-}", "illuminance"),
        ("Shelf {4:r|storage|Shelf}", "length"),
        ("Third bay {200:r|sanitizer|-}", "concentration"),
        ("Third bay {0:r|sanitizer|-}", "concentration"),
        ("Its water {75:r|sanitizer|water}", "temperature"),
        ("Final {182:r|machine_rinse|-}", "temperature"),
        ("Final {19:r|machine_rinse|-}", "pressure"),
    ],
)
def test_where_no_unit_was_said_the_stage_tells_the_kind(walk: Walk, words: str, kind: str) -> None:
    assert kinds(with_kinds(walk(words))) == [kind]


@pytest.mark.parametrize(
    "words",
    [
        "Third bay {75:r|sanitizer|-}",  # its strength, or the degrees of its water
        "Third bay {4.6:r|sanitizer|-}",  # or its pH
        "Rice {4.1:r|other|Rice}",
        "The limit is {41:l}",
    ],
)
def test_what_may_be_of_two_kinds_is_left_open(walk: Walk, words: str) -> None:
    assert kinds(with_kinds(walk(words))) == [None]


def test_beside_figures_in_celsius_a_bare_one_is_left_open(walk: Walk) -> None:
    made = walk("Cod {3 Celsius:r|cold_holding|Cod}, ham {5:r|cold_holding|ham}, pie {171:r|cooking|pie}")
    assert kinds(with_kinds(made)) == ["celsius", None, "temperature"]


def test_units_are_left_unsaid_and_marks_keep_their_words_and_kinds(walk: Walk) -> None:
    made = walk(
        "Bay {200 ppm:r|sanitizer|-}, rinse {19 psi:r|machine_rinse|-}, "
        "[{pH 4.9:r|other|rice} rice:8-103.12|n]."
    )
    (said,) = bare(with_kinds(made), Always())
    assert said.text == "Bay 200, rinse 19, 4.9 rice."
    assert [(said.text[slice(*mark.span)], mark.kind) for mark in said.marks] == [
        ("200", "concentration"),
        ("19", "pressure"),
        ("4.9", "ph"),
    ]
    assert [said.text[slice(*each.span)] for each in said.told or ()] == ["4.9 rice"]


@pytest.mark.parametrize("words", ["{three quarters of an inch:n}", "{an inch:n}", "{two hours:d}", "{41:l}"])
def test_what_would_be_no_figure_without_its_unit_stays(walk: Walk, words: str) -> None:
    made = with_kinds(walk(words))
    assert bare(made, Always()) == made


def test_misheard_words_keep_their_places(walk: Walk) -> None:
    (said,) = walk("{41 degrees:l} for <a clairs=eclairs>")
    shorter = without(said, [(2, 10)])
    assert [shorter.text[slice(*span)] for span in shorter.misheard] == ["a clairs"]

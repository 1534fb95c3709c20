"""The catalogue's files: every row leads to a provision, and what is wrong in a file is named."""

from __future__ import annotations

from pathlib import Path

import pytest

from extract.conditions import CatalogueError, find_conditions, load_catalogue
from shared.rules import load
from tests.conditions.test_pattern import GRAMMAR

RULES = load("food_code_2022")


ROWS = load_catalogue().rows


def test_every_row_has_a_provision_a_plain_phrase_and_questions_that_ask() -> None:
    for row in ROWS:
        assert RULES.provision(row.section) is not None, row.section
        assert row.says == row.says.strip() and not row.says.endswith("."), row.section
        assert row.phrases and row.source, row.section
        assert all(question.endswith("?") for question in row.questions), row.section


def test_runners_up_are_sections_of_the_code_and_not_the_row_itself() -> None:
    for row in ROWS:
        assert row.section not in row.near
        assert all(RULES.provision(section) is not None for section in row.near), row.section


def test_a_condition_carries_the_form_item_of_the_rules() -> None:
    (found,) = find_conditions("No paper towels.", rules=RULES)
    assert (found.section, found.form_item) == ("6-301.12", 10)


@pytest.mark.parametrize(
    ("row", "message"),
    [
        ('section = "6-301.11"\nsays = "x"\nphrases = ["@nothing_such"]', "there is no class @nothing_such"),
        ('section = "6-301.11"\nsays = "x"\nphrases = ["no(soap"]', "a bracket is not closed"),
        ('section = "6-301.11"\nsays = "x"\nphrases = ["soap) out"]', "a bracket too many"),
        ('section = "6-301.11"\nsays = "x"\nphrases = ["the"]', "only words that are left out"),
        ('section = "6-301.11"\nsays = "x"\nphrases = ["?soap"]', "every part is optional"),
        ('section = "6-301.11"\nsays = "x"\nphrases = []', "must not be empty"),
        ('section = "6-301.11"\nsays = "x"', "needs `phrases` or `in_order`"),
        ('says = "x"\nphrases = ["soap"]', "needs a `section` and `says`"),
        (
            'section = "6-301.11"\nsays = "x"\nphrases = ["soap"]\nask = ["why_oh_why"]',
            "no question `why_oh_why`",
        ),
        ('section = "6-301.11"\nsays = "x"\nphrases = ["soap"]\nphrase = ["soap"]', "`phrase` is no field"),
    ],
)
def test_a_wrong_row_is_named_with_its_file_and_what_is_wrong(tmp_path: Path, row: str, message: str) -> None:
    folder = _copy(tmp_path)
    (folder / "extra.toml").write_text(f"[[condition]]\n{row}\n", encoding="utf-8")
    with pytest.raises(CatalogueError, match="extra 1") as caught:
        load_catalogue(folder)
    assert message in str(caught.value)


def test_all_faults_are_named_at_once(tmp_path: Path) -> None:
    folder = _copy(tmp_path)
    (folder / "a.toml").write_text("[[condition]\n", encoding="utf-8")
    (folder / "b.toml").write_text('[questions]\nx = "y?"\n[nonsense]\n', encoding="utf-8")
    with pytest.raises(CatalogueError) as caught:
        load_catalogue(folder)
    assert "a.toml: cannot be read" in str(caught.value)
    assert "b.toml: `nonsense` is no table" in str(caught.value)


def test_a_folder_without_a_catalogue_is_said_to_be_one(tmp_path: Path) -> None:
    with pytest.raises(CatalogueError, match="no catalogue file"):
        load_catalogue(tmp_path)


def _copy(tmp_path: Path) -> Path:
    """A small catalogue that is whole, to put a wrong file beside."""
    (tmp_path / "small.toml").write_text(GRAMMAR, encoding="utf-8")
    return tmp_path

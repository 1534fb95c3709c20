"""What a figure is for, where no rule tells: what was learned from marked sayings doubts it or sets it aside.

Wording: common practice, no source; limits: FDA Food Code 2022.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from extract.purpose.judge import load, purpose, save
from extract.purpose.marked import files, fingerprint, sayings
from shared.errors import InputError
from tests.extract.said import meant

ONLY_MENTIONED = [
    ("Walk-in, ham 39. My first boss swore by 45.", 45),
    ("Gravy 141. The old form said 140.", 140),
    ("Tuna 38. Last inspector wrote 47 in March.", 47),
    ("Slaw 38. The book gives them 41.", 41),
    ("Soup 128. Back then everybody wrote 150 on the forms.", 150),
    ("Soup reached 152 and 165 is where it goes.", 165),
]


@pytest.mark.parametrize(("said", "value"), ONLY_MENTIONED)
def test_a_figure_that_is_only_mentioned_is_never_read_without_a_doubt(said: str, value: float) -> None:
    found = [reading for reading in meant(said).readings if reading.value == value]
    assert all(reading.doubts for reading in found)


MEASURED = [
    "Ham 39 in the walk-in.",
    "I get 128 on the soup.",
    "The rice by the window came out at 131.",
    "Salmon fillet off the grill, 147.",
    "Sliced tomatoes are 44 and the salsa is 40.",
]


@pytest.mark.parametrize("said", MEASURED)
def test_a_plain_reading_stands_without_a_doubt_of_this_kind(said: str) -> None:
    found = meant(said).readings
    assert found
    assert not any(doubt.code == "perhaps_mentioned" for reading in found for doubt in reading.doubts)


def test_the_weights_belong_to_the_sayings_that_ship() -> None:
    """After a change of the sayings, `make weights` must be run."""
    assert purpose().learned_from == fingerprint()


@pytest.mark.parametrize("path", files(), ids=lambda path: path.stem)
def test_every_file_of_sayings_names_its_source_and_marks_what_stands_there(path: Path) -> None:
    assert "source" in path.read_text(encoding="utf-8").split("\n")[0].lower()
    for said in sayings(path):
        assert said.marks
        for mark in said.marks:
            assert said.text[slice(*mark.span)].strip()


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("Ham {39:r}.", "is no mark"),
        ("Ham {39:r|warm|ham}.", "is no mark"),
        ("Limit {41:l|cold_holding|ham}.", "is no mark"),
        ("Ham {39.", "brace"),
    ],
)
def test_a_wrong_mark_is_told_with_its_line(tmp_path: Path, line: str, why: str) -> None:
    path = tmp_path / "own.txt"
    path.write_text(f"# Source: our own\nSlaw {{38:r|cold_holding|slaw}}.\n{line}\n", encoding="utf-8")
    with pytest.raises(InputError, match=f"own.txt, line 3: .*{why}"):
        sayings(path)


def test_weights_are_kept_and_read_again(tmp_path: Path) -> None:
    save(purpose(), tmp_path / "weights.npz")
    assert load(tmp_path / "weights.npz") == purpose()


def test_damaged_weights_are_named(tmp_path: Path) -> None:
    (tmp_path / "weights.npz").write_bytes(b"not weights")
    with pytest.raises(InputError, match="make weights"):
        load(tmp_path / "weights.npz")

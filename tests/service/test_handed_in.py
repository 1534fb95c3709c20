"""A folder on this machine comes into the inbox whole: links, odd names and earlier results."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from capture.intake import take_in
from capture.originals import Originals
from review_api.commands import process
from review_api.handed_in import bring
from shared.errors import InputError
from tests.capture.making import recording

NO_TEXT = os.fsdecode(b"walk \xff.wav")


@pytest.fixture
def source(tmp_path: Path) -> Path:
    folder = tmp_path / "visit"
    folder.mkdir()
    recording(folder / "20261013_101200.wav")
    return folder


@pytest.fixture
def inbox(tmp_path: Path) -> Path:
    folder = tmp_path / "data" / "inbox"
    folder.mkdir(parents=True)
    return folder


def brought(source: Path, inbox: Path) -> dict[str, bool]:
    """What lies in the inbox then, and whether it is a link."""
    folder = bring(source, inbox=inbox)
    return {
        path.relative_to(folder).as_posix(): path.is_symlink()
        for path in folder.rglob("*")
        if not path.is_dir()
    }


def test_a_link_to_a_recording_brings_the_recording(source: Path, inbox: Path, tmp_path: Path) -> None:
    store = tmp_path / "store"
    store.mkdir()
    (source / "20261013_101200.wav").rename(store / "a.wav")
    (source / "20261013_101200.wav").symlink_to("../store/a.wav")
    assert brought(source, inbox) == {"20261013_101200.wav": False}


def test_links_to_folders_are_not_followed_and_told_with_broken_ones(
    source: Path, inbox: Path, tmp_path: Path
) -> None:
    (source / "again").symlink_to(source, target_is_directory=True)
    (source / "gone.wav").symlink_to("nowhere.wav")
    (source / "self").symlink_to("self")
    folder = bring(source, inbox=inbox)
    taken = take_in(folder, originals=Originals(tmp_path / "originals"))
    assert [item.name for item in taken.recordings] == ["20261013_101200.wav"]
    assert taken.left_out == ("again", "gone.wav", "self")
    assert all("is a link to a folder, or to a file that is not there" in told for told in taken.problems)


def test_a_name_that_is_no_text_comes_along(source: Path, inbox: Path) -> None:
    (source / "20261013_101200.wav").rename(source / NO_TEXT)
    assert brought(source, inbox) == {NO_TEXT: False}


def test_the_results_of_a_folder_whose_name_is_no_text_can_be_printed(tmp_path: Path) -> None:
    folder = Path(os.fsdecode(os.fsencode(tmp_path) + b"/visit \xff"))
    folder.mkdir()
    out = process._beside(folder)
    assert str(out) == "visit \N{REPLACEMENT CHARACTER}-draft"
    assert str(out).encode()


def test_what_an_earlier_run_left_behind_stays(source: Path, inbox: Path) -> None:
    data = source / "visit-draft" / "data"
    data.mkdir(parents=True)
    (data / "probeside.sqlite").write_bytes(b"x")
    recording(data / "a.wav")
    (source / "draft").mkdir()
    (source / "draft" / "results.json").write_text('{"schema": "probeside/1"}')
    recording(source / "draft" / "b.wav")
    assert brought(source, inbox) == {"20261013_101200.wav": False}


def test_what_cannot_be_opened_is_one_sentence(
    source: Path, inbox: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied", str(source / "20261013_101200.wav"))

    monkeypatch.setattr("os.link", refused)
    monkeypatch.setattr("shutil.copy2", refused)
    with pytest.raises(InputError, match=r"101200\.wav: cannot be taken in \(Permission denied\)") as told:
        bring(source, inbox=inbox)
    assert "[" not in str(told.value)
    assert list(inbox.iterdir()) == []

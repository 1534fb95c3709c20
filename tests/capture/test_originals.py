"""Originals are kept whole, under their SHA-256, and never change."""

from __future__ import annotations

import hashlib
import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from capture.originals import Originals
from shared.errors import InputError, RefusedError

WORDS = b"as it came\x00\xff" * 5000


@pytest.fixture
def originals(tmp_path: Path) -> Originals:
    return Originals(tmp_path / "originals")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "walk.wav"
    path.write_bytes(WORDS)
    return path


def test_a_file_goes_by_the_sha256_of_its_bytes(originals: Originals, file: Path) -> None:
    sha256 = originals.add(file)
    assert sha256 == hashlib.sha256(WORDS).hexdigest()
    assert originals.path(sha256).read_bytes() == WORDS
    assert sha256 in originals
    assert list(originals) == [sha256]
    originals.verify(sha256)


def test_the_file_given_is_left_as_it_is(originals: Originals, file: Path) -> None:
    before = file.stat()
    originals.add(file)
    assert file.read_bytes() == WORDS
    assert file.stat().st_mtime_ns == before.st_mtime_ns


def test_the_date_of_the_file_goes_along(originals: Originals, file: Path) -> None:
    os.utime(file, (1_790_000_000, 1_790_000_000))
    assert originals.path(originals.add(file)).stat().st_mtime == 1_790_000_000


def test_what_is_kept_cannot_be_written_to(originals: Originals, file: Path) -> None:
    mode = originals.path(originals.add(file)).stat().st_mode
    assert not mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH)


def test_the_same_bytes_twice_are_kept_once(originals: Originals, file: Path, tmp_path: Path) -> None:
    again = tmp_path / "copy.wav"
    again.write_bytes(WORDS)
    assert originals.add(file) == originals.add(again)
    assert len(list(originals)) == 1


def test_adding_again_mends_a_damaged_original(originals: Originals, file: Path) -> None:
    sha256 = originals.add(file)
    kept = originals.path(sha256)
    kept.chmod(0o644)
    kept.write_bytes(b"short")
    originals.add(file)
    originals.verify(sha256)


@pytest.mark.parametrize(
    "harm",
    [
        lambda data: data[:-1],
        lambda data: data + b"\0",
        lambda data: b"\0" + data[1:],
        lambda data: b"",
    ],
    ids=["one byte less", "one byte more", "one byte other", "empty"],
)
def test_an_altered_original_is_refused(originals: Originals, file: Path, harm: object) -> None:
    sha256 = originals.add(file)
    kept = originals.path(sha256)
    kept.chmod(0o644)
    kept.write_bytes(harm(WORDS))  # type: ignore[operator]
    with pytest.raises(RefusedError, match="was altered"):
        originals.verify(sha256)


def test_an_original_that_is_not_there_is_named(originals: Originals) -> None:
    with pytest.raises(InputError, match="add its file again"):
        originals.path("0" * 64)


@pytest.mark.parametrize("name", ["", "abc", "../../etc/passwd", "A" * 64, "g" * 64, "0" * 63 + "/"])
def test_what_is_no_sha256_is_refused(originals: Originals, name: str) -> None:
    with pytest.raises(InputError, match="is not a SHA-256"):
        originals.path(name)


def test_a_missing_file_is_named(originals: Originals, tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"gone\.wav: there is no such file"):
        originals.add(tmp_path / "gone.wav")


def test_a_file_that_grows_while_it_is_read_is_not_kept(
    originals: Originals, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from capture import originals as module

    copy = module._copy

    def growing(path: Path, out: object) -> str:
        sha256 = copy(path, out)  # type: ignore[arg-type]
        with path.open("ab") as more:
            more.write(b"more")
        return sha256

    monkeypatch.setattr(module, "_copy", growing)
    with pytest.raises(InputError, match=r"walk\.wav: changed while it was being read"):
        originals.add(file)
    assert list(originals) == []


_ON_A_FULL_DISK = """
import resource, sys
from pathlib import Path
from capture.originals import Originals
from shared.errors import InputError
resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))  # as on a full disk, writing more fails
originals = Originals(Path(sys.argv[1]))
for name in sys.argv[2:]:
    try:
        print(originals.add(Path(name)))
    except InputError as error:
        print(error)
"""


def test_a_full_disk_is_told_and_leaves_nothing_half_written(tmp_path: Path, file: Path) -> None:
    small = tmp_path / "small.wav"
    small.write_bytes(b"fits")
    root = tmp_path / "originals"
    ran = subprocess.run(
        [sys.executable, "-c", _ON_A_FULL_DISK, root, file, small], capture_output=True, text=True, check=True
    )
    told, sha256 = ran.stdout.splitlines()
    assert told.startswith(f"{file}: not kept, because the disk that holds {root} is full; free some space")
    assert list(Originals(root)) == [sha256] == [hashlib.sha256(b"fits").hexdigest()]
    assert not list(root.glob(".incoming-*"))


_KILLED_WHILE_WRITING = """
import os, sys
from pathlib import Path
from capture import originals as module
sync = os.fsync
module.os.fsync = lambda handle: os.kill(os.getpid(), 9)  # power fails before the bytes are safe
module.Originals(Path(sys.argv[1])).add(Path(sys.argv[2]))
"""


def test_power_failing_while_writing_leaves_no_half_original(tmp_path: Path, file: Path) -> None:
    root = tmp_path / "originals"
    ran = subprocess.run([sys.executable, "-c", _KILLED_WHILE_WRITING, root, file], check=False)
    assert ran.returncode == -9
    assert list(Originals(root)) == []
    (left,) = root.glob(".incoming-*")
    sha256 = Originals(root).add(file)
    Originals(root).verify(sha256)
    assert left.exists()  # it might still be being written by another run
    os.utime(left, (0, 0))
    Originals(root).add(file)
    assert not left.exists()

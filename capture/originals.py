"""The store of originals: every file as it came, named by its SHA-256, never altered."""

from __future__ import annotations

import errno
import hashlib
import os
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO

from shared.errors import InputError, RefusedError

_BLOCK = 1 << 20
_FULL = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
_READ_ONLY = 0o444
_INCOMING = ".incoming-"
_LEFT_AFTER_S = 3600


class Originals:
    """Keeps files under `root`, at `root/ab/abcd…`: the first two digits of the SHA-256, then all of it.

    A file is there whole or not at all, also when power fails while it is being written.
    """

    def __init__(self, root: Path) -> None:
        self.root = root

    def add(self, path: Path) -> str:
        """The SHA-256 under which the file at `path` is now kept. One that is there already stays as it is.

        Raises `InputError` when it cannot be read, changes while it is read, or the disk is full.
        """
        before = _state(path)
        with _told(path, self.root):
            self.root.mkdir(parents=True, exist_ok=True)
            self._sweep()
            handle, name = tempfile.mkstemp(prefix=_INCOMING, dir=self.root)
        incoming = Path(name)
        try:
            with _told(path, self.root), os.fdopen(handle, "wb") as out:
                sha256 = _copy(path, out)
                out.flush()
                os.fsync(out.fileno())
            if _state(path) != before:
                raise InputError(
                    f"{path}: changed while it was being read; wait until it is written whole, then try again"
                )
            with _told(path, self.root):
                self._keep(incoming, sha256, modified_ns=before[1])
        finally:
            incoming.unlink(missing_ok=True)
        return sha256

    def path(self, sha256: str) -> Path:
        """Where the original is. Raises `InputError` when it is not kept here."""
        path = self._place(sha256)
        if not path.is_file():
            raise InputError(f"original {sha256} is not in {self.root}: add its file again")
        return path

    def verify(self, sha256: str) -> None:
        """Raises `RefusedError` when the kept bytes are no longer those that came, `InputError` if gone."""
        path = self.path(sha256)
        found = _digest(path)
        if found != sha256:
            raise RefusedError(
                f"{path}: this original was altered: its SHA-256 is now {found}. "
                "Put it back from a backup, or add the file again from the device"
            )

    def __contains__(self, sha256: str) -> bool:
        return self._place(sha256).is_file()

    def __iter__(self) -> Iterator[str]:
        """The SHA-256 of each original, in no particular order."""
        return (path.name for path in self.root.glob("[0-9a-f][0-9a-f]/*") if len(path.name) == 64)

    def _place(self, sha256: str) -> Path:
        if len(sha256) != 64 or not set(sha256) <= set("0123456789abcdef"):
            raise InputError(f"'{sha256}' is not a SHA-256: 64 digits, 0-9 and a-f")
        return self.root / sha256[:2] / sha256

    def _sweep(self) -> None:
        """Removes what a run that was killed left half written."""
        for left in self.root.glob(f"{_INCOMING}*"):
            with suppress(OSError):
                if time.time() - left.stat().st_mtime > _LEFT_AFTER_S:
                    left.unlink()

    def _keep(self, incoming: Path, sha256: str, *, modified_ns: int) -> None:
        place = self._place(sha256)
        if place.is_file() and _digest(place) == sha256:
            return
        # The file's date goes along: it is the last resort for telling when a photo was taken.
        os.utime(incoming, ns=(modified_ns, modified_ns))
        incoming.chmod(_READ_ONLY)
        place.parent.mkdir(exist_ok=True)
        incoming.replace(place)
        _sync_folder(place.parent)
        _sync_folder(self.root)


def _state(path: Path) -> tuple[int, int]:
    with _told(path, path.parent):
        found = path.stat()
    return found.st_size, found.st_mtime_ns


def _copy(path: Path, out: BinaryIO) -> str:
    digest = hashlib.sha256()
    with path.open("rb") as source:
        while block := source.read(_BLOCK):
            digest.update(block)
            out.write(block)
    return digest.hexdigest()


def _digest(path: Path) -> str:
    with path.open("rb") as source:
        return hashlib.file_digest(source, "sha256").hexdigest()


def _sync_folder(folder: Path) -> None:
    with suppress(OSError):  # not every file system lets a folder be synced
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


@contextmanager
def _told(path: Path, root: Path) -> Iterator[None]:
    """Turns what the operating system says into a sentence about `path`."""
    try:
        yield
    except OSError as error:
        if error.errno in _FULL:
            raise InputError(
                f"{path}: not kept, because the disk that holds {root} is full; free some space and try "
                "again (what was kept before is whole)"
            ) from error
        if isinstance(error, FileNotFoundError):
            raise InputError(f"{path}: there is no such file; check the name") from error
        if isinstance(error, PermissionError):
            which = error.filename or path
            raise InputError(
                f"{path}: not kept, because {which} may not be opened; change its permissions"
            ) from error
        raise InputError(f"{path}: not kept: {error.strerror or error}; copy it again and retry") from error

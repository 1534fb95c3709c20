"""Files as they are handed in: kept in the inbox by their own names and folders, with the times they had."""

from __future__ import annotations

import hashlib
import os
import shutil
from collections.abc import Callable, Collection, Iterable, Mapping
from pathlib import Path, PurePath
from tempfile import mkdtemp
from typing import BinaryIO, Protocol

from capture.intake import is_earlier_run
from shared.errors import InputError

_BLOCK = 1 << 20


class Upload(Protocol):
    """A file that comes in: what a multipart form gives."""

    filename: str | None
    file: BinaryIO


def receive(files: Iterable[Upload], modified: Mapping[str, float], *, inbox: Path) -> Path:
    """The folder in the inbox that holds the files. Raises InputError where they cannot be kept."""
    files = list(files)
    if not files:
        raise InputError("no files came; choose the folder with the recordings and photos")
    folder = Path(mkdtemp(prefix="coming-", dir=inbox))
    try:
        for upload in files:
            path = _place_for(upload.filename or "", folder)
            path.parent.mkdir(parents=True, exist_ok=True)
            with path.open("xb") as kept:
                shutil.copyfileobj(upload.file, kept, _BLOCK)
            at = modified.get(upload.filename or "", modified.get(path.name))
            if at is not None and 0 < at < 4e9:
                os.utime(path, (at, at))
    except OSError as error:
        shutil.rmtree(folder, ignore_errors=True)
        raise InputError(
            f"the files could not be kept ({error.strerror}); make room on the disk and try again"
        ) from error
    return settle(folder, inbox=inbox)


def refuse_what_is_no_folder(source: Path) -> None:
    """Raises `InputError` unless `source` is a folder."""
    if not source.exists():
        raise InputError(f"{source}: there is no such folder; check the name")
    if not source.is_dir():
        raise InputError(f"{source}: is a file; name the folder with the inspection's recordings and photos")


def bring(source: Path, *, inbox: Path, ignore: Collection[Path] = ()) -> Path:
    """The same for a folder on this machine, less hidden files, `ignore`, and results of earlier runs."""
    refuse_what_is_no_folder(source)
    passed_over = {os.path.realpath(path) for path in (*ignore, inbox)}
    coming = Path(mkdtemp(prefix="coming-", dir=inbox))
    try:
        _fill(coming, source, passed_over)
    except OSError as error:
        shutil.rmtree(coming, ignore_errors=True)
        where = f"{source}" if error.filename is None else os.fsdecode(error.filename)
        raise InputError(
            f"{where}: cannot be taken in ({error.strerror}), so nothing was taken; check its permissions "
            "and the room on the disk, or move it out of the folder"
        ) from error
    return settle(coming, inbox=inbox)


def _fill(target: Path, source: Path, passed_over: Collection[str]) -> None:
    """Puts what lies in `source` into `target`.

    Of a link that leads to no file the link alone comes along, and is told when the folder is taken in.
    """
    for path in sorted(source.iterdir()):
        if path.name.startswith(".") or os.path.realpath(path) in passed_over:
            continue
        place = target / path.name
        if path.is_file():
            _link_or_copy(path, place)
        elif path.is_symlink():
            place.symlink_to(os.path.realpath(path))
        elif path.is_dir() and not is_earlier_run(path):
            place.mkdir()
            _fill(place, path, passed_over)


def _link_or_copy(source: Path, target: Path) -> None:
    """A second name for the same bytes where the file system allows it, so that they are copied once only."""
    try:
        os.link(os.path.realpath(source), target)
    except OSError:
        shutil.copy2(source, target)


def settle(folder: Path, *, inbox: Path) -> Path:
    """The folder renamed to the SHA-256 of its content; one that is there already is kept instead."""
    lasting = inbox / content_of(folder)
    try:
        folder.rename(lasting)
    except OSError:
        if not lasting.is_dir():
            raise
        shutil.rmtree(folder)
    return lasting


def content_of(folder: Path) -> str:
    """SHA-256 over names and bytes of the files of a folder: tells that the same was handed in before."""
    whole = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        if path.is_symlink():
            whole.update(b"link  " + os.fsencode(path.relative_to(folder).as_posix()) + b"\n")
        elif path.is_file():
            with path.open("rb") as file:
                digest = hashlib.file_digest(file, "sha256").hexdigest()
            whole.update(f"{digest}  ".encode() + os.fsencode(path.relative_to(folder).as_posix()) + b"\n")
    return whole.hexdigest()


def _place_for(given: str, folder: Path) -> Path:
    """Where in the folder a file of that name, with or without folders before it, is kept: never outside of
    it; a number is added where the place is taken."""
    parts = [_plain(part) for part in given.replace("\\", "/").split("/")]
    *above, name = [part for part in parts if part not in ("", ".", "..")][-_DEEPEST:] or ["file"]
    place = folder
    for part in above:
        place = _free(place, part, taken=Path.is_file)
    return _free(place, name, taken=Path.exists)


def _free(place: Path, name: str, *, taken: Callable[[Path], bool]) -> Path:
    path, count = place / name, 1
    while taken(path):
        count += 1
        path = place / f"{PurePath(name).stem}-{count}{PurePath(name).suffix}"
    return path


_DEEPEST = 8
"""Folders and name of a file that are kept, counted from the end."""


def _plain(part: str) -> str:
    return part.replace("\0", "").strip().encode()[-200:].decode(errors="ignore")

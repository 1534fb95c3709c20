"""Files as they are handed in: kept in the inbox by their own names and folders, with the times they had."""

from __future__ import annotations

import hashlib
import os
import shutil
from collections.abc import Callable, Collection, Iterable, Mapping
from pathlib import Path, PurePath
from tempfile import mkdtemp
from typing import BinaryIO, Protocol

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
    """The same for a folder on this machine with its sub-folders, less hidden files and `ignore`."""
    refuse_what_is_no_folder(source)
    passed_over = {path.resolve() for path in (*ignore, inbox)}

    def left_out(folder: str, names: list[str]) -> list[str]:
        return [
            name for name in names if name.startswith(".") or (Path(folder) / name).resolve() in passed_over
        ]

    coming = Path(mkdtemp(prefix="coming-", dir=inbox))
    try:
        shutil.copytree(source, coming, ignore=left_out, copy_function=_link_or_copy, dirs_exist_ok=True)
    except (OSError, shutil.Error) as error:
        shutil.rmtree(coming, ignore_errors=True)
        raise InputError(f"{source}: could not be taken in whole ({error}); nothing was taken") from error
    coming.chmod(0o700)
    return settle(coming, inbox=inbox)


def _link_or_copy(source: str, target: str) -> None:
    """A second name for the same bytes where the file system allows it, so that they are copied once only."""
    try:
        os.link(source, target, follow_symlinks=True)
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
        if path.is_file():
            with path.open("rb") as file:
                digest = hashlib.file_digest(file, "sha256").hexdigest()
            whole.update(f"{digest}  {path.relative_to(folder).as_posix()}\n".encode())
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

"""Files as they are handed in: kept in the inbox under their own names, with the times they had."""

from __future__ import annotations

import hashlib
import os
import shutil
from collections.abc import Collection, Iterable, Mapping
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
            name = _plain_name(upload.filename or "", folder)
            with (folder / name).open("xb") as kept:
                shutil.copyfileobj(upload.file, kept, _BLOCK)
            at = modified.get(upload.filename or "", modified.get(name))
            if at is not None and 0 < at < 4e9:
                os.utime(folder / name, (at, at))
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


def _plain_name(given: str, folder: Path) -> str:
    """The last part of the name, safe as a file name; a number is added where it is taken."""
    name = PurePath(given.replace("\\", "/")).name.replace("\0", "").strip() or "file"
    name = name if name not in (".", "..") else "file"
    name = name.encode()[-200:].decode(errors="ignore")
    stem, suffix = PurePath(name).stem, PurePath(name).suffix
    count = 1
    while (folder / name).exists():
        count += 1
        name = f"{stem}-{count}{suffix}"
    return name

"""Tables that take long to compile, kept as compiled.

A kept table carries the SHA-256 of all that it was made from, code included, and is used only while that is
still so: a stale or damaged one costs time and never changes a result. `make tables` makes them.
"""

from __future__ import annotations

import hashlib
import os
import pickle
import sys
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path
from typing import TypeVar

from shared.undisturbed import undisturbed

FOLDER = Path(__file__).with_name("compiled")
_SIZE = hashlib.sha256().digest_size

T = TypeVar("T")


def kept(name: str, sources: Iterable[Path], make: Callable[[], T], *, folder: Path = FOLDER) -> T:
    """The table `name` as it was kept, if it was made from `sources` as they are now; else made anew."""
    with undisturbed():
        try:
            file = (folder / f"{name}.pickle").read_bytes()
        except OSError:
            return make()
        made_from, whole, content = file[:_SIZE], file[_SIZE : 2 * _SIZE], file[2 * _SIZE :]
        if made_from != fingerprint(sources) or whole != hashlib.sha256(content).digest():
            return make()
        table: T = pickle.loads(content)
        return table


def keep(name: str, sources: Iterable[Path], made: object, *, folder: Path = FOLDER) -> Path:
    """Where the table is now kept for the next start. It is there whole or not at all."""
    folder.mkdir(exist_ok=True)
    path, coming = folder / f"{name}.pickle", folder / f"{name}.{os.getpid()}"
    content = pickle.dumps(made, pickle.HIGHEST_PROTOCOL)
    coming.write_bytes(fingerprint(sources) + hashlib.sha256(content).digest() + content)
    coming.replace(path)
    return path


def fingerprint(sources: Iterable[Path]) -> bytes:
    """SHA-256 of the files, their names and the Python that reads them. OSError where one is missing."""
    digest = hashlib.sha256(sys.version.encode())
    for path in sorted(sources):
        digest.update(_one(path))
    return digest.digest()


@cache
def _one(path: Path) -> bytes:
    """SHA-256 of a file and its name; once read in a process, as the code and the vocabulary are."""
    return hashlib.sha256(path.name.encode() + b"\0" + path.read_bytes()).digest()

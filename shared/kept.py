"""Tables that take long to compile, kept as compiled.

A kept table carries the SHA-256 of all that it was made from, code included, and is used only while that is
still so: a stale or damaged one costs time and never changes a result. `make tables` makes them.
"""

from __future__ import annotations

import hashlib
import io
import os
import pickle
import sys
from collections.abc import Callable, Iterable
from dataclasses import is_dataclass
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

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
    out = io.BytesIO()
    _Pickler(out, pickle.HIGHEST_PROTOCOL).dump(made)
    content = out.getvalue()
    coming.write_bytes(fingerprint(sources) + hashlib.sha256(content).digest() + content)
    coming.replace(path)
    return path


class _Pickler(pickle.Pickler):
    """Keeps a dataclass with slots by its values alone, which reads back in half the time."""

    def reducer_override(self, one: object) -> Any:
        if not is_dataclass(one) or isinstance(one, type) or not hasattr(one, "__slots__"):
            return NotImplemented
        return _filled, (type(one), *(getattr(one, name) for name in one.__dataclass_fields__))


def _filled(kind: Any, *values: object) -> object:
    """A dataclass with these values in its slots."""
    made = object.__new__(kind)
    for name, value in zip(kind.__dataclass_fields__, values, strict=True):
        object.__setattr__(made, name, value)
    return made


def fingerprint(sources: Iterable[Path]) -> bytes:
    """SHA-256 of the files, their names, the Python that reads them and this module, which wrote the table.
    OSError where one is missing."""
    digest = hashlib.sha256(sys.version.encode())
    for path in sorted([*sources, Path(__file__)]):
        digest.update(_one(path))
    return digest.digest()


@cache
def _one(path: Path) -> bytes:
    """SHA-256 of a file and its name; once read in a process, as the code and the vocabulary are."""
    return hashlib.sha256(path.name.encode() + b"\0" + path.read_bytes()).digest()

"""Files that are there whole or not at all, and are never written over."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def write_once(path: Path, content: bytes, *, mode: int = 0o644) -> bool:
    """True when `path` now holds `content`; False when it was there before, and is left as it was.

    Whole or absent at every moment, also if the machine stops: the bytes are on disk before the name is.
    Raises OSError when the disk is full; then nothing is left behind.
    """
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            os.fchmod(file.fileno(), mode)
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        try:
            os.link(temporary, path)  # unlike a rename it fails when the name is taken
        except FileExistsError:
            return False
    finally:
        temporary.unlink(missing_ok=True)
    folder = os.open(path.parent, os.O_RDONLY)
    try:
        os.fsync(folder)
    finally:
        os.close(folder)
    return True

"""Files that can be computed again, kept under the name of their input: made once, whole or not at all."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from tempfile import NamedTemporaryFile

from shared.errors import InputError


def kept(path: Path, make: Callable[[], bytes]) -> Path:
    """`path`, made with `make` if it is not there. Raises what `make` raises; InputError on a full disk."""
    if path.exists():
        return path
    content = make()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with NamedTemporaryFile(dir=path.parent, prefix=".making-", delete=False) as coming:
            coming.write(content)
        Path(coming.name).replace(path)
    except OSError as error:
        raise InputError(f"{path}: cannot be written ({error.strerror}); make room on the disk") from error
    return path

"""Closes the sample's inspection, killed with SIGKILL after a step: to be called in a process of its own."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable
from pathlib import Path
from typing import Any

from review_api.seal import ceremony, files, open_key
from tests.report.samples import DEPARTMENT, photo_files, signed


def close_killed(step: str, folder: Path, keys: Path) -> int:
    """0 if it was not killed. `unnamed`: the bytes are on disk, the name is not."""

    def die(*_: Any) -> None:
        os.kill(os.getpid(), signal.SIGKILL)

    def deadly(name: str) -> Callable[..., Any]:
        function = getattr(ceremony, name)

        def wrapped(*given: Any, **named: Any) -> Any:
            result = function(*given, **named)
            if step == (given[0].suffix[1:] if name == "write_once" else name):
                die()
            return result

        return wrapped

    if step == "unnamed":
        files.os.link = die  # type: ignore[attr-defined]
    for name in ("render", "seal", "verify", "write_once"):
        setattr(ceremony, name, deadly(name))
    key = open_key(keys, department=DEPARTMENT.name, warn=print)
    ceremony.close(signed(), photo_files(), key=key, folder=folder)
    return 0

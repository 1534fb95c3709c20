"""A call in a process of its own, which may be killed: how it ended and what it wrote.

Each is forked from one process that has loaded what the calls need, so that a kill at every step does not
load all of it at every step.
"""

from __future__ import annotations

import multiprocessing
import os
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

LOADED = ["tests.service.killing", "tests.seal.killing"]


@dataclass(frozen=True)
class Ended:
    """How a process ended."""

    status: int
    """As it exited; a signal that ended it, negative."""
    out: str
    err: str


def in_own_process(call: Callable[..., int], *given: Any) -> Ended:
    """`call` of a module in `LOADED`, which gives the exit status."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(LOADED)
    with TemporaryDirectory() as folder:
        out, err = Path(folder) / "out", Path(folder) / "err"
        running = context.Process(target=_redirected, args=(call, given, out, err))
        running.start()
        running.join(timeout=120)
        if running.exitcode is None:
            running.kill()
            running.join()
        assert running.exitcode is not None
        ended = Ended(running.exitcode, out.read_text("utf-8"), err.read_text("utf-8"))
        running.close()
        return ended


def _redirected(call: Callable[..., int], given: tuple[Any, ...], out: Path, err: Path) -> None:
    for number, path in ((1, out), (2, err)):
        os.dup2(os.open(path, os.O_WRONLY | os.O_CREAT), number)
    sys.exit(call(*given))

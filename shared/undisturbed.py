"""Loading tables without the garbage collector's rounds."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def undisturbed() -> Iterator[None]:
    """Within it the garbage collector waits.

    For loading what stays: the collector would go through hundreds of thousands of new objects several times
    and find nothing to free, which took a fifth of the time.
    """
    running = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if running:
            gc.enable()

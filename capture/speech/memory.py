"""Memory handed back between blocks, so that a long recording takes no more than a short one.

The C library of Linux keeps a heap for each thread and gives freed memory back late: three hours on four
cores held 1.6 GB, of which half was free (docs/speech.md). Two heaps for all threads, and a request after
each block, cost no time.
"""

from __future__ import annotations

import ctypes
import platform
from functools import cache
from typing import Any

_ARENA_MAX = -8  # M_ARENA_MAX of malloc.h
_HEAPS = 2


def few_heaps() -> None:
    """Lets all threads of this process share two heaps; to be called before threads are started."""
    library = _glibc()
    if library:
        library.mallopt(_ARENA_MAX, _HEAPS)


def give_back() -> None:
    """Returns what was freed to the system."""
    library = _glibc()
    if library:
        library.malloc_trim(0)


@cache
def _glibc() -> Any:
    """The C library; None where it is another than glibc."""
    return ctypes.CDLL(None) if platform.libc_ver()[0] == "glibc" else None

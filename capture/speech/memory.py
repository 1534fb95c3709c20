"""Memory kept while a block is heard, and handed back after it.

The C library of Linux keeps a heap for each thread and gives freed memory back late: three hours on four
cores held 1.6 GB, of which half was free (docs/speech.md). Large pieces it takes the other way, from the
system each time, which has to clear them: a fifth of the time of encoding. One heap for all threads and all
sizes, kept until it is handed back after each block, costs neither.
"""

from __future__ import annotations

import ctypes
import platform
from functools import cache
from typing import Any

_SETTINGS = (
    (-8, 1),  # M_ARENA_MAX of malloc.h: heaps
    (-4, 0),  # M_MMAP_MAX: pieces that come from the system each by itself
    (-1, 2**31 - 1),  # M_TRIM_THRESHOLD: bytes that may lie free at the end of the heap
)


def one_heap() -> None:
    """Lets all threads of this process share one heap that keeps what is freed; to be called before threads
    are started."""
    library = _glibc()
    if library:
        for setting, value in _SETTINGS:
            library.mallopt(setting, value)


def give_back() -> None:
    """Returns what was freed to the system."""
    library = _glibc()
    if library:
        library.malloc_trim(0)


@cache
def _glibc() -> Any:
    """The C library; None where it is another than glibc."""
    return ctypes.CDLL(None) if platform.libc_ver()[0] == "glibc" else None

"""Memory kept while a block is heard, and handed back after it.

The C library of Linux keeps a heap for each thread and gives freed memory back late: three hours on four
cores held 1.6 GB, of which half was free (docs/speech.md). Large pieces it takes the other way, from the
system each time, which has to clear them: a fifth of the time of encoding. One heap for all threads and all
sizes, kept until it is handed back after each block, costs no time; where windows are heard side by side, it
holds 150 MB more, so that there are two heaps and large pieces stay apart.
"""

from __future__ import annotations

import ctypes
import platform
from functools import cache
from typing import Any

_ARENA_MAX = -8  # M_ARENA_MAX of malloc.h: heaps
_MMAP_MAX = -4  # M_MMAP_MAX: pieces that come from the system each by itself
_TRIM_THRESHOLD = -1  # M_TRIM_THRESHOLD: bytes that may lie free at the end of the heap


def one_heap() -> None:
    """Lets all threads of this process share one heap that keeps what is freed; to be called before threads
    are started."""
    _set((_ARENA_MAX, 1), (_MMAP_MAX, 0), (_TRIM_THRESHOLD, 2**31 - 1))


def few_heaps() -> None:
    """Lets all threads of this process share two heaps; to be called before threads are started."""
    _set((_ARENA_MAX, 2))


def _set(*settings: tuple[int, int]) -> None:
    library = _glibc()
    if library:
        for setting, value in settings:
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

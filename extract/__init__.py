"""What it means: readings, conditions, checks and proposed findings from utterances.

`extract(utterances, *, rules, facts, photos)` is the whole stage. It is loaded at first use, so that a
call which
needs only `extract.checks` starts fast.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from extract.extraction import extract

__all__ = ["extract"]


def __getattr__(name: str) -> Any:
    if name == "extract":
        from extract.extraction import extract

        return extract
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")

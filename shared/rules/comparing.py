"""Where two jurisdictions differ, row by row."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Any, Literal

from shared.rules.model import Rules

KINDS = (
    "provisions", "form_items", "limits", "tables", "sanitizers", "cooling", "tcs_cells", "deadlines",
    "hazards", "categories", "options", "illnesses", "duties",
)  # fmt: skip
"""The fields of `Rules` that hold rows by name."""
_NOT_LAW = ("source", "note")


@dataclass(frozen=True, slots=True)
class Difference:
    """One row that differs."""

    kind: str
    name: str
    what: Literal["added", "removed", "changed"]
    fields: Mapping[str, tuple[Any, Any]]
    """For a changed row: each field that differs, as the first and the second have it."""


def differences(first: Rules, second: Rules) -> tuple[Difference, ...]:
    """Every row that the second adds, drops or changes; sources and notes do not count as law."""
    found = []
    for kind in KINDS:
        mine, theirs = getattr(first, kind), getattr(second, kind)
        for name in {**mine, **theirs}:
            if name not in theirs:
                found.append(Difference(kind, str(name), "removed", {}))
            elif name not in mine:
                found.append(Difference(kind, str(name), "added", {}))
            elif changed := _changed(mine[name], theirs[name]):
                found.append(Difference(kind, str(name), "changed", changed))
    return tuple(found)


def _changed(mine: Any, theirs: Any) -> dict[str, tuple[Any, Any]]:
    return {
        item.name: (getattr(mine, item.name), getattr(theirs, item.name))
        for item in fields(mine)
        if item.name not in _NOT_LAW and getattr(mine, item.name) != getattr(theirs, item.name)
    }

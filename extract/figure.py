"""One number as it stands in an utterance, with its unit and what it is for."""

from __future__ import annotations

from dataclasses import dataclass

from extract.numbers import Number


@dataclass(slots=True)
class Figure:
    """One number as it stands in an utterance; tokens `first` to `last` hold it with its unit."""

    number: Number
    first: int
    last: int
    value: float
    unit: str | None = None
    kind: str | None = None
    role: str = "figure"
    """`figure` until `extract.roles` knows better; `clock`, `date`, `count`, `other` are settled here."""
    clock: str | None = None
    """HH:MM of a time of day, or of the reading it belongs to."""
    alternatives: tuple[float, ...] = ()
    codes: tuple[str, ...] = ()
    approximate: str | None = None
    range_with: int | None = None
    why: str = ""
    """The words that decided the role."""
    withdrawn: bool = False

"""One number as it stands in an utterance, with its unit and what it is for."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

from extract.second_reader.reader import FigureTold
from extract.words.numerals import Number


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
    """`figure` until `extract.meant_for` or `extract.settled` knows better; `clock`, `date`, `count` and
    `other` are settled here."""
    clock: str | None = None
    """HH:MM of a time of day, or of the reading it belongs to."""
    alternatives: tuple[float, ...] = ()
    codes: tuple[str, ...] = ()
    approximate: str | None = None
    range_with: int | None = None
    why: str = ""
    """The words that decided the role."""
    withdrawn: bool = False
    told: FigureTold | None = None
    """What the second reader takes it for; None where it did not look at it."""
    perhaps_mentioned: bool = False
    """Rules and second reader do not agree on whether it was measured now (`extract.second_reader`)."""


def holding(found: list[Figure], token: int) -> int | None:
    """Which of the figures, in order, holds a token; None: no one does."""
    at = bisect_right(found, token, key=lambda figure: figure.first) - 1
    return at if at >= 0 and found[at].last > token else None

"""Times of day that were printed as if they were figures: `okay 1.58, gumbo's 67`."""

from __future__ import annotations

from collections.abc import Sequence

from extract.figures.figure import Figure
from extract.figures.times_of_day import as_clock
from extract.words.line import Line

_NO_FIGURE = 0.85
"""Share of `n` from which such a figure is a time."""


def hear_times(line: Line, found: Sequence[Figure], hour: float | None) -> None:
    """Makes times, in place, of figures like 1.58; `hour`: when it was said, as hours of
    the day."""
    for figure in found:
        if figure.role != "figure" or "lost_point" not in figure.codes or figure.number.clock is None:
            continue
        if figure.told is not None and figure.told.meant["n"] > _NO_FIGURE:
            as_clock(figure, line, hour)

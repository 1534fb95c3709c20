"""On which days clock times without a date lie, so that what was read first counts first."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import pairwise

_DAY = timedelta(days=1)
_AHEAD = timedelta(hours=1)
"""How far the clock on a wall may be ahead of that of a recorder; common practice, no source."""
_NIGHT = timedelta(hours=18)
"""The longest stretch that times told one after another may span over midnight, where nobody knows when they
were said; common practice, no source."""


def in_order(times: Sequence[datetime]) -> list[datetime]:
    """Times by the clock of one day, in the order given: one that is earlier than the one before it is of the
    next day."""
    line: list[datetime] = []
    for when in times:
        line.append(line[-1] + (when - line[-1]) % _DAY if line else when)
    return line


def turned_round(times: Sequence[datetime], values: Sequence[float]) -> bool:
    """Whether temperatures rise in the order given, and would only fall if another of them were the first:
    the order or the days are not as they were meant."""
    if _falls(in_order(times), values):
        return False
    return any(_falls([when + _DAY if when < first else when for when in times], values) for first in times)


def as_told(
    times: Sequence[datetime], values: Sequence[float], said: Sequence[datetime | None]
) -> list[datetime]:
    """Times of day told aloud, in any order, on one line. `times` and `said`, when each was told, are of one
    day, whichever; `values`: what was read.

    Nothing lies after it was told; a log of the day before is known by temperatures that fall in its order.
    Without `said` the order counts.
    """
    if None not in said:
        told = _visit([when for when in said if when is not None])
        latest = [_last_before(when, end + _AHEAD) for when, end in zip(times, told, strict=True)]
        one_day = list(times) == sorted(times)
        return list(times) if one_day and not _falls(latest, values) and _falls(times, values) else latest
    line = in_order(times)
    return line if line[-1] - line[0] <= _NIGHT else _closest(times)


def _visit(said: Sequence[datetime]) -> list[datetime]:
    """When utterances were said, one after another; a step back of more than half a day is over midnight."""
    line: list[datetime] = []
    for when in said:
        back = min(0, (when - line[-1] + _DAY / 2) // _DAY) if line else 0
        line.append(when - back * _DAY)
    return line


def _last_before(when: datetime, end: datetime) -> datetime:
    """The last time that a clock showed this before `end`."""
    return end - (end - when) % _DAY


def _falls(times: Sequence[datetime], values: Sequence[float]) -> bool:
    """Whether no value is over one that was read before it."""
    in_time = [value for _, value in sorted(zip(times, values, strict=True), key=lambda pair: pair[0])]
    return all(later <= earlier for earlier, later in pairwise(in_time))


def _closest(times: Sequence[datetime]) -> list[datetime]:
    """Times moved to the next day so that they lie as close together as can be."""
    in_time = sorted(set(times))
    gaps = [(in_time[(n + 1) % len(in_time)] - one) % _DAY for n, one in enumerate(in_time)]
    longest = max(range(len(gaps)), key=lambda n: (gaps[n], n))
    first = in_time[(longest + 1) % len(in_time)]
    return [when + _DAY if when < first else when for when in times]

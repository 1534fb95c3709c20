"""Times of day in the ways they are printed: `11:45`, `9.15`, `1145`, `4 30 PM`."""

from __future__ import annotations

import re

from extract.numerals import Number
from extract.text import Token


def colon(text: str, i: int) -> Number | None:
    parts = text.split(":")
    if all(part.isdigit() for part in parts[:2]) and int(parts[0]) < 24 and int(parts[1]) < 60:
        hour, minute = int(parts[0]), int(parts[1])
        return Number(i, i + 1, hour * 100.0 + minute, clock=(hour, minute), sure_clock=True)
    return None


def hour_minute(hour: int, rest: str) -> tuple[int, int] | None:
    minute = int(rest)
    return (hour, minute) if 0 <= hour < 24 and minute < 60 else None


def clock_of(value: int) -> tuple[int, int] | None:
    """Hour and minute of a figure printed without a mark: 915, 1145."""
    hour, minute = divmod(value, 100)
    return (hour, minute) if 1 <= hour < 24 and minute < 60 and value >= 100 else None


def split_time(line: list[Token], i: int) -> Number | None:
    """`4 30 PM`: a time of day printed in two pieces."""
    minutes, half = line[i + 1].low, line[i + 2].low if i + 2 < len(line) else ""
    if half not in ("am", "pm", "a.m", "p.m", "o'clock") or not re.fullmatch(r"[0-5]\d", minutes):
        return None
    if not 1 <= int(line[i].low) <= 12:
        return None
    pair = (int(line[i].low), int(minutes))
    return Number(i, i + 2, pair[0] * 100.0 + pair[1], clock=pair, codes=("split_number",))

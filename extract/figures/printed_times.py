"""Times of day in the ways they are printed: `11:45`, `9.15`, `1145`, `4 30 PM`."""

from __future__ import annotations

import re

from extract.words.numerals import Number
from extract.words.text import Token, word_set


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


_LEADS = word_set("""out toss tossed discard discards by since until till before due gone done started starts
start began begin made put pulled opened cut in time ends end back clock left dropped delivered arrived""")
"""What stands before a time, so that `1 40` behind it is no 140."""
_NUMBERED = word_set("""drawer cooler freezer door bay unit well shelf station warmer room case rack cabinet
table window pan tray chest bucket cart stall basin compartment sink number tank""")
"""What is numbered, so that the 3 of `drawer 3 41` is its number."""
_DATED = word_set("""mon tue tues wed thu thur thurs fri sat sun monday tuesday wednesday thursday friday
saturday sunday use date dated harvested harvest sold exp expires expired sell best opened prep prepped
received""")


def split_time(line: list[Token], i: int) -> Number | None:
    """`4 30 PM`, `out at 9 40`: a time of day printed in two pieces; `use by 11 28`: a date."""
    hour, minutes, half = line[i].low, line[i + 1].low, line[i + 2].low if i + 2 < len(line) else ""
    before = line[i - 1].low if i else ""
    if not hour.isdigit() or len(hour) > 2 or not 1 <= int(hour) <= 23:
        return None
    if int(hour) > 12:
        return _by_24_hours(line, i)
    if before in _DATED and re.fullmatch(r"[1-9]|[12]\d|3[01]", minutes) and half not in _HALVES:
        return Number(i, i + 2, 0.0, date=True)
    if not re.fullmatch(r"[0-5]\d", minutes):
        return None
    pair = (int(hour), int(minutes))
    if half in _HALVES:
        return Number(i, i + 2, pair[0] * 100.0 + pair[1], clock=pair, codes=("split_number",))
    if before in _NUMBERED or before in ("minus", "negative"):
        return None
    listed = (half.isdigit() and len(half) <= 2) or (i > 0 and line[i - 1].kind == "number")
    lone = pair[0] < 3 or pair[1] == 0 or listed
    if lone and before not in _LEADS:
        return None
    return Number(i, i + 2, pair[0] * 100.0 + pair[1], clock=pair, sure_clock=True)


def _by_24_hours(line: list[Token], i: int) -> Number | None:
    """`at 18 41`, `it's 13 30`, or between marks: `my probe, 15 40, 49`."""
    hour, minutes = line[i].low, line[i + 1].low
    before = line[i - 1].low if i else ""
    led = before in _LEADS or before in ("at", "now") or (before == "'s" and line[i - 2].low == "it")
    alone = (not i or line[i - 1].kind == "mark") and (i + 2 == len(line) or line[i + 2].kind == "mark")
    if not re.fullmatch(r"[0-5]\d", minutes) or not (led or alone):
        return None
    pair = (int(hour), int(minutes))
    return Number(i, i + 2, pair[0] * 100.0 + pair[1], clock=pair, sure_clock=True)


_HALVES = frozenset(("am", "pm", "a.m", "p.m", "o'clock"))

"""Times of day said in words: `noon`, `quarter past two`, `eighteen minutes past three`."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.words.line import Line
from extract.words.numerals import Number


def said_times(line: Line, found: list[Figure]) -> list[Figure]:
    """`noon`, `midnight`, `quarter past two`, `ten to three`, `eighteen minutes past three`, `20 past 10`."""
    tokens = line.tokens
    made: list[Figure] = []
    for i, token in enumerate(tokens):
        low = token.low
        if low in ("noon", "midnight") and not (made and made[-1].last == i + 1):
            clock = "12:00" if low == "noon" else "00:00"
            number = Number(i, i + 1, 12.0 if low == "noon" else 0.0, sure_clock=True, words=True)
            made.append(Figure(number, i, i + 1, number.value, role="clock", clock=clock))
        elif low in ("past", "after", "to", "till", "of") and 0 < i < len(tokens) - 1:
            minutes = _minutes_before(found, line, i)
            if minutes is not None and low in ("past", "after") and tokens[i + 1].low in ("noon", "midnight"):
                pair = (12 if tokens[i + 1].low == "noon" else 0, minutes[0])
                number = Number(minutes[1], i + 2, 0.0, clock=pair, sure_clock=True, words=True)
                found[:] = [f for f in found if not (minutes[1] <= f.first < i)]
                at = f"{pair[0]:02d}:{pair[1]:02d}"
                made.append(Figure(number, minutes[1], i + 2, 0.0, role="clock", clock=at))
                continue
            hour = next((f for f in found if f.first == i + 1 and f.number.clock and f.unit is None), None)
            if minutes is None or hour is None or hour.value > 12 or hour.value != int(hour.value):
                continue
            if low == "of" and minutes[0] > 30:
                continue
            total = int(hour.value) * 60 + (minutes[0] if low in ("past", "after") else -minutes[0])
            pair = (total // 60 % 24, total % 60)
            number = Number(minutes[1], hour.last, 0.0, clock=pair, sure_clock=True, words=True)
            found[:] = [f for f in found if f is not hour and not (minutes[1] <= f.first < i)]
            made.append(Figure(number, minutes[1], hour.last, 0.0))
    return made


def _minutes_before(found: list[Figure], line: Line, i: int) -> tuple[int, int] | None:
    end = i
    if line.tokens[i - 1].low in ("minutes", "minute"):
        end = i - 1
    low = line.tokens[end - 1].low
    first = end - 1
    if low in ("quarter", "half") and end == i:
        if first and line.tokens[first - 1].low == "a":
            first -= 1
        return (15 if low == "quarter" else 30), first
    figure = next((f for f in found if f.last in (i, end) and f.unit in (None, "minute")), None)
    if figure is None or not 1 <= figure.value <= 30 or figure.value != int(figure.value):
        return None
    if end == i and figure.unit is None and figure.value % 5:
        return None
    if figure.unit is None and not figure.number.words and not _at_a_time(line, i, figure):
        return None
    return int(figure.value), figure.first


def _at_a_time(line: Line, i: int, figure: Figure) -> bool:
    """`at 20 past 10`, and not `41 to 45`, `38 to 40`."""
    before = line.tokens[figure.first - 1].low if figure.first else ""
    return line.tokens[i].low == "past" and before in (
        "at",
        "by",
        "since",
        "around",
        "about",
        "it's",
        "'s",
        "is",
    )

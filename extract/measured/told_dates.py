"""How many days food has been kept, by the date that it was made or opened on and the date told for today."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from extract.checks.date_marks import days_allowed
from extract.measured.date_marked import dated
from extract.scene import Read
from extract.words.line import Line
from extract.words.naming import item_name
from extract.words.numerals import MONTHS, ORDINALS
from shared.foods import classify
from shared.rules.model import Rules
from shared.types import Evidence, Question

_SECTION = "3-501.18"
_TEENS = (
    "tenth", "eleventh", "twelfth", "thirteenth", "fourteenth", "fifteenth", "sixteenth", "seventeenth",
    "eighteenth", "nineteenth",
)  # fmt: skip
_TWENTIES = ["twentieth", *(f"twenty {one}" for one in ORDINALS)]
_SPOKEN = {name: n for n, name in enumerate([*ORDINALS, *_TEENS, *_TWENTIES, "thirtieth", "thirty first"], 1)}
_DAY = rf"(?P<day>\d{{1,2}}(?:st|nd|rd|th)?|{'|'.join(sorted(_SPOKEN, key=len, reverse=True))})\b"
_MONTH = (
    rf"(?P<month>{'|'.join(name[:3] + f'(?:{name[3:]})?' if name[3:] else name for name in MONTHS)})\b\.?"
)
_DATE = (
    rf"(?:(?P<slash>\d{{1,2}}/\d{{1,2}})(?:/\d{{2,4}})?(?![\d/])|{_MONTH} (?:the )?{_DAY}"
    rf"|the {_DAY.replace('?P<day>', '?P<alone>')}(?: of {_MONTH.replace('?P<month>', '?P<of>')})?)"
)
_TODAY = re.compile(rf"\btoday(?: is|'s|’s)(?: on)?,? {_DATE}", re.I)
_MADE = re.compile(
    r"\b(?:date marked|dated|opened|made|prepped|prepared|cooked|sliced|thawed|marked|prep date|date)"
    rf"(?: on| is| was| of| says| for|,|:)* {_DATE}",
    re.I,
)
_STOOD_STILL = re.compile(r"\b(?:freez\w*|froze\w*|discard\w*|use by|best by|expires?|tossed)\b", re.I)
"""Words of dates that are not those of making, or of days that do not count."""
_LONGEST = 200
"""Days beyond which two dates are of other years than is told: common practice, no source."""


def kept_too_long(reads: Sequence[Read], rules: Rules) -> Iterator[Question]:
    """About each food whose told dates make it older than the rules allow (3-501.17, 3-501.18)."""
    today: re.Match[str] | None = None
    for n, read in enumerate(reads):
        text = read.line.text
        today = next(_TODAY.finditer(text), today)
        if today is None or _STOOD_STILL.search(text):
            continue
        for made in _MADE.finditer(text):
            day, foods = _day_of_use(made, today), _foods(read.line, made.start())
            if day is None or day <= days_allowed(rules) or not _must_be_used(foods):
                continue
            food = foods[-1] if foods else "the food"
            told = f"“{made[0]}” makes this day {day}, and {days_allowed(rules)} are allowed"
            evidence = (Evidence(utterance=n, span=made.span()),)
            yield Question(f"{food}: {told}. Is it past its date?", evidence, (_SECTION,))


def tells_its_days(line: Line) -> bool:
    """Whether two dates tell how long food was kept, so that a span beside them is the one allowed."""
    return bool(_TODAY.search(line.text) and _MADE.search(line.text))


def _must_be_used(foods: list[str]) -> bool:
    """Whether the days of one of the foods, or of one that is not named, are counted."""
    known = [classify(food) for food in foods]
    return dated(foods) and all(food is None or food.needs_control("storage") is not False for food in known)


def _foods(line: Line, before: int) -> list[str]:
    foods = [
        item_name(line, chunk)
        for chunk in line.chunks
        if chunk.known_food and chunk.last > chunk.first and line.tokens[chunk.first].start < before
    ]
    return [re.sub(r"\s+(?:prep|use|made)?\s*date.*$", "", food) for food in foods if food][-1:]


def _day_of_use(made: re.Match[str], today: re.Match[str]) -> int | None:
    one, two = _told(made), _told(today)
    if one is None or two is None:
        return None
    month = two[0] or one[0]
    if month is None:
        return None
    first, last = _date(one[0] or month, one[1]), _date(month, two[1])
    if first is None or last is None:
        return None
    if last < first and two[0] is None:
        last = _date(month % 12 + 1, two[1]) or last  # `dated February 25, today is the 9th`
    if last < first and one[0] is not None and two[0] is not None:
        last += timedelta(days=365)
    days = (last - first).days + 1
    return days if 0 < days <= _LONGEST else None


def _told(found: re.Match[str]) -> tuple[int | None, int] | None:
    """Month and day; no month where only a day is told."""
    if found["slash"]:
        month, _, day = found["slash"].partition("/")
        return int(month), int(day)
    name = (found["month"] or found["of"] or "")[:3].lower()
    months = [n for n, full in enumerate(MONTHS, 1) if name and full.startswith(name)]
    said = (found["day"] or found["alone"] or "").lower()
    day_of = _SPOKEN.get(said) or int(re.sub(r"\D", "", said) or 0)
    return (months[0] if months else None, day_of) if day_of else None


def _date(month: int, day: int) -> date | None:
    """That day of a year of 365 days."""
    try:
        return date(2001, month, day)
    except ValueError:
        return None

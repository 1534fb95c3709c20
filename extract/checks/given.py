"""Figures as typed: "15 s", "76 degF", "135 degF@14:00". Errors say what to type instead."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from extract.checks.cooling_stages import Point
from extract.checks.days import in_order, turned_round
from extract.checks.exactly import seconds
from extract.checks.measured import COLDEST
from shared.errors import InputError
from shared.types import Quantity

_UNITS = {
    "degF": ("degf", "f", "°f", "fahrenheit", "deg f", "degrees f", "degrees fahrenheit"),
    "degC": ("degc", "c", "°c", "celsius", "deg c", "degrees c", "degrees celsius"),
    "ppm": ("ppm", "mg/l", "mg_per_l", "parts per million"),
    "pH": ("ph",),
    "aw": ("aw", "a_w"),
    "inch": ("inch", "inches", "in", '"'),
    "foot": ("foot", "feet", "ft"),
    "cm": ("cm", "centimeter", "centimeters"),
    "mm": ("mm", "millimeter", "millimeters"),
    "foot_candle": ("foot_candle", "foot_candles", "foot candle", "foot candles", "fc"),
    "lux": ("lux", "lx"),
    "second": ("second", "seconds", "s", "sec"),
    "minute": ("minute", "minutes", "min"),
    "hour": ("hour", "hours", "h", "hr", "hrs"),
    "day": ("day", "days", "d"),
    "psi": ("psi",),
    "kPa": ("kpa",),
}
_KIND_OF = {
    "degF": "temperature", "degC": "temperature", "ppm": "concentration", "pH": "ph", "aw": "water_activity",
    "inch": "length", "foot": "length", "cm": "length", "mm": "length", "foot_candle": "illuminance",
    "lux": "illuminance", "second": "duration", "minute": "duration", "hour": "duration", "day": "duration",
    "psi": "pressure", "kPa": "pressure",
}  # fmt: skip
_BY_NAME = {name: unit for unit, names in _UNITS.items() for name in names}
_FIGURE = re.compile(r"\s*([+\-−]?(?:\d+(?:\.\d*)?|\.\d+))\s*(.*?)\s*\Z", re.DOTALL)
_CLOCK = re.compile(r"(\d{1,2})[:.](\d{2})(?::(\d{2}))?\Z")
_TEMPERATURES = ("degF", "degC")
_TIMES = ("second", "minute", "hour", "day")


def unit(text: str) -> str:
    """The unit a person means, as Pint writes it. Raises `InputError` with the units there are."""
    found = _BY_NAME.get(" ".join(text.lower().split()))
    if found is None:
        raise InputError(f"unknown unit {text!r}: use one of {', '.join(_UNITS)}")
    return found


def kind_of(unit: str) -> str:
    """What a unit measures, as readings name it."""
    return _KIND_OF[unit]


def quantity(text: str, *, allowed: Sequence[str] = tuple(_UNITS)) -> Quantity:
    """A figure with its unit, from "76 degF" or "0.5 in". Raises `InputError`."""
    match = _FIGURE.match(text)
    if match is None or not match[2]:
        raise InputError(f"{text!r} is not a figure with its unit: write it as {_example(allowed)!r}")
    value = float(match[1].replace("−", "-"))
    named = unit(match[2])
    if named not in allowed:
        raise InputError(f"{text!r} is in {named}: a figure in {' or '.join(allowed)} is wanted")
    if not math.isfinite(value):
        raise InputError(f"{text!r} is not a number that can be measured")
    return Quantity(value, named)


def number(text: str, name: str) -> float:
    """A figure without its unit, from "41" or "48.5"; `name` is the option's. Raises `InputError`."""
    try:
        value = float(text.replace("−", "-"))
    except ValueError:
        value = math.nan
    if not math.isfinite(value) or abs(value) > 1e6:
        raise InputError(f"{name} {text!r} is not a number: write it as 41 or 48.5")
    return value


def temperature(text: str) -> Quantity:
    """A temperature, from "76 degF", or an offset. Raises `InputError`, also for one under absolute zero."""
    given = quantity(text, allowed=_TEMPERATURES)
    if given.value < COLDEST[given.unit]:
        raise InputError(f"{text!r} cannot be: nothing is colder than {COLDEST[given.unit]:g} {given.unit}")
    return given


def length(text: str) -> Quantity:
    """A length, from "0.5 inch"."""
    return quantity(text, allowed=("inch", "foot", "cm", "mm"))


def span(text: str) -> float:
    """A time in seconds, from "15 s" or "112 min"."""
    given = quantity(text, allowed=_TIMES)
    if given.value < 0:
        raise InputError(f"{text!r} is less than nothing: write how long it was held, as '15 s'")
    return seconds(given.value, given.unit)


def _example(allowed: Sequence[str]) -> str:
    if allowed[0] in _TIMES:
        return "15 s"
    return "0.5 inch" if "inch" in allowed and "degF" not in allowed else "76 degF"


def points(
    texts: Sequence[str], *, on: date, zone: tzinfo | None, started: str | None = None
) -> tuple[tuple[Point, ...], datetime | None]:
    """Readings with times from "135 degF@14:00", and when the clock started, on one line of time.

    A time is "14:00" or whole by ISO 8601. Of clock times without a date one that is earlier than the one
    before it is of the next day. `on` is the day of the first of them; `zone`: None is that of this machine.
    Raises `InputError`, also where the order cannot be meant, for two figures of one time, and for a clock
    time that a change of daylight time brings twice or leaves out.
    """
    read = [_timed(text) for text in texts]
    whens = [when for _, when in read]
    values = [given.value for given, _ in read]
    dated = {_CLOCK.match(when) is None for when in [*whens, *([started] if started is not None else [])]}
    if len(dated) > 1:
        bare = next(when for when in [*whens, started or ""] if _CLOCK.match(when))
        raise InputError(f"{bare!r} has no date and another time has one: give all of them theirs, or none")
    if dated == {True}:
        at = [_whole(when) for when in whens]
        begun = _whole(started) if started is not None else None
    else:
        at, begun = _without_dates(whens, values, started, on)
    times = [_in_zone(when, zone) for when in at]
    found = tuple(Point(when, given.value, given.unit) for (given, _), when in zip(read, times, strict=True))
    _refuse_two_at_once(texts, found)
    return found, _in_zone(begun, zone) if begun is not None else None


def _without_dates(
    whens: Sequence[str], values: Sequence[float], started: str | None, on: date
) -> tuple[list[datetime], datetime | None]:
    """Clock times on the days that their order tells. Raises `InputError` where they may be of other days."""
    day = timedelta(days=1)
    clocks = [_on_clock(when, on) for when in whens]
    line = in_order(clocks)
    if turned_round(clocks, values) or line[-1] - line[0] >= day:
        raise InputError(
            f"the times, from {whens[0]} on, do not tell their days: give the readings in the order in which "
            f"they were taken, or each time with its date, as {clocks[0].isoformat(timespec='minutes')}"
        )
    if started is None:
        return line, None
    begun = _on_clock(started, on)
    if begun <= line[0]:
        return line, begun
    if begun < line[-1]:
        raise InputError(
            f"--started {started} is later than the first reading, at {whens[0]}: give each time with its "
            f"date, as {begun.isoformat(timespec='minutes')}"
        )
    return [when + day for when in line], begun


def _refuse_two_at_once(texts: Sequence[str], points: Sequence[Point]) -> None:
    """Raises `InputError` where two readings that differ have one time."""
    for n, point in enumerate(points):
        for text, other in zip(texts, points[:n], strict=False):
            if other.at == point.at and (other.value, other.unit) != (point.value, point.unit):
                raise InputError(
                    f"{text!r} and {texts[n]!r} are two figures of one time: leave out the one that is wrong"
                )


def _timed(text: str) -> tuple[Quantity, str]:
    figure, at, when = text.rpartition("@")
    if not at:
        raise InputError(f"{text!r} has no time: write a reading as '135 degF@14:00'")
    return temperature(figure), when.strip()


def _on_clock(text: str, on: date) -> datetime:
    match = _CLOCK.match(text)
    assert match is not None
    hour, minute, second = (int(part or 0) for part in match.groups())
    try:
        return datetime.combine(on, time(hour, minute, second))
    except ValueError as error:
        raise _no_time(text) from error


def _whole(text: str) -> datetime:
    try:
        return datetime.fromisoformat(text)
    except ValueError as error:
        raise _no_time(text) from error


def _no_time(text: str) -> InputError:
    return InputError(f"{text!r} is not a time: write 14:00, or 2026-05-04T14:00-05:00")


def _in_zone(when: datetime, zone: tzinfo | None) -> datetime:
    """A time by the clock of a zone. Raises `InputError` where that clock shows it twice or never."""
    if when.tzinfo is not None:
        return when
    first, second = (
        each.astimezone() if zone is None else each.replace(tzinfo=zone)
        for each in (when, when.replace(fold=1))
    )
    if first.utcoffset() != second.utcoffset():
        there = first.astimezone(UTC).astimezone(first.tzinfo).replace(tzinfo=None) == when
        why = "comes twice that night" if there else "does not come that night"
        raise InputError(
            f"{when:%Y-%m-%d %H:%M} {why}, as daylight time changes: write it with its offset, as "
            f"{first.isoformat(timespec='minutes')}"
        )
    return first

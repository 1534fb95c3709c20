"""Figures as typed: "15 s", "76 degF", "135 degF@14:00". Errors say what to type instead."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from datetime import date, datetime, time, timedelta, tzinfo

from extract.checks.cooling import Point
from extract.checks.exactly import seconds
from extract.checks.measured import Quantity
from shared.errors import InputError

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


def temperature(text: str) -> Quantity:
    """A temperature, from "76 degF"."""
    return quantity(text, allowed=_TEMPERATURES)


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


def moment(text: str, *, on: date, zone: tzinfo) -> datetime:
    """A time: "14:00" on the given day, or a whole ISO 8601 time with its offset. Raises `InputError`."""
    match = _CLOCK.match(text.strip())
    try:
        if match is not None:
            hour, minute, second = (int(part or 0) for part in match.groups())
            return datetime.combine(on, time(hour, minute, second), zone)
        whole = datetime.fromisoformat(text.strip())
    except ValueError as error:
        raise InputError(f"{text!r} is not a time: write 14:00, or 2026-05-04T14:00-05:00") from error
    return whole if whole.tzinfo is not None else whole.replace(tzinfo=zone)


def points(texts: Sequence[str], *, on: date, zone: tzinfo) -> tuple[Point, ...]:
    """Readings with times from "135 degF@14:00", on one line of time.

    Clock times without a date may run over midnight: the longest stretch without a reading is taken to
    lie before the first one, so the order in which they are given does not matter. `on` is the day of the
    first reading.
    """
    read = []
    for text in texts:
        figure, at, when = text.rpartition("@")
        if not at:
            raise InputError(f"{text!r} has no time: write a reading as '135 degF@14:00'")
        given = temperature(figure)
        read.append(
            (Point(moment(when, on=on, zone=zone), given.value, given.unit), bool(_CLOCK.match(when.strip())))
        )
    if all(is_clock for _, is_clock in read):
        return _over_midnight([point for point, _ in read])
    return tuple(point for point, _ in read)


def _over_midnight(read: Sequence[Point]) -> tuple[Point, ...]:
    times = sorted({point.at for point in read})
    if len(times) < 2:
        return tuple(read)
    day = timedelta(days=1)
    gaps = [(times[(place + 1) % len(times)] - times[place]) % day for place in range(len(times))]
    longest = max(range(len(gaps)), key=lambda place: (gaps[place], place))
    first = times[(longest + 1) % len(times)]
    return tuple(
        Point(point.at + day, point.value, point.unit) if point.at < first else point for point in read
    )

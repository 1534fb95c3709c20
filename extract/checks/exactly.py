"""Exact conversions inside one system of units, such as hours to minutes; never across printed pairs."""

from __future__ import annotations

from extract.checks.comparing import exact
from shared.rules.model import Limit

_INCH_MM = 25.4
_SECONDS = {"second": 1, "minute": 60, "hour": 3600, "day": 86400}
_INCHES = {"inch": 1, "foot": 12}
_MILLIMETRES = {"mm": 1, "cm": 10}
_SYSTEMS = (_SECONDS, _INCHES, _MILLIMETRES)


def seconds(value: float, unit: str) -> float:
    """A time in seconds. Raises `KeyError` for a unit that is no time."""
    return value * _SECONDS[unit]


def factor(unit: str, to: str) -> float | None:
    """What one `unit` is in `to`, exactly; None when the two are of different systems."""
    return next((sizes[unit] / sizes[to] for sizes in _SYSTEMS if unit in sizes and to in sizes), None)


def printed_value(value: float, unit: str, row: Limit) -> tuple[float, str, float]:
    """The value, its unit and the limit's figure in that unit.

    In the unit read where the code prints a figure for it; else in a printed unit that is an exact multiple
    (days to hours); only a length whose system the code does not print at all crosses by 1 in = 25.4 mm.
    """
    if unit in row.values:
        return value, unit, row.values[unit]
    for printed, figure in row.values.items():
        one = factor(unit, printed)
        if one is not None:
            return exact(value * one), printed, figure
    printed, figure = next(iter(row.values.items()))
    return exact(across(value, unit, printed)), printed, figure


def across(value: float, unit: str, to: str) -> float:
    """Lengths between inch and metric units (1 in = 25.4 mm exactly, NIST SP 811)."""
    inches = _INCHES | {length: size / _INCH_MM for length, size in _MILLIMETRES.items()}
    return value * inches[unit] / inches[to]

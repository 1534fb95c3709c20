"""Hand-built inputs of the tests of this folder."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import MappingProxyType

from extract.checks.cooling_stages import Point
from shared.foods import Food
from shared.rules.model import Limit, Rules

HERE = Path(__file__).parent


def at(clock: str) -> datetime:
    """A time of an invented day."""
    hour, minute = clock.split(":")
    return datetime(2026, 5, 4, int(hour), int(minute), tzinfo=UTC)


def point(text: str) -> Point:
    """A reading from "135 degF@14:00"."""
    figure, clock = text.split("@")
    value, unit = figure.split()
    return Point(at(clock), float(value), unit)


def curve(values: list[float], *, every_min: float, unit: str = "degF", start: str = "14:00") -> list[Point]:
    """Readings at equal steps of time."""
    return [
        Point(at(start) + timedelta(minutes=every_min * n), value, unit) for n, value in enumerate(values)
    ]


def food(*tags: str, tcs: bool | None = True) -> Food:
    """A food of the given kinds, whatever it is called."""
    return Food("test food", "test food", "test", frozenset(tags), tcs, tcs_when_cooked=False)


def only(rules: Rules, row: Limit) -> Rules:
    """The rules as if this limit were the only one: no other row, table or question beside it."""
    return replace(
        rules,
        limits=MappingProxyType({row.id: replace(row, in_force=True)}),
        by_stage=MappingProxyType({(row.stage, row.quantity): (replace(row, in_force=True),)}),
        tables=MappingProxyType({}),
        ambiguities=MappingProxyType({}),
        sanitizers=MappingProxyType({}),
    )

"""Holding a reading that the inspector changed against its limit again, with the thermometer of that day."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from extract.checks import Instrument, Measured, Quantity, check, instrument
from review_api.api.shown import Reading
from review_api.store.values import to_json
from shared.rules.model import Rules

_ONE_DEGF = {"degF": 1.0, "degC": 5 / 9}
"""A difference of 1 °F in each unit."""


def recheck(reading: Mapping[str, Any], rules: Rules, thermometer: Instrument) -> dict[str, Any]:
    """The check of the reading as it is now, as JSON."""
    names = ("kind", "value", "unit", "stage", "item", "place", "agent")
    measured = Measured(**{name: reading[name] for name in names})
    return to_json(check(measured, rules, instrument=thermometer))


def thermometer_of(readings: Iterable[Reading], *, accuracy_degf: float | None) -> Instrument:
    """The thermometer as its ice-water check of the day shows it, with the accuracy that the facts state."""
    ice = next(
        (
            Quantity(item.value, item.unit)
            for item in readings
            if item.stage == "thermometer_check" and item.unit in _ONE_DEGF and abs(_degf(item) - 32) <= 10
        ),
        None,
    )
    accuracy = {unit: accuracy_degf * size for unit, size in _ONE_DEGF.items()} if accuracy_degf else None
    return instrument(ice=ice, accuracy=accuracy)


def _degf(reading: Reading) -> float:
    return reading.value if reading.unit == "degF" else reading.value * 9 / 5 + 32

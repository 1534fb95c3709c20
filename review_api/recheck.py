"""Holding a reading that the inspector changed against its limit again, with the thermometer of that day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from extract.checks import Instrument, Measured, check, of_the_day
from extract.checks.thermometer import BY_GAUGE, on_a_gauge
from review_api.api.shown import Facts, Reading
from review_api.store.values import to_json
from shared.rules.model import Rules


def thermometer(readings: Sequence[Reading], facts: Facts) -> Instrument:
    """The inspector's thermometer, as its checks of the day show it; rejected readings tell nothing."""
    standing = [reading for reading in readings if reading.decision.state != "rejected"]
    return of_the_day(standing, accuracy_degf=facts.thermometer_accuracy_degf, elevation_m=facts.elevation_m)


def recheck(reading: Mapping[str, Any], rules: Rules, instrument: Instrument) -> dict[str, Any]:
    """The check of the reading as it is now, as JSON."""
    names = ("kind", "value", "unit", "stage", "item", "place", "agent")
    measured = Measured(**{name: reading[name] for name in names})
    used = on_a_gauge(instrument) if measured.stage in BY_GAUGE else instrument
    return to_json(check(measured, rules, instrument=used))

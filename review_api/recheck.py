"""Holding a reading that the inspector changed against its limit again, with the thermometer of that day."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from extract.checks import Instrument, Measured, check
from review_api.store.values import to_json
from shared.rules.model import Rules


def recheck(reading: Mapping[str, Any], rules: Rules, thermometer: Instrument) -> dict[str, Any]:
    """The check of the reading as it is now, as JSON."""
    names = ("kind", "value", "unit", "stage", "item", "place", "agent")
    measured = Measured(**{name: reading[name] for name in names})
    return to_json(check(measured, rules, instrument=thermometer))

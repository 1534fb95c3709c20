"""How wide an air gap must be: so many times the inlet's inside diameter, and at least a fixed figure."""

from __future__ import annotations

from extract.checks.comparing import exact
from extract.checks.exactly import across
from shared.rules.model import Limit
from shared.types import Quantity


def required_gap(row: Limit, diameter: Quantity | None, unit: str) -> float:
    """The least gap in `unit` for an inlet of that diameter; without one, the least that any inlet needs."""
    least = row.values[unit] if unit in row.values else across(row.values["inch"], "inch", unit)
    if diameter is None or row.times_diameter is None:
        return exact(least)
    return exact(max(least, row.times_diameter * across(diameter.value, diameter.unit, unit)))

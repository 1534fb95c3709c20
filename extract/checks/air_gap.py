"""How wide an air gap must be: twice the inlet's inside diameter, and at least 1 inch (5-202.13)."""

from __future__ import annotations

from extract.checks.measured import Quantity

_INCH_IN = {"inch": 1.0, "foot": 1 / 12, "cm": 2.54, "mm": 25.4}
_LEAST = {"inch": 1.0, "foot": 1 / 12, "cm": 2.5, "mm": 25.0}
"""The code prints 25 mm for 1 inch."""


def required_gap(diameter: Quantity | None, unit: str) -> float:
    """The least gap in `unit` for an inlet of that diameter; without one, the least that any inlet needs."""
    least = _LEAST[unit]
    if diameter is None:
        return least
    across = diameter.value / _INCH_IN[diameter.unit] * _INCH_IN[unit]
    return max(least, round(2 * across, 6))

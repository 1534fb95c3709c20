"""What the day's checks of a thermometer say of it: its offset in ice water and in boiling water."""

from __future__ import annotations

from collections.abc import Mapping

from extract.checks.boiling import boiling_point
from extract.checks.comparing import exact
from extract.checks.measured import Instrument, Quantity

ICE = {"degF": 32.0, "degC": 0.0}
"""Crushed ice and water, by definition of the scales at sea level; height changes it by less than 0.01 °F."""


def instrument(
    *,
    ice: Quantity | None = None,
    boiling: Quantity | None = None,
    elevation_m: float = 0.0,
    accuracy: Mapping[str, float] | None = None,
) -> Instrument:
    """The thermometer as its checks of the day show it; readings are corrected before they are compared.

    One check gives an offset for the whole range, both give a straight line between them. Raises `ValueError`
    for a height where nobody lives.
    """
    low = _over(ice, ICE[ice.unit]) if ice is not None else {}
    high = _over(boiling, boiling_point(elevation_m, boiling.unit)) if boiling is not None else {}
    return Instrument(accuracy=accuracy or {}, offset=low or high, offset_boiling=high if low else {})


def _over(read: Quantity, truth: float) -> dict[str, float]:
    return {read.unit: exact(read.value - truth)}

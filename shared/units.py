"""The units of the trade, through one Pint registry.

`convert` is for arithmetic and display. A reading is never converted before it is held against a
limit: codes print rounded pairs (135 °F and 57 °C), so it is compared in the unit it was read in.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint

_DEFINITIONS = (
    "ppm = 1e-6 = ppm",
    "mg_per_L = ppm",  # dilute solutions in water, as food codes use it
    "foot_candle = 10.763910416709722 * lux = fc",  # lm/ft², 1 ft = 0.3048 m (NIST SP 811)
    "pH = []",
    "aw = []",
)

WRITTEN = {
    "degF": "°F", "degC": "°C", "ppm": "ppm", "pH": "pH", "inch": "in", "foot": "ft", "foot_candle": "fc",
    "lux": "lux", "minute": "min", "hour": "h", "day": "days", "second": "s", "psi": "psi", "kPa": "kPa",
    "aw": "a_w", "cm": "cm", "mm": "mm",
}  # fmt: skip
"""How a unit is printed for a person."""


@cache
def registry() -> pint.UnitRegistry[float]:
    """The project's unit registry: Pint's own definitions and the few the trade adds."""
    import pint  # loaded at first use: most calls only print figures and start faster without it

    units: pint.UnitRegistry[float] = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
    for definition in _DEFINITIONS:
        name = definition.split("=")[0].strip()
        if name not in units:
            units.define(definition)
    return units


def convert(value: float, unit: str, to: str) -> float:
    """`value` in `to`. Raises `pint.DimensionalityError` when the units measure different things."""
    if unit == to:
        return value
    return float(registry().Quantity(value, unit).to(to).magnitude)


def written(value: float, unit: str) -> str:
    """The quantity as a person reads it: `41 °F`, `200 ppm`, `pH 7.5`."""
    number = f"{value:g}"
    if unit in ("pH", "aw"):
        return f"{WRITTEN[unit]} {number}"
    return f"{number} {WRITTEN.get(unit, unit)}"

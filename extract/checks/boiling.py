"""The boiling point of water at a height, for checking a thermometer away from sea level.

Pressure: the barometric formula of the U.S. Standard Atmosphere 1976, troposphere. Boiling point: the
vapour pressure equation of Antoine for water, 1 to 100 °C, with the constants of Dortmund Data Bank as
handbooks print them (from memory), shifted so that 101.325 kPa gives exactly 100 °C, the figure codes
print.
"""

from __future__ import annotations

import math

_A, _B, _C = 8.07131, 1730.63, 233.426  # mmHg, °C
_MMHG_PER_PA = 760 / 101_325
_SEA_LEVEL_PA = 101_325.0
_SHIFT_DEGC = 100.0 - (_B / (_A - math.log10(760.0)) - _C)
LOWEST_M, HIGHEST_M = -430.0, 5_500.0
"""From the shore of the Dead Sea to the highest towns."""


def pressure_pa(elevation_m: float) -> float:
    """The standard atmosphere's pressure in Pa at a height in metres above the sea."""
    return float(_SEA_LEVEL_PA * (1 - 2.25577e-5 * elevation_m) ** 5.25588)


def boiling_point(elevation_m: float, unit: str = "degF") -> float:
    """The boiling point of water at that height in °C or °F, to a hundredth.

    Raises `ValueError` outside the heights at which people live. Weather moves it by up to about 1 °F.
    """
    if not LOWEST_M <= elevation_m <= HIGHEST_M:
        raise ValueError(f"{elevation_m:g} m is outside {LOWEST_M:g} to {HIGHEST_M:g} m")
    millimetres = pressure_pa(elevation_m) * _MMHG_PER_PA
    celsius = _B / (_A - math.log10(millimetres)) - _C + _SHIFT_DEGC
    return round(celsius if unit == "degC" else celsius * 9 / 5 + 32, 2)

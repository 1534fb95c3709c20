"""The boiling point of water at a height, for checking a thermometer away from sea level.

Pressure: the barometric formula of the U.S. Standard Atmosphere 1976, troposphere. Boiling point: the
saturation line of IAPWS R7-97, equation 31 (coefficients from memory; tests hold it to CoolProp's), shifted
by 0.026 °C so that 101.325 kPa gives exactly 100 °C, the figure codes print.
"""

from __future__ import annotations

from math import sqrt

_SEA_LEVEL_PA = 101_325.0
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
    celsius = 100 + saturation_k(pressure_pa(elevation_m)) - saturation_k(_SEA_LEVEL_PA)
    return round(celsius if unit == "degC" else celsius * 9 / 5 + 32, 2)


def saturation_k(pressure: float) -> float:
    """The temperature in K at which water boils under a pressure in Pa, by IAPWS R7-97, equation 31."""
    root = sqrt(sqrt(pressure / 1e6))
    e = root**2 - 17.073846940092 * root + 14.91510861353
    f = 1167.0521452767 * root**2 + 12020.82470247 * root - 4823.2657361591
    g = -724213.16703206 * root**2 - 3232555.0322333 * root + 405113.40542057
    d = 2 * g / (-f - sqrt(f**2 - 4 * e * g))
    n9, n10 = -0.23855557567849, 650.17534844798
    return float(n10 + d - sqrt((n10 + d) ** 2 - 4 * (n9 + n10 * d))) / 2

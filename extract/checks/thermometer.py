"""What the day's checks of a thermometer say of it: its offset in ice water and in boiling water."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Protocol

from extract.checks.boiling import boiling_point
from extract.checks.comparing import exact
from extract.checks.measured import BOILING, ICE, Instrument
from shared.types import Quantity


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
    only_ice = Instrument(offset=_over(ice, ICE[ice.unit]) if ice is not None else {})
    if boiling is None:
        return replace(only_ice, accuracy=accuracy or {})
    unit, point = boiling.unit, boiling_point(elevation_m, boiling.unit)
    high = _over(boiling, point)
    if ice is None:
        return Instrument(accuracy=accuracy or {}, offset=high)
    low = ICE[unit] - only_ice.true(ICE[unit], unit)
    at_sea_level = low + (high[unit] - low) * (BOILING[unit] - ICE[unit]) / (point - ICE[unit])
    return Instrument(accuracy or {}, only_ice.offset, {unit: exact(at_sea_level)})


def _over(read: Quantity, truth: float) -> dict[str, float]:
    return {read.unit: exact(read.value - truth)}


def on_a_gauge(used: Instrument) -> Instrument:
    """The same for a reading of somebody else's gauge: what one's own thermometer reads high says nothing."""
    return replace(used, offset={}, offset_boiling={})


BY_GAUGE = frozenset(("machine_wash", "machine_rinse"))
"""Stages read from the machine's own gauge where nobody says otherwise; common practice, no source."""


class CheckOfThermometer(Protocol):
    """What of a reading tells the thermometer of the day: a draft, a reading, or a decided one."""

    @property
    def kind(self) -> str: ...
    @property
    def value(self) -> float: ...
    @property
    def unit(self) -> str: ...
    @property
    def stage(self) -> str: ...
    @property
    def item(self) -> str | None: ...


def of_the_day(
    readings: Iterable[CheckOfThermometer],
    *,
    accuracy_degf: float | None = None,
    elevation_m: float | None = None,
) -> Instrument:
    """The inspector's own thermometer, as its first checks of the day in ice and in boiling water show it.

    `accuracy_degf`: plus or minus, as a difference in °F; None: the rules' own. Checks of other people's
    thermometers ("theirs", "the dial on the cooler") correct nothing, nor does boiling water where
    `elevation_m`, the height of the site, is not known.
    """
    ice: Quantity | None = None
    boiling: Quantity | None = None
    for reading in readings:
        if reading.stage != "thermometer_check" or reading.unit not in ICE or not _own(reading.item):
            continue
        found = Quantity(reading.value, reading.unit)
        if abs(reading.value - ICE[reading.unit]) <= NEAR[reading.unit]:
            ice = ice or found
        elif (
            elevation_m is not None
            and abs(reading.value - boiling_point(elevation_m, reading.unit)) <= NEAR[reading.unit]
        ):
            boiling = boiling or found
    accuracy = {unit: accuracy_degf * size for unit, size in _ONE_DEGF.items()} if accuracy_degf else None
    return instrument(ice=ice, boiling=boiling, elevation_m=elevation_m or 0.0, accuracy=accuracy)


_ONE_DEGF = {"degF": 1.0, "degC": 5 / 9}
"""A difference of 1 °F in each unit."""
NEAR = {"degF": 10.0, "degC": 5.0}
"""How far off a check may be and still be one; common practice, no source."""


def _own(item: str | None) -> bool:
    return item is not None and item.casefold().split()[:1] in (["my"], ["mine"], ["our"], ["ours"])

"""What a check is made of: the reading with the facts that belong to it, and the instrument that took it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from extract.checks.comparing import exact
from shared.foods import Food
from shared.types import Quantity


@dataclass(frozen=True, slots=True)
class Measured:
    """A reading, and what was said around it that its limit may depend on. Only the first four are needed."""

    kind: str
    """temperature, concentration, ph, length, illuminance, duration, pressure or water_activity."""
    value: float
    unit: str
    stage: str
    item: str | None = None
    food: Food | None = None
    """What `item` is; None: `shared.foods.classify(item)` is asked."""
    place: str | None = None
    agent: str | None = None
    """chlorine, quat, iodine, peracetic, lactic or hot_water."""
    held_s: float | None = None
    """Seconds for which the temperature was held, or a solution was in contact."""
    at: Quantity | None = None
    """The temperature that goes with a duration: "two hours at 134"."""
    ph: float | None = None
    """Of a sanitizing solution, or of a food beside its water activity."""
    aw: float | None = None
    """The water activity that goes with a pH."""
    water: Quantity | None = None
    """The temperature of a sanitizing solution."""
    concentration_ppm: float | None = None
    """The strength of the solution, when its temperature or pH is the reading."""
    hardness_ppm: float | None = None
    label_min: float | None = None
    """Lower end of the range that a label or approved plan gives, in the unit of what it limits."""
    label_max: float | None = None
    diameter: Quantity | None = None
    """Inside diameter of the water inlet, for an air gap."""
    elevation_m: float | None = None
    """Height of the site, for a boiling-point check."""
    says: frozenset[str] = frozenset()
    """Conditions that were said, such as `microwave`, `air_gap` or `time_plan`; docs/rules.md lists them."""


@dataclass(frozen=True, slots=True)
class Instrument:
    """A thermometer on the day: how far it reads off, and how far it may be trusted."""

    accuracy: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    """Plus or minus, by unit; a unit that is missing: the rules' own figure."""
    offset: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    """What it read over the truth in ice water that day (or in boiling water alone), by unit."""
    offset_boiling: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    """The same in water that boils at sea level, when both were checked; between the two it is straight."""

    def band(self, unit: str, otherwise: Mapping[str, float]) -> float:
        """Its accuracy in `unit`, from `otherwise` where its own is not known; 0 where there is none."""
        return _difference(self.accuracy, unit, otherwise.get(unit, 0.0))

    def true(self, value: float, unit: str) -> float:
        """What it would have read without its offset, in the same unit."""
        low = _difference(self.offset, unit, 0.0)
        if not self.offset_boiling:
            return exact(value - low) if low else value
        high = _difference(self.offset_boiling, unit, low)
        part = (value - ICE[unit]) / (BOILING[unit] - ICE[unit])
        return exact(value - low - (high - low) * part)

    def corrected(self, measured: Measured) -> Measured:
        """The reading with its temperatures as they truly were; a check of the thermometer as it stands."""
        if measured.stage == "thermometer_check" or not (self.offset or self.offset_boiling):
            return measured
        value = measured.value
        if measured.kind == "temperature":
            value = self.true(value, measured.unit)
        at, water = self._corrected(measured.at), self._corrected(measured.water)
        return replace(measured, value=value, at=at, water=water)

    def _corrected(self, beside: Quantity | None) -> Quantity | None:
        return None if beside is None else Quantity(self.true(beside.value, beside.unit), beside.unit)


COLDEST = {"degF": -459.67, "degC": -273.15}
"""Absolute zero (NIST SP 811)."""
ICE = {"degF": 32.0, "degC": 0.0}
"""Crushed ice and water, by definition of the scales at sea level; height changes it by less than 0.01 °F."""
BOILING = {"degF": 212.0, "degC": 100.0}
"""Water that boils at sea level, by the old definition of the scales; the two points of an offset's line."""


def _difference(known: Mapping[str, float], unit: str, otherwise: float) -> float:
    """A difference of temperature in `unit`, from either unit; `otherwise` where none is known."""
    if unit in known:
        return known[unit]
    if unit == "degC" and "degF" in known:
        return exact(known["degF"] * 5 / 9)
    if unit == "degF" and "degC" in known:
        return exact(known["degC"] * 9 / 5)
    return otherwise


UNKNOWN_INSTRUMENT = Instrument()

"""What a check is made of: the reading with the facts that belong to it, and the instrument that took it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from shared.foods import Food


@dataclass(frozen=True, slots=True)
class Quantity:
    """A figure with its unit."""

    value: float
    unit: str


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
    """What it read over the truth at the day's ice-point or boiling-point check, by unit."""

    def band(self, unit: str, otherwise: Mapping[str, float]) -> float:
        """Its accuracy in `unit`, from `otherwise` where its own is not known; 0 where there is none."""
        if unit in self.accuracy:
            return self.accuracy[unit]
        if unit == "degC" and "degF" in self.accuracy:
            return round(self.accuracy["degF"] * 5 / 9, 6)
        if unit == "degF" and "degC" in self.accuracy:
            return round(self.accuracy["degC"] * 9 / 5, 6)
        return otherwise.get(unit, 0.0)

    def off(self, unit: str) -> float:
        """Its offset as a difference in `unit`; 0 when it was not checked."""
        if unit in self.offset:
            return self.offset[unit]
        if unit == "degC" and "degF" in self.offset:
            return round(self.offset["degF"] * 5 / 9, 6)
        if unit == "degF" and "degC" in self.offset:
            return round(self.offset["degC"] * 9 / 5, 6)
        return 0.0


UNKNOWN_INSTRUMENT = Instrument()

"""A jurisdiction's law as frozen values. Files of `shared/rules/` fill them; code knows only the kinds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType
from typing import Literal

Mark = Literal["IN", "OUT", "NO", "NA"]
Operator = Literal["<=", ">=", "+-"]
DecisionRule = Literal["simple_acceptance", "guarded"]


@dataclass(frozen=True, slots=True)
class Source:
    """Where a row comes from, and how that was verified."""

    text: str
    verified: str
    """`yes: URL` seen in a government text, `secondary: …`, `memory`, or `common practice, no source`."""


@dataclass(frozen=True, slots=True)
class Provision:
    """One section that can be cited."""

    section: str
    title: str
    classes: tuple[str, ...]
    """P, Pf, C; the first is the usual one."""
    form_item: int | None
    reason: str
    """Why it matters for public health, one sentence."""
    correction: str
    """The usual correction, as a request that begins with a verb."""
    source: Source


@dataclass(frozen=True, slots=True)
class FormItem:
    """One numbered line of the inspection form."""

    number: int
    group: str
    heading: str
    text: str
    marks: tuple[Mark, ...]
    sections: tuple[str, ...]
    source: Source


@dataclass(frozen=True, slots=True)
class Limit:
    """One figure that a reading is held against."""

    id: str
    quantity: str
    """A reading's kind: temperature, length, …"""
    stage: str
    """Where in the life of the food or the work of the kitchen it applies; see docs/rules.md for the words."""
    operator: Operator
    """`<=`, `>=`, or `+-`: within `tolerance` of the value."""
    values: Mapping[str, float]
    """The figure in each unit that the code prints. They are rounded pairs and are not converted."""
    section: str
    foods: frozenset[str]
    """Kinds of food it applies to (any of them); empty: all."""
    not_foods: frozenset[str]
    """Kinds of food it does not apply to."""
    when: frozenset[str]
    """Conditions that must all have been said, such as `microwave`."""
    unless: frozenset[str]
    """Conditions under which it does not apply."""
    hold_s: float | None
    """How long the value must be held; 0: an instant suffices; None: no time belongs to it."""
    tolerance: Mapping[str, float]
    """For `+-`: how far the reading may be from the value."""
    accuracy: bool
    """Whether the instrument's accuracy makes a reading near this limit borderline."""
    says: str
    """What it asks for, in a few words."""
    note: str
    edition: str | None
    """The edition that prints this figure, where editions differ."""
    in_force: bool
    """False: kept for comparison with other editions only."""
    source: Source


@dataclass(frozen=True, slots=True)
class Decision:
    """How a reading near a limit is judged, after ILAC-G8 and JCGM 106."""

    rule: DecisionRule = "simple_acceptance"
    """`simple_acceptance`: the reading as it stands decides, and inside the band it is borderline.
    `guarded`: only a reading beyond the band on the safe side meets."""
    accuracy: Mapping[str, float] = field(
        default_factory=lambda: MappingProxyType({"degF": 2.0, "degC": 1.0})
    )
    """Plus or minus, of a thermometer whose own accuracy is not known, in each unit."""


@dataclass(frozen=True, slots=True)
class Rules:
    """A jurisdiction at one edition, with all that its files say."""

    name: str
    title: str
    edition: str
    provisions: Mapping[str, Provision]
    form_items: Mapping[int, FormItem]
    effective: date | None = None
    caution: str = ""
    inherits: tuple[str, ...] = ()
    """Names of the rules it builds on, nearest first."""
    decision: Decision = field(default_factory=Decision)
    limits: Mapping[str, Limit] = field(default_factory=dict)
    """Every limit row by id, also those that are not in force."""
    by_stage: Mapping[tuple[str, str], tuple[Limit, ...]] = field(default_factory=dict)
    """The limits in force by stage and quantity."""

    def provision(self, section: str) -> Provision | None:
        """The provision that covers `section`: itself, else the nearest paragraph above it, else None."""
        while section:
            if section in self.provisions:
                return self.provisions[section]
            if not section.endswith(")"):
                return None
            section = section[: section.rindex("(")].rstrip()
        return None

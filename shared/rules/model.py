"""A jurisdiction's law as frozen values. Files of `shared/rules/` fill them; code knows only the kinds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType
from typing import Literal

Mark = Literal["IN", "OUT", "NO", "NA"]
Operator = Literal["<=", ">=", "+-"]
DecisionRule = Literal["simple_acceptance", "guarded_acceptance", "guarded_rejection"]


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
    """Where in the life of the food or the work of the kitchen it applies; docs/rules.md lists the words."""
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
    times_diameter: float | None
    """The figure grows with the diameter of the opening: at least this many times it."""
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
class Step:
    """One pair of a time-temperature table."""

    values: Mapping[str, float]
    """The temperature in each unit, as printed."""
    time_s: float
    """How long it must be held; 0: an instant."""


@dataclass(frozen=True, slots=True)
class TimeTemperature:
    """A published table of temperatures and the times for which each must be held."""

    id: str
    title: str
    section: str
    steps: tuple[Step, ...]
    """From the coolest to the hottest."""
    alternative_to: frozenset[str]
    """Ids of limits that a pair of this table satisfies as well."""
    foods: frozenset[str]
    """Kinds of food that go by this table alone; empty: it is only an alternative."""
    not_foods: frozenset[str]
    stages: frozenset[str]
    when: frozenset[str]
    unless: frozenset[str]
    interpolate: bool
    """Whether the source allows times between its steps. Food codes do not."""
    log_reduction: float | None
    fat_percent: float | None
    note: str
    edition: str | None
    in_force: bool
    source: Source


@dataclass(frozen=True, slots=True)
class Ambiguity:
    """A fact on which the limit depends and which is often unsaid; not needed where all answers agree."""

    id: str
    quantity: str
    stage: str
    foods: frozenset[str]
    """Kinds of food, or conditions, that leave it open; `unknown` stands for a name not in the vocabulary, or
    none."""
    not_foods: frozenset[str]
    unless: frozenset[str]
    """Conditions that settle it."""
    options: tuple[str, ...]
    """The possible answers, as kinds of food or as conditions."""
    asks: str
    """The question, as what is to be found out."""


@dataclass(frozen=True, slots=True)
class Sanitizer:
    """One row of the chemistry of a sanitizer; concentrations in ppm (mg/L)."""

    id: str
    agent: str
    kind: Literal["minimum", "maximum", "contact", "label"]
    least_ppm: float | None
    most_ppm: float | None
    ph_most: float | None
    water: Mapping[str, float]
    """The coolest the solution may be, by unit; empty: the row names no temperature."""
    contact_s: float | None
    hardness_most_ppm: float | None
    by_label: bool
    """The label or product sheet gives the strength."""
    ph_by_label: bool
    """The label may allow a higher pH."""
    given: frozenset[str]
    """`water`, `ph`: taken as given when nobody said it."""
    section: str
    note: str
    edition: str | None
    in_force: bool
    source: Source


@dataclass(frozen=True, slots=True)
class CoolingStage:
    """One target of cooling; both the temperature and the time are inclusive."""

    section: str
    target: Mapping[str, float]
    within_min: float
    """Minutes allowed, from the start of the clock."""


@dataclass(frozen=True, slots=True)
class CoolingRule:
    """How fast a kind of food must cool."""

    id: str
    title: str
    section: str
    start: Mapping[str, float]
    """The temperature at which the clock starts; empty: it starts at the event in `clock_from`."""
    clock_from: str
    stages: tuple[CoolingStage, ...]
    """In the order of their deadlines."""
    note: str
    edition: str | None
    in_force: bool
    source: Source


@dataclass(frozen=True, slots=True)
class TcsCell:
    """One cell of a table that tells TCS food by water activity and pH. Bounds that are None are open."""

    id: str
    table: str
    """`packaged`: heat-treated and then packaged; `unpackaged`: not heat-treated, or not packaged."""
    aw_over: float | None
    aw_at_least: float | None
    aw_at_most: float | None
    aw_under: float | None
    ph_over: float | None
    ph_at_least: float | None
    ph_at_most: float | None
    ph_under: float | None
    answer: Literal["not_tcs", "product_assessment"]
    section: str
    source: Source


@dataclass(frozen=True, slots=True)
class Deadline:
    """By when a violation of a class must be corrected."""

    id: str
    classes: tuple[str, ...]
    within_hours: float | None
    """Hours after it was found; None when it counts in days."""
    within_days: int | None
    """Calendar days after the day it was found."""
    default: str
    """What is expected first, in words."""
    section: str
    note: str
    edition: str | None
    in_force: bool
    source: Source


@dataclass(frozen=True, slots=True)
class Hazard:
    """An imminent health hazard: operations stop and the authority is told at once."""

    id: str
    says: str
    phrases: tuple[str, ...]
    """Everyday words for it."""
    plan: bool
    """Whether an emergency plan approved beforehand may let the place go on."""
    section: str
    note: str
    source: Source


@dataclass(frozen=True, slots=True)
class Category:
    """A risk category and how often it is visited."""

    number: int
    says: str
    visits_a_year: int
    section: str
    note: str
    source: Source


@dataclass(frozen=True, slots=True)
class OptionRow:
    """Something that may be done with food in a situation; the person decides."""

    id: str
    situation: str
    says: str
    less_than_min: float | None
    """Only while less time than this has passed."""
    at_least_min: float | None
    """Only once this much time has passed."""
    section: str
    source: Source


@dataclass(frozen=True, slots=True)
class Illness:
    """What a symptom, diagnosis or exposure of a worker asks for."""

    id: str
    kind: Literal["symptom", "diagnosis", "action", "exposure"]
    says: str
    susceptible: str
    """Where a highly susceptible population is served: exclude, restrict, or what is to be done."""
    other: str
    """Everywhere else."""
    returns: str
    """When the worker may come back."""
    section: str
    note: str
    source: Source


@dataclass(frozen=True, slots=True)
class Duty:
    """A rule of conduct with no reading: what a report holds, what must be present, how often to visit."""

    id: str
    topic: str
    says: str
    operator: str
    value: float | None
    unit: str
    section: str
    note: str
    edition: str | None
    source: Source


@dataclass(frozen=True, slots=True)
class EditionNote:
    """Where editions of a code disagree."""

    id: str
    topic: str
    older: str
    newer: str
    source: Source


@dataclass(frozen=True, slots=True)
class Decision:
    """How a reading near a limit is judged, after ILAC-G8 and JCGM 106."""

    rule: DecisionRule = "simple_acceptance"
    """`simple_acceptance`: the reading as it stands tells the side, and inside the band it is borderline.
    `guarded_acceptance`: only a reading a whole band on the safe side meets; any on the failing side
    violates.
    `guarded_rejection`: any on the passing side meets; only one beyond the band violates."""
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
    tables: Mapping[str, TimeTemperature] = field(default_factory=dict)
    """Every time-temperature table by id, also those that are not in force."""
    ambiguities: Mapping[tuple[str, str], tuple[Ambiguity, ...]] = field(default_factory=dict)
    """What is often left unsaid, by stage and quantity."""
    sanitizers: Mapping[str, Sanitizer] = field(default_factory=dict)
    """Every sanitizer row by id, also those that are not in force."""
    cooling: Mapping[str, CoolingRule] = field(default_factory=dict)
    """How food must cool, by id, also rules that are not in force."""
    tcs_cells: Mapping[str, TcsCell] = field(default_factory=dict)
    """The tables that tell TCS food by water activity and pH."""
    deadlines: Mapping[str, Deadline] = field(default_factory=dict)
    hazards: Mapping[str, Hazard] = field(default_factory=dict)
    categories: Mapping[int, Category] = field(default_factory=dict)
    options: Mapping[str, OptionRow] = field(default_factory=dict)
    illnesses: Mapping[str, Illness] = field(default_factory=dict)
    duties: Mapping[str, Duty] = field(default_factory=dict)
    edition_notes: Mapping[str, EditionNote] = field(default_factory=dict)

    def provision(self, section: str) -> Provision | None:
        """The provision that covers `section`: itself, else the nearest paragraph above it, else None."""
        while section:
            if section in self.provisions:
                return self.provisions[section]
            if not section.endswith(")"):
                return None
            section = section[: section.rindex("(")].rstrip()
        return None

"""One builder for each kind of row: raw fields in, frozen values out, faults noted by file and entry."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from types import MappingProxyType
from typing import Literal, get_args

from shared.rules.fields import Row
from shared.rules.files import Layers
from shared.rules.model import (
    Ambiguity,
    CoolingRule,
    CoolingStage,
    FormItem,
    Limit,
    Mark,
    Operator,
    Provision,
    Sanitizer,
    Source,
    Step,
    TimeTemperature,
)

Sources = Mapping[str, Source]

UNITS: Mapping[str, tuple[str, ...]] = {
    "temperature": ("degF", "degC"),
    "concentration": ("ppm",),
    "ph": ("pH",),
    "length": ("inch", "cm", "mm", "foot"),
    "illuminance": ("foot_candle", "lux"),
    "duration": ("second", "minute", "hour", "day"),
    "pressure": ("psi", "kPa"),
    "water_activity": ("aw",),
}
"""The units a figure of each quantity may be printed in."""
STAGES = (
    "cooking", "reheating", "hot_holding", "cold_holding", "cooling", "receiving", "thawing", "time_control",
    "ambient", "handwashing", "manual_wash", "manual_sanitize", "machine_wash", "machine_rinse",
    "utensil_surface", "sanitizer", "thermometer_check", "freezing", "storage", "lighting", "other",
)  # fmt: skip
_VERIFIED = ("yes: ", "secondary: ", "memory", "common practice, no source")
_OPERATORS: tuple[Operator, ...] = get_args(Operator)
_MARKS: tuple[Mark, ...] = get_args(Mark)
_UNKNOWN = Source("", "")


def sources(layers: Layers) -> Sources:
    read = {}
    for row in layers.of("source"):
        name, text, verified = row.text("id"), row.text("text"), row.text("verified")
        if verified and not verified.startswith(_VERIFIED):
            row.fault(f"`verified` must begin with one of: {'; '.join(_VERIFIED)}")
        read[name] = Source(text, verified)
        row.closed()
    return read


def source_of(row: Row, known: Sources) -> Source:
    """The source a row names. A row without one is a fault."""
    name = row.text("source")
    if name and name not in known:
        row.fault(f"`source` names {name!r}, and no [[source]] has that id")
    return known.get(name, _UNKNOWN)


def provisions(layers: Layers, known: Sources) -> Mapping[str, Provision]:
    items = {row.raw.get("number") for row in layers.of("form_item")}
    read = {}
    for row in layers.of("provision"):
        item = row.whole("form_item", None, least=1)
        if item is not None and item not in items:
            row.fault(f"`form_item` is {item}, and no [[form_item]] has that number")
        section = row.text("section")
        read[section] = Provision(
            section=section,
            title=row.text("title"),
            classes=tuple(row.texts("classes", allowed=("P", "Pf", "C"), required=True)),
            form_item=item,
            reason=row.text("reason"),
            correction=row.text("correction"),
            source=source_of(row, known),
        )
        row.closed()
    return MappingProxyType(read)


def form_items(layers: Layers, known: Sources) -> Mapping[int, FormItem]:
    read = {}
    for row in layers.of("form_item"):
        number = row.whole("number", least=1) or 0
        marks = row.texts("marks", allowed=_MARKS, required=True)
        read[number] = FormItem(
            number=number,
            group=row.text("group"),
            heading=row.text("heading"),
            text=row.text("text"),
            marks=tuple(mark for mark in _MARKS if mark in marks),
            sections=tuple(row.texts("sections", required=True)),
            source=source_of(row, known),
        )
        row.closed()
    return MappingProxyType(dict(sorted(read.items())))


def limits(layers: Layers, known: Sources) -> Mapping[str, Limit]:
    read = {}
    for row in layers.of("limit"):
        quantity = row.choice("quantity", tuple(UNITS))
        operator = row.choice("operator", _OPERATORS)
        units = UNITS[quantity]
        tolerance = row.quantities("tolerance", units, required=operator == "+-", least=0)
        name = row.text("id")
        limit = Limit(
            id=name,
            quantity=quantity,
            stage=row.choice("stage", STAGES),
            operator=operator,
            values=row.quantities("value", units, required=True),
            section=row.text("section"),
            foods=frozenset(row.texts("foods")),
            not_foods=frozenset(row.texts("not_foods")),
            when=frozenset(row.texts("when")),
            unless=frozenset(row.texts("unless")),
            hold_s=row.number("hold_s", None, least=0),
            tolerance=tolerance,
            times_diameter=row.number("times_diameter", None, least=0),
            accuracy=row.flag("accuracy", quantity == "temperature"),
            says=row.text("says"),
            note=row.text("note", ""),
            edition=row.text("edition", "") or None,
            in_force=row.flag("in_force", True),
            source=source_of(row, known),
        )
        if set(tolerance) != set(limit.values) and operator == "+-":
            row.fault("`tolerance` and `value` must have the same units")
        read[name] = limit
        row.closed()
    return MappingProxyType(read)


def tables(layers: Layers, known: Sources, limits: Mapping[str, Limit]) -> Mapping[str, TimeTemperature]:
    read = {}
    for row in layers.of("time_temperature"):
        steps = []
        for part in row.rows("steps"):
            values = part.quantities("value", UNITS["temperature"], required=True)
            time_s = part.number("time_s", least=0)
            part.closed()
            steps.append(Step(values, time_s or 0.0))
        if not steps:
            row.fault("`steps` must hold at least one pair")
        elif not _steps_fall(steps):
            row.fault(
                "`steps` must go from the coolest to the hottest, each in the same units, with shorter times"
            )
        alternative_to = row.texts("alternative_to")
        for name in alternative_to:
            if name not in limits:
                row.fault(f"`alternative_to` names {name!r}, and no [[limit]] has that id")
        name = row.text("id")
        read[name] = TimeTemperature(
            id=name,
            title=row.text("title"),
            section=row.text("section"),
            steps=tuple(steps),
            alternative_to=frozenset(alternative_to),
            foods=frozenset(row.texts("foods")),
            not_foods=frozenset(row.texts("not_foods")),
            stages=frozenset(row.texts("stages", allowed=STAGES)),
            when=frozenset(row.texts("when")),
            unless=frozenset(row.texts("unless")),
            interpolate=row.flag("interpolate", False),
            log_reduction=row.number("log_reduction", None, least=0),
            fat_percent=row.number("fat_percent", None, least=0),
            note=row.text("note", ""),
            edition=row.text("edition", "") or None,
            in_force=row.flag("in_force", True),
            source=source_of(row, known),
        )
        row.closed()
    return MappingProxyType(read)


def _steps_fall(steps: list[Step]) -> bool:
    units = set(steps[0].values)
    return all(
        set(later.values) == units
        and all(later.values[unit] > earlier.values[unit] for unit in units)
        and later.time_s <= earlier.time_s
        for earlier, later in pairwise(steps)
    )


def ambiguities(layers: Layers) -> Mapping[tuple[str, str], tuple[Ambiguity, ...]]:
    read: dict[tuple[str, str], list[Ambiguity]] = {}
    for row in layers.of("ambiguity"):
        quantity = row.choice("quantity", tuple(UNITS))
        item = Ambiguity(
            id=row.text("id"),
            quantity=quantity,
            stage=row.choice("stage", STAGES),
            foods=frozenset(row.texts("foods")),
            not_foods=frozenset(row.texts("not_foods")),
            unless=frozenset(row.texts("unless")),
            options=tuple(row.texts("options", required=True)),
            asks=row.text("asks"),
        )
        row.closed()
        read.setdefault((item.stage, quantity), []).append(item)
    return MappingProxyType({key: tuple(items) for key, items in read.items()})


_SANITIZER_KINDS: tuple[Literal["minimum", "maximum", "contact", "label"], ...] = (
    "minimum", "maximum", "contact", "label",
)  # fmt: skip


def sanitizers(layers: Layers, known: Sources) -> Mapping[str, Sanitizer]:
    read = {}
    for row in layers.of("sanitizer"):
        name = row.text("id")
        kind = row.choice("kind", _SANITIZER_KINDS)
        sanitizer = Sanitizer(
            id=name,
            agent=row.text("agent"),
            kind=kind,
            least_ppm=row.number("least_ppm", None, least=0),
            most_ppm=row.number("most_ppm", None, least=0),
            ph_most=row.number("ph_most", None, least=0),
            water=row.quantities("water", UNITS["temperature"]),
            contact_s=row.number("contact_s", None, least=0),
            hardness_most_ppm=row.number("hardness_most_ppm", None, least=0),
            by_label=row.flag("by_label", False),
            ph_by_label=row.flag("ph_by_label", False),
            given=frozenset(row.texts("given", allowed=("water", "ph"))),
            section=row.text("section"),
            note=row.text("note", ""),
            edition=row.text("edition", "") or None,
            in_force=row.flag("in_force", True),
            source=source_of(row, known),
        )
        if (
            kind == "minimum"
            and not sanitizer.by_label
            and (sanitizer.least_ppm is None or not sanitizer.water)
        ):
            row.fault("a minimum needs `least_ppm` and `water`, or `by_label = true`")
        if kind == "minimum" and sanitizer.ph_most is None:
            row.fault("a minimum needs `ph_most`")
        if kind == "maximum" and sanitizer.most_ppm is None:
            row.fault("a maximum needs `most_ppm`")
        if kind == "contact" and sanitizer.contact_s is None:
            row.fault("a contact time needs `contact_s`")
        read[name] = sanitizer
        row.closed()
    return MappingProxyType(read)


def cooling(layers: Layers, known: Sources) -> Mapping[str, CoolingRule]:
    read = {}
    for row in layers.of("cooling"):
        stages = []
        for part in row.rows("stages"):
            stage = CoolingStage(
                section=part.text("section"),
                target=part.quantities("target", UNITS["temperature"], required=True),
                within_min=part.number("within_min", least=0) or 0.0,
            )
            part.closed()
            stages.append(stage)
        if not stages:
            row.fault("`stages` must hold at least one stage")
        elif any(
            later.within_min < earlier.within_min or set(later.target) != set(earlier.target)
            for earlier, later in pairwise(stages)
        ):
            row.fault("`stages` must stand in the order of their deadlines, each with the same units")
        name = row.text("id")
        read[name] = CoolingRule(
            id=name,
            title=row.text("title"),
            section=row.text("section"),
            start=row.quantities("start", UNITS["temperature"]),
            clock_from=row.text("clock_from"),
            stages=tuple(stages),
            note=row.text("note", ""),
            edition=row.text("edition", "") or None,
            in_force=row.flag("in_force", True),
            source=source_of(row, known),
        )
        row.closed()
    return MappingProxyType(read)

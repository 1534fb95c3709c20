"""One builder for each kind of row: raw fields in, frozen values out, faults noted by file and entry."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import get_args

from shared.rules.fields import Row
from shared.rules.files import Layers
from shared.rules.model import FormItem, Limit, Mark, Operator, Provision, Source

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

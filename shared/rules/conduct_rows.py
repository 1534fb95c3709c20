"""Builders for what follows from a finding: deadlines, hazards, categories, options, illness, duties."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, get_args

from shared.rules.fields import Row
from shared.rules.files import Layers
from shared.rules.model import (
    Category,
    Deadline,
    Duty,
    EditionNote,
    Hazard,
    Illness,
    OptionRow,
    TcsCell,
)
from shared.rules.rows import Sources, source_of

_Table = Literal["packaged", "unpackaged"]
_Answer = Literal["not_tcs", "product_assessment"]
_Kind = Literal["symptom", "diagnosis", "action", "exposure"]
_BOUNDS = ("over", "at_least", "at_most", "under")


def tcs_cells(layers: Layers, known: Sources) -> Mapping[str, TcsCell]:
    read = {}
    for row in layers.of("tcs_cell"):
        aw, ph = _band(row, "aw", most=1.0), _band(row, "ph", most=14.0)
        name = row.text("id")
        read[name] = TcsCell(
            id=name,
            table=row.choice("table", get_args(_Table)),
            aw_over=aw["over"],
            aw_at_least=aw["at_least"],
            aw_at_most=aw["at_most"],
            aw_under=aw["under"],
            ph_over=ph["over"],
            ph_at_least=ph["at_least"],
            ph_at_most=ph["at_most"],
            ph_under=ph["under"],
            answer=row.choice("answer", get_args(_Answer)),
            section=row.text("section"),
            source=source_of(row, known),
        )
        row.closed()
    return MappingProxyType(read)


def _band(row: Row, name: str, *, most: float) -> dict[str, float | None]:
    band = {bound: row.number(f"{name}_{bound}", None, least=0) for bound in _BOUNDS}
    if any(figure is not None and figure > most for figure in band.values()):
        row.fault(f"a bound of `{name}` is over {most:g}")
    return band


def deadlines(layers: Layers, known: Sources) -> Mapping[str, Deadline]:
    read = {}
    for row in layers.of("deadline"):
        name = row.text("id")
        hours, days = row.number("within_hours", None, least=0), row.whole("within_days", None)
        if (hours is None) == (days is None):
            row.fault("give one of `within_hours` and `within_days`")
        read[name] = Deadline(
            id=name,
            classes=tuple(row.texts("classes", allowed=("P", "Pf", "C"), required=True)),
            within_hours=hours,
            within_days=days,
            default=row.text("default"),
            section=row.text("section"),
            note=row.text("note", ""),
            edition=row.text("edition", "") or None,
            in_force=row.flag("in_force", True),
            source=source_of(row, known),
        )
        row.closed()
    return MappingProxyType(read)


def hazards(layers: Layers, known: Sources) -> Mapping[str, Hazard]:
    read = {}
    for row in layers.of("hazard"):
        name = row.text("id")
        read[name] = Hazard(
            id=name,
            says=row.text("says"),
            phrases=tuple(row.texts("phrases")),
            plan=row.flag("plan", False),
            section=row.text("section"),
            note=row.text("note", ""),
            source=source_of(row, known),
        )
        row.closed()
    return MappingProxyType(read)


def categories(layers: Layers, known: Sources) -> Mapping[int, Category]:
    read = {}
    for row in layers.of("category"):
        number = row.whole("number", least=1) or 0
        read[number] = Category(
            number=number,
            says=row.text("says"),
            visits_a_year=row.whole("visits_a_year", least=1) or 1,
            section=row.text("section"),
            note=row.text("note", ""),
            source=source_of(row, known),
        )
        row.closed()
    return MappingProxyType(dict(sorted(read.items())))


def options(layers: Layers, known: Sources) -> Mapping[str, OptionRow]:
    read = {}
    for row in layers.of("option"):
        name = row.text("id")
        read[name] = OptionRow(
            id=name,
            situation=row.text("situation"),
            says=row.text("says"),
            less_than_min=row.number("less_than_min", None, least=0),
            at_least_min=row.number("at_least_min", None, least=0),
            section=row.text("section"),
            source=source_of(row, known),
        )
        row.closed()
    return MappingProxyType(read)


def illnesses(layers: Layers, known: Sources) -> Mapping[str, Illness]:
    read = {}
    for row in layers.of("illness"):
        name = row.text("id")
        read[name] = Illness(
            id=name,
            kind=row.choice("kind", get_args(_Kind)),
            says=row.text("says"),
            susceptible=row.text("susceptible"),
            other=row.text("other"),
            returns=row.text("returns", ""),
            section=row.text("section"),
            note=row.text("note", ""),
            source=source_of(row, known),
        )
        row.closed()
    return MappingProxyType(read)


def duties(layers: Layers, known: Sources) -> Mapping[str, Duty]:
    read = {}
    for row in layers.of("duty"):
        name = row.text("id")
        read[name] = Duty(
            id=name,
            topic=row.text("topic"),
            says=row.text("says"),
            operator=row.choice("operator", ("", "<=", ">=", "==")) if "operator" in row.raw else "",
            value=row.number("value", None),
            unit=row.text("unit", ""),
            section=row.text("section"),
            note=row.text("note", ""),
            edition=row.text("edition", "") or None,
            source=source_of(row, known),
        )
        row.closed()
    return MappingProxyType(read)


def edition_notes(layers: Layers, known: Sources) -> Mapping[str, EditionNote]:
    read = {}
    for row in layers.of("edition_note"):
        name = row.text("id")
        read[name] = EditionNote(
            id=name,
            topic=row.text("topic"),
            older=row.text("older"),
            newer=row.text("newer"),
            source=source_of(row, known),
        )
        row.closed()
    return MappingProxyType(read)

"""Holding a reading that the inspector changed against its limit again: in the context in which it was said,
with the thermometer of that day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from extract.checks import Instrument, check, of_the_day
from extract.checks.surroundings import conditions
from extract.checks.thermometer import BY_GAUGE, on_a_gauge
from extract.judged.context import restored
from review_api.api.shown import Facts, Reading
from review_api.store.values import from_json, to_json
from shared import types
from shared.rules.model import Rules
from shared.rules.rows import UNITS
from shared.types import Check

_TIMED = ("cooling", "time_control")
"""Stages in which the hour of a reading decides."""
_AS_TOLD = frozenset(("cold_holding", "hot_holding", "ambient", "handwashing", "manual_wash"))
"""Stages whose limits depend on no more than figure, food and place, so that a reading can be moved there."""


def thermometer(readings: Sequence[Reading], facts: Facts) -> Instrument:
    """The inspector's thermometer, as its checks of the day show it; rejected readings tell nothing."""
    standing = [reading for reading in readings if reading.decision.state != "rejected"]
    return of_the_day(standing, accuracy_degf=facts.thermometer_accuracy_degf, elevation_m=facts.elevation_m)


def hangs_on(base: Mapping[str, Any], changes: Mapping[str, Any]) -> bool:
    """Whether the verdict on a reading may be another one with these changes."""
    if any(name in changes for name in ("kind", "value", "unit", "stage", "item", "agent")):
        return True
    if "clock" in changes and base["stage"] in _TIMED:
        return True
    if "place" not in changes:
        return False
    item = base.get("item")
    return conditions(item, base.get("place")) != conditions(item, changes["place"])


def kind_with(unit: str, kind: str) -> str:
    """What is measured in `unit`: `kind` where it can be, else the one kind that has that unit."""
    if unit in UNITS.get(kind, ()):
        return kind
    return next((name for name, units in UNITS.items() if unit in units), kind)


def recheck(
    base: Mapping[str, Any], changes: Mapping[str, Any], rules: Rules, instrument: Instrument
) -> dict[str, Any]:
    """The check of the reading `base` with the person's `changes` over it, as JSON.

    What was said around it stays: how long it was held, the label, the strip beside it. Where that cannot be
    told of the changed reading, its check is undetermined and says why; it is never judged by less.
    """
    reading = {**base, **changes}
    context = from_json(types.Context, base["context"]) if base.get("context") else None
    why = _why_not(base, reading, context)
    if why is not None or context is None:
        sentence = f"{why}: hold it against its limit yourself"
        return to_json(Check("undetermined", missing=("what its limit depends on",), why=sentence))
    own = {name: changes[name] for name in ("item", "place", "agent") if name in changes}
    measured = restored(
        replace(context, **own),
        kind=reading["kind"],
        value=reading["value"],
        unit=reading["unit"],
        stage=reading["stage"],
    )
    by_gauge = context.by_gauge if reading["stage"] == base["stage"] else reading["stage"] in BY_GAUGE
    return to_json(check(measured, rules, instrument=on_a_gauge(instrument) if by_gauge else instrument))


def _why_not(
    base: Mapping[str, Any], reading: Mapping[str, Any], context: types.Context | None
) -> str | None:
    """Why the changed reading cannot be judged; None where it can."""
    if "cooling" in (base["stage"], reading["stage"]):
        return "food that cools is judged by all its readings and their times, and one of them was changed"
    if reading["kind"] != base["kind"]:
        return (
            f"it was understood as a {_plain(base['kind'])} and is a {_plain(reading['kind'])} now; what its "
            "limit depends on was not looked for in the words"
        )
    if context is None:
        return "its check rests on more than this reading, such as other readings or a time that was told"
    if reading["stage"] != base["stage"] and reading["stage"] not in _AS_TOLD:
        return f"what a limit of {_plain(reading['stage'])} depends on was not looked for in the words"
    if context.asks_item and reading["item"] == base["item"]:
        return "it is not said which food it is, and its limit hangs on that"
    if reading["unit"] != base["unit"] and (context.label_min, context.label_max) != (None, None):
        return "the range of its label was told in another unit"
    return None


def _plain(name: str) -> str:
    return name.replace("_", " ")

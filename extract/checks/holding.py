"""Temperature and time together: a reading against the pairs of a table, for the time it was held."""

from __future__ import annotations

from collections.abc import Sequence

from extract.checks import words
from extract.checks.comparing import compare, exact
from extract.checks.measured import Instrument, Measured
from shared.rules.model import Limit, Rules, Step, TimeTemperature
from shared.types import Check, Verdict

HOLD_TIME = "how long the temperature was held"


def step_for_time(table: TimeTemperature, held_s: float) -> Step | None:
    """The coolest step whose time was held; None when even the hottest needs longer."""
    return next((step for step in table.steps if step.time_s <= held_s), None)


def step_for_temperature(table: TimeTemperature, value: float, unit: str) -> Step | None:
    """The hottest step that `value` reaches; None when it is cooler than all. No interpolation."""
    return next((step for step in reversed(table.steps) if step.values[unit] <= value), None)


def check(
    measured: Measured,
    limits: Sequence[Limit],
    tables: Sequence[TimeTemperature],
    rules: Rules,
    instrument: Instrument,
) -> Check | None:
    """The verdict by a table, or None when the plain limits decide.

    A table that is only an alternative counts when a hold time is known. One that rules the food alone also
    answers without: hot enough for an instant, too cool for any time, or undetermined.
    """
    table = next((table for table in tables if table.foods), None)
    if table is None:
        if measured.held_s is None or any(not _beside(limit, tables) for limit in limits):
            return None
        table = next(iter(tables))
    return _by_table(measured, table, rules, instrument)


def _beside(limit: Limit, tables: Sequence[TimeTemperature]) -> bool:
    return any(limit.id in table.alternative_to for table in tables)


def _by_table(
    measured: Measured, table: TimeTemperature, rules: Rules, instrument: Instrument
) -> Check | None:
    unit = measured.unit
    if any(unit not in step.values for step in table.steps):
        return None
    value, held = measured.value, measured.held_s
    if held is None:
        return _without_time(measured, value, table, rules, instrument)
    step = step_for_time(table, held)
    if step is None:
        step = table.steps[-1]
        why = (
            f"held {words.span(held)}; even at {words.amount(step.values[unit], unit)} "
            f"{words.span(step.time_s)} are needed"
        )
        return _answer("violates", step, value, unit, table, why)
    band = instrument.band(unit, rules.decision.accuracy)
    compared = compare(value, ">=", step.values[unit], band=band, rule=rules.decision.rule)
    apart = words.apart(compared.margin, unit, over="above", under="below")
    why = (
        f"{words.amount(value, unit)} held {words.span(held)} is {apart} the "
        f"{words.amount(step.values[unit], unit)} that suffice for that time by the table"
    )
    reached = step_for_temperature(table, value, unit)
    if not compared.passing and reached is not None:
        why += f"; at {words.amount(reached.values[unit], unit)} it takes {words.span(reached.time_s)}"
    why += words.within(band, unit, compared)
    return _answer(compared.outcome, step, value, unit, table, why)


def _without_time(
    measured: Measured, value: float, table: TimeTemperature, rules: Rules, instrument: Instrument
) -> Check:
    unit = measured.unit
    coolest, hottest = table.steps[0], table.steps[-1]
    band = instrument.band(unit, rules.decision.accuracy)
    top = compare(value, ">=", hottest.values[unit], band=band, rule=rules.decision.rule)
    if top.passing and hottest.time_s == 0:
        why = (
            f"{words.amount(value, unit)} reaches the {words.amount(hottest.values[unit], unit)} at "
            f"which an instant suffices"
        )
        why += words.within(band, unit, top)
        return _answer(top.outcome, hottest, value, unit, table, why)
    low = compare(value, ">=", coolest.values[unit], band=band, rule=rules.decision.rule)
    if not low.passing:
        why = (
            f"{words.amount(value, unit)} is {words.amount(abs(low.margin), unit)} below "
            f"{words.amount(coolest.values[unit], unit)}, the coolest step of the table"
        )
        why += words.within(band, unit, low)
        return _answer(low.outcome, coolest, value, unit, table, why)
    reached = step_for_temperature(table, value, unit) or coolest
    why = (
        f"{words.amount(value, unit)} suffices when held {words.span(reached.time_s)}, and the "
        f"time was not said"
    )
    return _answer("undetermined", reached, value, unit, table, why, missing=(HOLD_TIME,))


def _answer(
    verdict: Verdict,
    step: Step,
    value: float,
    unit: str,
    table: TimeTemperature,
    why: str,
    missing: tuple[str, ...] = (),
) -> Check:
    return Check(
        verdict=verdict,
        section=table.section,
        operator=">=",
        limit=step.values[unit],
        unit=unit,
        margin=exact(value - step.values[unit]),
        missing=missing,
        why=why,
    )

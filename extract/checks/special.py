"""Readings whose limit is not a row alone: air gaps, boiling points, plans, cooling, thawing, time."""

from __future__ import annotations

from dataclasses import replace

from extract.checks import boiling, holding, words
from extract.checks.air_gap import required_gap
from extract.checks.between import Range
from extract.checks.comparing import compare, exact, reached
from extract.checks.exactly import seconds
from extract.checks.measured import Instrument, Measured
from extract.checks.selecting import Subject, limits_for, tables_for
from extract.checks.tcs import by_table
from shared.rules.model import Rules
from shared.types import Check, Verdict

TIME_PLAN = "the written procedure and the marked time (3-501.19)"
ABOVE_LIMIT = "how long it has been above the cold limit"
COOLING_SINCE = "when it began to cool, and earlier readings"
DIAMETER = "the inside diameter of the water inlet"
HEAT_TREATED = "whether it was heat-treated and then packaged"
HEIGHT = "the height of the site above sea level"
COOKED_AT = "the temperature that was held"


def check(measured: Measured, about: Subject, rules: Rules, instrument: Instrument) -> Check | None:
    """The verdict on a reading that the instrument corrected, or None when plain limits decide."""
    match measured.kind, measured.stage:
        case "temperature", "thermometer_check" if "boiling" in about.known:
            return _boiling(measured, rules)
        case "temperature", "time_control":
            return _time_control(about)
        case "temperature", "thawing":
            return _thawing(measured, about, rules, instrument)
        case "temperature", "cooling":
            return _cooling(measured, about, rules, instrument)
        case "length", _ if "air_gap" in about.known:
            return _air_gap(measured, rules)
        case "ph" | "water_activity", "other" | "storage":
            planned = _plan(measured, rules)
            return planned or (None if limits_for(measured, about, rules) else _tcs(measured, about, rules))
        case "duration", "cooking" if not about.known & {"microwave", "non_continuous"}:
            return _held_for(measured, about, rules)
        case "length", "cooling":
            return Check("none", why="depth has no figure in the code; 3-501.15 asks for shallow pans")
    return None


def _boiling(measured: Measured, rules: Rules) -> Check:
    row = rules.limits.get("ice_point")
    if row is None or measured.unit not in row.tolerance:
        return Check("none", why="the rules hold no tolerance for a thermometer")
    tolerance = row.tolerance[measured.unit]
    height = measured.elevation_m or 0.0
    try:
        point = round(boiling.boiling_point(height, measured.unit), 1)
    except ValueError as error:
        return Check("undetermined", missing=(HEIGHT,), why=f"the height cannot be right: {error}")
    compared = compare(measured.value, "+-", point, tolerance=tolerance)
    apart = words.amount(abs(compared.margin), measured.unit)
    said = words.amount(measured.value, measured.unit)
    if measured.elevation_m is None and not compared.passing:
        why = f"{said} is {apart} from the boiling point at sea level; it depends on {HEIGHT}"
        return Check("undetermined", row.section, "+-", point, measured.unit, compared.margin, (HEIGHT,), why)
    why = (
        f"{said} is {apart} from "
        f"{words.amount(point, measured.unit)}, the boiling "
        f"point at {height:g} m, and {words.amount(tolerance, measured.unit)} either way is allowed"
    )
    return Check(compared.outcome, row.section, "+-", point, measured.unit, compared.margin, (), why)


def _time_control(about: Subject) -> Check | None:
    if about.known & {"six_hour", "leaving_cold", "leaving_hot", "cut_or_opened"}:
        return None
    if "time_plan" in about.known:
        return Check("none", why="under a written and marked time plan no temperature limit applies")
    return Check(
        "undetermined", missing=(TIME_PLAN,), why=f"no temperature limit applies if there is {TIME_PLAN}"
    )


def _thawing(measured: Measured, about: Subject, rules: Rules, instrument: Instrument) -> Check | None:
    if "water" in about.known or not about.known.isdisjoint({"refrigerated", "slacking"}):
        return None
    cold = rules.limits.get("thawed_cold")
    if cold is None or measured.unit not in cold.values or "tcs" not in about.known:
        return None
    limit, unit = cold.values[measured.unit], measured.unit
    band = instrument.band(unit, rules.decision.accuracy)
    compared = compare(measured.value, "<=", limit, band=band, rule=rules.decision.rule)
    near = words.within(band, unit, compared)
    if compared.passing:
        why = words.against(measured.value, unit, limit, compared, cold) + near
        return Check(compared.outcome, cold.section, "<=", limit, unit, compared.margin, (), why)
    if "running_water" in about.known and "ready_to_eat" in about.known:
        return None
    return Check(
        "undetermined", cold.section, "<=", limit, unit, compared.margin, (ABOVE_LIMIT,),
        f"{words.amount(measured.value, unit)} is over {words.amount(limit, unit)}{near}; "
        f"it depends on {ABOVE_LIMIT}",
    )  # fmt: skip


def _cooling(measured: Measured, about: Subject, rules: Rules, instrument: Instrument) -> Check | None:
    if "shell_egg" in about.known:
        return None
    if "tcs" not in about.known:
        return Check("none", why="it needs no temperature control, so no cooling limit applies")
    rule = rules.cooling.get("cooked")
    unit = measured.unit
    if rule is None or any(unit not in stage.target for stage in rule.stages):
        return None
    if unit in rule.start and measured.value >= rule.start[unit]:
        return Check("none", why=f"the clock starts at {words.amount(rule.start[unit], unit)}")
    last = rule.stages[-1]
    target = last.target[unit]
    band = instrument.band(unit, rules.decision.accuracy)
    compared = compare(measured.value, "<=", target, band=band, rule=rules.decision.rule)
    said, figure, margin = words.amount(measured.value, unit), words.amount(target, unit), compared.margin
    near = words.within(band, unit, compared)
    if compared.passing:
        why = f"{said} has reached {figure}{near}; whether in time depends on {COOLING_SINCE}"
        verdict = reached(compared, rules.decision.rule)
        return Check(verdict, last.section, "<=", target, unit, margin, (), why)
    why = f"{said} is still above {figure}{near}; it depends on {COOLING_SINCE}"
    return Check("undetermined", rule.section, "<=", target, unit, margin, (COOLING_SINCE,), why)


def _air_gap(measured: Measured, rules: Rules) -> Check | None:
    row = rules.limits.get("air_gap")
    if row is None:
        return None
    unit, value = measured.unit, measured.value
    said = words.amount(value, unit)
    needed = required_gap(row, measured.diameter, unit)
    compared = compare(value, ">=", needed)
    if measured.diameter is None and compared.passing:
        why = f"{said} is enough only for an inlet of half of it; it depends on {DIAMETER}"
        return Check("undetermined", row.section, ">=", needed, unit, compared.margin, (DIAMETER,), why)
    how = "twice the diameter of the inlet" if needed > required_gap(row, None, unit) else "the least allowed"
    apart = words.apart(compared.margin, unit, over="over", under="under")
    why = f"{said} is {apart} the {words.amount(needed, unit)} needed, {how}"
    return Check(compared.outcome, row.section, ">=", needed, unit, compared.margin, (), why)


def _plan(measured: Measured, rules: Rules) -> Check | None:
    """A critical limit of an approved plan, such as the pH of acidified rice, or one that was told for it."""
    found = Range(measured.label_min, measured.label_max).check(measured.value, measured.unit)
    if found is None or found.limit is None:
        return None
    failing = "over" if found.operator == "<=" else "under"
    way = "within" if found.verdict == "meets" else failing
    whose = "that was told for it" if "only_told" in measured.says else "of the approved plan"
    why = (
        f"{words.amount(measured.value, measured.unit)} is {way} the "
        f"{words.amount(found.limit, measured.unit)} {whose}"
    )
    duty = rules.duties.get("approved_plan")
    return replace(found, section=duty.section if duty is not None else None, why=why)


def _tcs(measured: Measured, about: Subject, rules: Rules) -> Check:
    """Whether food needs temperature control, by its water activity and pH. Limits hang on it; it is none."""
    aw, ph = measured.aw, measured.ph
    if measured.kind == "ph":
        ph = measured.value
    else:
        aw = measured.value
    packaged = [name == "packaged" for name in ("packaged", "unpackaged") if name in about.known] or [
        True,
        False,
    ]
    found = [by_table(rules, packaged=each, aw=aw, ph=ph) for each in packaged]
    facts = [f"water activity {aw:g}"] if aw is not None else []
    said = " and ".join([*facts, f"pH {ph:g}"] if ph is not None else facts)
    missing = tuple(dict.fromkeys(fact for answer in found for fact in answer.missing))
    needs = {answer.treat_as_tcs for answer in found}
    if not missing and needs == {True, False}:
        missing = (HEAT_TREATED,)
    if missing:
        why = f"{said}: whether it needs temperature control depends on {' and '.join(missing)} (1-201.10)"
        return Check("none", missing=missing, why=why)
    if True in needs:
        why = (
            f"{said}: taken as food that needs temperature control until a product assessment shows otherwise"
        )
    else:
        why = f"{said}: it needs no temperature control"
    return Check("none", why=f"{why} (1-201.10)")


def _held_for(measured: Measured, about: Subject, rules: Rules) -> Check:
    """How long a cooking temperature was held, by the table of the food."""
    at = measured.at
    as_temperature = replace(measured, kind="temperature", unit=at.unit if at is not None else "degF")
    limits = limits_for(as_temperature, about, rules)
    tables = tables_for(as_temperature, about, limits, rules)
    table = next(iter(tables), None)
    if table is None:
        return Check("none", why="no time belongs to this reading")
    if at is None or any(at.unit not in step.values for step in table.steps):
        return Check("undetermined", table.section, missing=(COOKED_AT,), why=f"it depends on {COOKED_AT}")
    held = seconds(measured.value, measured.unit)
    step = holding.step_for_temperature(table, at.value, at.unit)
    if step is None:
        coolest = words.amount(table.steps[0].values[at.unit], at.unit)
        why = f"{words.amount(at.value, at.unit)} is below {coolest}, the coolest step of the table"
        return Check("violates", table.section, why=why)
    one = seconds(1, measured.unit)
    need = exact(step.time_s / one)
    verdict: Verdict = "meets" if held >= step.time_s else "violates"
    why = (
        f"{words.span(held)} at {words.amount(at.value, at.unit)}, and the table asks for "
        f"{words.span(step.time_s)} at "
        f"{words.amount(step.values[at.unit], at.unit)}"
    )
    return Check(verdict, table.section, ">=", need, measured.unit, exact(measured.value - need), (), why)

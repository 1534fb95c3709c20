"""Chemical sanitizers: strength, temperature and pH judged together, as each makes up for the others."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from extract.checks import words
from extract.checks.comparing import compare, exact
from extract.checks.exactly import seconds
from extract.checks.measured import UNKNOWN_INSTRUMENT, Instrument, Measured, Quantity
from extract.checks.selecting import Subject
from shared.rules.model import Rules, Sanitizer
from shared.types import Check, Verdict

_WATER = "the temperature of the solution"
_PH = "the pH of the solution"
_STRENGTH = "the strength of the solution"
_LABEL = "the range that the label gives"
_AGENT = "which sanitizer it is"


def check(
    measured: Measured, about: Subject, rules: Rules, *, instrument: Instrument = UNKNOWN_INSTRUMENT
) -> Check | None:
    """The verdict on a sanitizer's strength, temperature, pH or contact time; None for other readings."""
    if not _is_sanitizer(measured, about):
        return None
    agent = measured.agent
    if agent is None and "chemical_machine" in about.known:
        agent = "chlorine"
    if measured.kind == "duration":
        return _contact(measured, agent or "other", rules)
    if agent is None:
        return Check(
            "undetermined", missing=(_AGENT,), why=f"{_said(measured)}: the limit depends on {_AGENT}"
        )
    rows = [row for row in rules.sanitizers.values() if row.in_force and row.agent == agent]
    minimums = [row for row in rows if row.kind == "minimum"]
    if not minimums:
        return Check("none", why=f"the rules hold no figures for {agent}")
    if measured.kind == "concentration":
        return _strength(measured, rows, minimums, about, rules)
    if measured.kind == "temperature":
        return _water(measured, minimums, rules, instrument)
    return _acidity(measured, minimums)


def _is_sanitizer(measured: Measured, about: Subject) -> bool:
    if measured.agent == "hot_water":
        return False
    if measured.kind == "concentration":
        return measured.stage != "other" or measured.agent is not None
    if measured.stage == "sanitizer":
        return measured.kind in ("temperature", "ph", "duration")
    return (
        measured.stage in ("machine_rinse", "manual_sanitize")
        and measured.kind in ("temperature", "ph")
        and (measured.agent is not None or "chemical_machine" in about.known)
    )


def _said(measured: Measured) -> str:
    return words.amount(measured.value, measured.unit)


# ---------------------------------------------------------------- strength


def _strength(
    measured: Measured,
    rows: Sequence[Sanitizer],
    minimums: Sequence[Sanitizer],
    about: Subject,
    rules: Rules,
) -> Check:
    value = measured.value
    for row in rows:
        if row.kind == "maximum" and row.most_ppm is not None:
            more = value == row.most_ppm and "more_than" in about.known
            if value > row.most_ppm or more:
                why = (
                    f"{'more than ' * more}{_said(measured)} is over the {words.amount(row.most_ppm, 'ppm')} "
                    f"allowed"
                )
                return _answer("violates", row.section, "<=", row.most_ppm, "ppm", value, why)
    if minimums[0].by_label:
        return _by_label(measured, rows, minimums[0], rules)
    needed = [row.least_ppm for row in _reached(minimums, ph=measured.ph, water=measured.water)]
    low = min((row.least_ppm or 0.0 for row in minimums), default=0.0)
    section = minimums[0].section
    if value < low:
        why = (
            f"{_said(measured)} is under {words.amount(low, 'ppm')}, the weakest that any water "
            f"temperature allows"
        )
        return _answer("violates", section, ">=", low, "ppm", value, why)
    if not needed:
        return _answer("violates", section, ">=", low, "ppm", value, _no_strength_helps(measured, minimums))
    sure = min(least for least in needed if least is not None)
    known = _known(measured.ph, measured.water)
    if value >= sure:
        how = (
            f"{_said(measured)} reaches the {words.amount(sure, 'ppm')} "
            f"needed{known or _as_given(minimums, sure)}"
        )
        return _answer("meets", section, ">=", sure, "ppm", value, how)
    missing = _unknown_facts(measured.ph, measured.water, minimums, value)
    if missing:
        why = f"{_said(measured)}: whether it suffices depends on {' and '.join(missing)}"
        return replace(_answer("undetermined", section, ">=", sure, "ppm", value, why), missing=missing)
    why = (
        f"{_said(measured)} is {words.amount(exact(sure - value), 'ppm')} under the "
        f"{words.amount(sure, 'ppm')} needed{known}"
    )
    return _answer("violates", section, ">=", sure, "ppm", value, why)


def _reached(rows: Iterable[Sanitizer], *, ph: float | None, water: Quantity | None) -> list[Sanitizer]:
    """Rows whose pH and temperature are met, by what is known or by what the row takes as given."""
    return [row for row in rows if _ph_known(row, ph) and _water_known(row, water)]


def _ph_known(row: Sanitizer, ph: float | None) -> bool:
    most = row.ph_most if row.ph_most is not None else 14.0
    return ph <= most if ph is not None else "ph" in row.given or most >= 10


def _water_known(row: Sanitizer, water: Quantity | None) -> bool:
    if not row.water:
        return True
    if water is None or water.unit not in row.water:
        return "water" in row.given
    return water.value >= row.water[water.unit]


def _unknown_facts(
    ph: float | None, water: Quantity | None, rows: Sequence[Sanitizer], value: float
) -> tuple[str, ...]:
    """The unsaid facts that could still make `value` suffice."""
    able = [row for row in rows if row.least_ppm is not None and row.least_ppm <= value]
    by_ph = [row for row in able if ph is None or ph <= (row.ph_most or 14.0)]
    possible = [
        row
        for row in by_ph
        if water is None or water.unit not in row.water or water.value >= row.water[water.unit]
    ]
    if not possible:
        return ()
    missing = [_WATER] if water is None else []
    if ph is None and not any((row.ph_most or 0) >= 10 for row in possible if water is not None):
        missing.append(_PH)
    return tuple(missing)


def _known(ph: float | None, water: Quantity | None) -> str:
    parts = []
    if ph is not None:
        parts.append(f"pH {ph:g}")
    if water is not None:
        parts.append(words.amount(water.value, water.unit))
    return " at " + " and ".join(parts) if parts else ""


def _as_given(rows: Sequence[Sanitizer], sure: float) -> str:
    row = next((row for row in rows if row.least_ppm == sure and row.given), None)
    if row is None or "degF" not in row.water:
        return ""
    return f", given water at {words.amount(row.water['degF'], 'degF')} or warmer"


def _no_strength_helps(measured: Measured, rows: Sequence[Sanitizer]) -> str:
    highest = max(row.ph_most or 0.0 for row in rows)
    if measured.ph is not None and measured.ph > highest:
        return f"at pH {measured.ph:g} no strength is shown to sanitize; the table ends at pH {highest:g}"
    water = measured.water
    if water is not None:
        least = min(row.water[water.unit] for row in rows if water.unit in row.water)
        return (
            f"{words.amount(water.value, water.unit)} is below {words.amount(least, water.unit)}, the "
            f"coolest the table allows"
        )
    return "no row of the table is met"


def _by_label(measured: Measured, rows: Sequence[Sanitizer], row: Sanitizer, rules: Rules) -> Check:
    value = measured.value
    failing = _failing_facts(measured, row)
    if failing is not None:
        return failing
    if measured.label_min is not None and value < measured.label_min:
        low = measured.label_min
        why = f"{_said(measured)} is under the {words.amount(low, 'ppm')} that the label asks for"
        return _answer("violates", row.section, ">=", low, "ppm", value, why)
    if measured.label_max is not None and value > measured.label_max:
        top = measured.label_max
        why = f"{_said(measured)} is over the {words.amount(top, 'ppm')} that the label allows"
        most = rules.duties.get("label_maximum")
        section = most.section if most is not None else row.section
        return _answer("violates", section, "<=", top, "ppm", value, why)
    if measured.label_min is None and measured.label_max is None:
        next((item for item in rows if item.kind == "label"), None)
        return Check(
            "undetermined", section=row.section, missing=(_LABEL,), why=f"{_said(measured)}: it "
            "depends on {_LABEL}{aside}"
        )  # fmt: skip
    bound = measured.label_min if measured.label_min is not None else measured.label_max
    operator = ">=" if measured.label_min is not None else "<="
    low_end = f"{measured.label_min:g}" if measured.label_min is not None else "0"
    high_end = f" to {measured.label_max:g}" if measured.label_max is not None else " or more"
    why = f"{_said(measured)} is within the label's {low_end}{high_end} ppm"
    return _answer("meets", row.section, operator, bound or 0.0, "ppm", value, why)


def _failing_facts(measured: Measured, row: Sanitizer) -> Check | None:
    water, hardness = measured.water, measured.hardness_ppm
    if water is not None and water.unit in row.water and water.value < row.water[water.unit]:
        least = row.water[water.unit]
        why = (
            f"the solution is {words.amount(water.value, water.unit)}, below the "
            f"{words.amount(least, water.unit)} needed"
        )
        return Check("violates", row.section, ">=", least, water.unit, exact(water.value - least), (), why)
    if hardness is not None and row.hardness_most_ppm is not None and hardness > row.hardness_most_ppm:
        most = row.hardness_most_ppm
        why = f"water hardness {hardness:g} ppm is over {most:g} ppm, unless the label allows more"
        return Check("violates", row.section, "<=", most, "ppm", exact(hardness - most), (), why)
    return None


# ---------------------------------------------------------------- the water, the pH, the time


def _water(measured: Measured, rows: Sequence[Sanitizer], rules: Rules, instrument: Instrument) -> Check:
    unit = measured.unit
    strength = measured.concentration_ppm
    rows = [row for row in rows if unit in row.water]
    if not rows:
        return Check("none", why="no temperature is set for this sanitizer but the label's")
    if strength is None and not rows[0].by_label and len({row.water[unit] for row in rows}) > 1:
        hottest = max(row.water[unit] for row in rows)
        if measured.value < hottest:
            return Check(
                "undetermined", missing=(_STRENGTH,), why=f"{_said(measured)}: it depends on {_STRENGTH}"
            )
        strength = max(row.least_ppm or 0.0 for row in rows if row.water[unit] == hottest)
    able = [
        row for row in rows if row.by_label or (strength is not None and (row.least_ppm or 0.0) <= strength)
    ]
    if strength is None and not able:
        able = list(rows)
    by_ph = [row for row in able if measured.ph is None or measured.ph <= (row.ph_most or 14.0)]
    if not by_ph:
        why = f"at {strength or 0:g} ppm" + _known(measured.ph, None).replace(" at", " and")
        return Check("violates", rows[0].section, why=f"{why} no water temperature is enough")
    coolest = min(row.water[unit] for row in by_ph)
    any_ph = [row.water[unit] for row in by_ph if (row.ph_most or 0.0) >= 10 or "ph" in row.given]
    surely = min(any_ph) if measured.ph is None and any_ph else coolest
    value = instrument.true(measured.value, unit)
    if coolest <= value < surely:
        return Check(
            "undetermined", rows[0].section, missing=(_PH,), why=f"{_said(measured)}: it depends on {_PH}"
        )
    need = surely if value >= surely else coolest
    band = instrument.band(unit, rules.decision.accuracy)
    compared = compare(value, ">=", need, band=band, rule=rules.decision.rule)
    at = f" for {strength:g} ppm" if strength else ""
    side = "above" if compared.margin > 0 else "below"
    apart = words.amount(abs(compared.margin), unit)
    why = (
        f"{_said(measured)} is {apart} {side} the {words.amount(need, unit)} "
        f"required{at}{_known(measured.ph, None)}"
    )
    if not compared.margin:
        why = f"{_said(measured)} is exactly what is required{at}{_known(measured.ph, None)}"
    if compared.outcome == "borderline":
        why += words.within(band, unit, compared)
    return Check(compared.outcome, rows[0].section, ">=", need, unit, compared.margin, (), why)


def _acidity(measured: Measured, rows: Sequence[Sanitizer]) -> Check:
    value = measured.value
    section = rows[0].section
    if rows[0].by_label:
        return _label_ph(measured, section)
    highest = max(row.ph_most or 0.0 for row in rows)
    strength, water = measured.concentration_ppm, measured.water
    reached = [
        row
        for row in rows
        if (strength is None or (row.least_ppm or 0.0) <= strength)
        and (water is None or water.unit not in row.water or water.value >= row.water[water.unit])
    ]
    top = max((row.ph_most or 0.0 for row in reached), default=0.0)
    if value > highest or (reached and value > top):
        most = top if reached and value <= highest else highest
        why = f"pH {value:g} is over the pH {most:g} that holds{_conditions(strength, water)}"
        return _answer("violates", section, "<=", most, "pH", value, why)
    if not reached:
        why = f"no pH makes up for it{_conditions(strength, water)}"
        return _answer("violates", section, "<=", highest, "pH", value, why)
    least_top = min(row.ph_most or 0.0 for row in reached)
    if (strength is None or water is None) and len(rows) > 1 and value > least_top:
        missing = tuple(name for name, fact in ((_STRENGTH, strength), (_WATER, water)) if fact is None)
        return Check(
            "undetermined",
            section,
            missing=missing,
            why=f"pH {value:g}: it depends on {' and '.join(missing)}",
        )
    if strength is not None and water is None and not any("water" in row.given for row in reached):
        return Check("undetermined", section, missing=(_WATER,), why=f"pH {value:g}: it depends on {_WATER}")
    why = f"pH {value:g} is within the pH {top:g} that holds{_conditions(strength, water)}"
    return _answer("meets", section, "<=", top, "pH", value, why)


def _label_ph(measured: Measured, section: str) -> Check:
    if measured.label_max is None and measured.label_min is None:
        return Check("none", section, why="no pH is set for this sanitizer but the label's")
    over = measured.label_max is not None and measured.value > measured.label_max
    under = measured.label_min is not None and measured.value < measured.label_min
    bound = measured.label_min if under or measured.label_max is None else measured.label_max
    verdict: Verdict = "violates" if over or under else "meets"
    why = f"pH {measured.value:g} is {'outside' if over or under else 'within'} what the label gives"
    return _answer(
        verdict,
        section,
        ">=" if under or measured.label_max is None else "<=",
        bound or 0.0,
        "pH",
        measured.value,
        why,
    )


def _conditions(strength: float | None, water: Quantity | None) -> str:
    parts = []
    if strength is not None:
        parts.append(f"{strength:g} ppm")
    if water is not None:
        parts.append(words.amount(water.value, water.unit))
    return " at " + " and ".join(parts) if parts else ""


def _contact(measured: Measured, agent: str, rules: Rules) -> Check:
    rows = [row for row in rules.sanitizers.values() if row.in_force and row.kind == "contact"]
    own = [row for row in rows if row.agent == agent] or [row for row in rows if row.agent == "other"]
    able = [
        row
        for row in own
        if row.contact_s is not None
        and (
            row.least_ppm is None
            or (measured.concentration_ppm or 0.0) >= row.least_ppm
            or measured.concentration_ppm is None
        )
        and (measured.ph is None or measured.ph <= (row.ph_most or 14.0))
        and (
            not row.water
            or (
                measured.water is not None and measured.water.value >= row.water.get(measured.water.unit, 1e9)
            )
        )
    ]
    able = able or [row for row in own if not row.water] or own
    if not able:
        return Check("none", why="the rules hold no contact time")
    row = min(able, key=lambda item: item.contact_s or 0.0)
    need = max(row.contact_s or 0.0, measured.label_min or 0.0)
    held = seconds(measured.value, measured.unit)
    verdict: Verdict = "meets" if held >= need else "violates"
    why = f"{words.span(held)} of contact, and {words.span(need)} are needed"
    return _answer(verdict, row.section, ">=", need, "second", held, why)


def _answer(
    verdict: Verdict, section: str, operator: str, limit: float, unit: str, value: float, why: str
) -> Check:
    return Check(
        verdict=verdict,
        section=section,
        operator=operator,
        limit=limit,
        unit=unit,
        margin=exact(value - limit),
        why=why,
    )

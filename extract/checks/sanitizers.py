"""Chemical sanitizers: strength, temperature and pH judged together, as each makes up for the others."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from extract.checks import words
from extract.checks.between import Range
from extract.checks.comparing import compare, exact
from extract.checks.exactly import seconds
from extract.checks.measured import Instrument, Measured
from extract.checks.selecting import Subject
from shared.rules.model import Rules, Sanitizer
from shared.types import Check, Quantity, Verdict

_WATER = "the temperature of the solution"
_PH = "the pH of the solution"
_STRENGTH = "the strength of the solution"
_LABEL = "the range that the label gives"
_AGENT = "which sanitizer it is"
_LABEL_PH = "the highest pH that the label allows"


def check(measured: Measured, about: Subject, rules: Rules, *, instrument: Instrument) -> Check | None:
    """The verdict on a sanitizer's strength, temperature, pH or contact time; None for other readings."""
    if not _is_sanitizer(measured, about):
        return None
    agent = measured.agent
    if agent is None and "chemical_machine" in about.known:
        agent = "chlorine"
    if measured.kind == "duration":
        return _contact(measured, agent or "other", rules)
    if agent is None:
        return _of_unknown(measured, rules, instrument)
    rows = [row for row in rules.sanitizers.values() if row.in_force and row.agent == agent]
    minimums = [row for row in rows if row.kind == "minimum"]
    if not minimums:
        return Check("none", why=f"the rules hold no figures for {agent}")
    over = _over_maximum(measured, rows, about) if measured.kind == "concentration" else None
    if over is not None:
        return over
    label = next((row for row in minimums if row.by_label), None)
    if label is not None:
        return _by_label(measured, rows, label, rules, instrument)
    table = _table(minimums)
    if measured.kind == "concentration":
        return _strength(measured, table)
    if measured.kind == "temperature":
        return _water(measured, table, rules, instrument)
    return _acidity(measured, table)


def _of_unknown(measured: Measured, rules: Rules, instrument: Instrument) -> Check:
    """The verdict where nobody said which sanitizer it is: none at all never suffices, and a label that was
    read aloud is enough to know."""
    minimums = [row for row in rules.sanitizers.values() if row.in_force and row.kind == "minimum"]
    label = next((row for row in minimums if row.by_label), None)
    if measured.kind == "concentration" and label is not None:
        section = label.section.split("(")[0]
        if measured.value == 0:
            return Check("violates", section, why=f"{_said(measured)}: any sanitizer needs some")
        if measured.label_min is not None:
            return _by_label(
                replace(measured, water=None), [], replace(label, section=section), rules, instrument
            )
    return Check("undetermined", missing=(_AGENT,), why=f"{_said(measured)}: the limit depends on {_AGENT}")


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


@dataclass(frozen=True, slots=True)
class _Row:
    """A strength with the temperature and pH at which it sanitizes."""

    ppm: float
    ph: float
    water: Mapping[str, float]
    given: frozenset[str]
    section: str
    label_ph: bool
    """Whether the label may allow more."""

    def strong(self, strength: float | None) -> bool:
        """Whether a solution is strong enough, or may be."""
        return strength is None or strength >= self.ppm

    def acid(self, ph: float | None) -> bool:
        """Whether a solution is acid enough, or may be."""
        return ph is None or ph <= self.ph

    def warm(self, water: Quantity | None) -> bool:
        """Whether a solution is warm enough, or may be."""
        return water is None or water.unit not in self.water or water.value >= self.water[water.unit]


def _table(rows: Sequence[Sanitizer]) -> list[_Row]:
    return [
        _Row(row.least_ppm, row.ph_most, row.water, row.given, row.section, row.ph_by_label)
        for row in rows
        if row.least_ppm is not None and row.ph_most is not None
    ]


def _at(strength: float | None = None, ph: float | None = None, water: Quantity | None = None) -> str:
    parts = []
    if strength is not None:
        parts.append(f"{strength:g} ppm")
    if ph is not None:
        parts.append(f"pH {ph:g}")
    if water is not None:
        parts.append(words.amount(water.value, water.unit))
    return " at " + " and ".join(parts) if parts else ""


# ---------------------------------------------------------------- strength


def _over_maximum(measured: Measured, rows: Sequence[Sanitizer], about: Subject) -> Check | None:
    for row in rows:
        if row.kind == "maximum" and row.most_ppm is not None:
            more = measured.value == row.most_ppm and "more_than" in about.known
            if measured.value > row.most_ppm or more:
                why = (
                    f"{'more than ' if more else ''}{_said(measured)} is over the "
                    f"{words.amount(row.most_ppm, 'ppm')} allowed"
                )
                return _answer("violates", row.section, "<=", row.most_ppm, "ppm", measured.value, why)
    return None


def _strength(measured: Measured, table: Sequence[_Row]) -> Check:
    value, ph, water = measured.value, measured.ph, measured.water
    weakest = min(table, key=lambda row: row.ppm)
    section = weakest.section
    if value < weakest.ppm:
        why = (
            f"{_said(measured)} is under {words.amount(weakest.ppm, 'ppm')}, the weakest that any water "
            f"temperature allows"
        )
        return _answer("violates", section, ">=", weakest.ppm, "ppm", value, why)
    needed = [
        row
        for row in table
        if row.acid(ph)
        and row.warm(water)
        and (ph is not None or "ph" in row.given)
        and (water is not None or "water" in row.given)
    ]
    if not needed:
        return _no_strength(measured, table, section)
    sure = min(needed, key=lambda row: row.ppm)
    known = _at(ph=ph, water=water)
    if value >= sure.ppm:
        unit, coolest = next(iter(sure.water.items()))
        given = f", given water at {words.amount(coolest, unit)} or warmer"
        how = f"{_said(measured)} reaches the {words.amount(sure.ppm, 'ppm')} needed{known or given}"
        return _answer("meets", section, ">=", sure.ppm, "ppm", value, how)
    if any(row.strong(value) and row.acid(ph) and row.warm(water) for row in table):
        missing = tuple(name for name, fact in ((_WATER, water), (_PH, ph)) if fact is None)
        why = f"{_said(measured)}: whether it suffices depends on {' and '.join(missing)}"
        return replace(_answer("undetermined", section, ">=", sure.ppm, "ppm", value, why), missing=missing)
    why = (
        f"{_said(measured)} is {words.amount(exact(sure.ppm - value), 'ppm')} under the "
        f"{words.amount(sure.ppm, 'ppm')} needed{known}"
    )
    return _answer("violates", section, ">=", sure.ppm, "ppm", value, why)


def _no_strength(measured: Measured, table: Sequence[_Row], section: str) -> Check:
    """Why no strength at all would do, with the limit of the fact that fails."""
    ph, water = measured.ph, measured.water
    highest = max(row.ph for row in table)
    if ph is not None and ph > highest:
        if any(row.label_ph for row in table):
            return _by_label_ph(ph, section)
        why = f"at pH {ph:g} no strength is shown to sanitize; the table ends at pH {highest:g}"
        return _answer("violates", section, "<=", highest, "pH", ph, why)
    waters = [row.water[water.unit] for row in table if water and row.acid(ph) and water.unit in row.water]
    if water is None or not waters:
        return Check("violates", section, why="no row of the table is met")
    least = min(waters)
    why = (
        f"{words.amount(water.value, water.unit)} is below {words.amount(least, water.unit)}, the "
        f"coolest the table allows"
    )
    return _answer("violates", section, ">=", least, water.unit, water.value, why)


def _by_label_ph(ph: float, section: str) -> Check:
    """Iodine above the pH of the code: the label may allow it (4-501.114(B)(2))."""
    why = f"pH {ph:g}: it depends on {_LABEL_PH}"
    return Check("undetermined", section, missing=(_LABEL_PH,), why=why)


# ---------------------------------------------------------------- by the label


def _by_label(
    measured: Measured, rows: Sequence[Sanitizer], label: Sanitizer, rules: Rules, instrument: Instrument
) -> Check:
    value = measured.value
    if measured.kind == "temperature":
        if measured.unit not in label.water:
            return Check("none", why="no temperature is set for this sanitizer but the label's")
        return _warm_enough(measured, label.water[measured.unit], label.section, "", rules, instrument)
    found = Range(measured.label_min, measured.label_max).check(value, measured.unit)
    if measured.kind == "ph":
        if found is None:
            return Check("none", label.section, why="no pH is set for this sanitizer but the label's")
        side = "within" if found.verdict == "meets" else "outside"
        return replace(found, section=label.section, why=f"pH {value:g} is {side} what the label gives")
    failing = _failing_facts(measured, label, rules, instrument)
    if failing is not None and (failing.verdict == "violates" or found is None or found.verdict == "meets"):
        return failing
    if found is None:
        usual = next((row for row in rows if row.kind == "label"), None)
        aside = f"; many say {usual.least_ppm:g} to {usual.most_ppm:g} ppm" if usual is not None else ""
        why = f"{_said(measured)}: it depends on {_LABEL}{aside}"
        return Check("undetermined", label.section, missing=(_LABEL,), why=why)
    if found.verdict == "meets":
        low = "0" if measured.label_min is None else f"{measured.label_min:g}"
        high = " or more" if measured.label_max is None else f" to {measured.label_max:g}"
        why = f"{_said(measured)} is within the label's {low}{high} ppm"
        return replace(found, section=label.section, why=why)
    if found.operator == ">=":
        why = f"{_said(measured)} is under the {measured.label_min:g} ppm that the label asks for"
        return replace(found, section=label.section, why=why)
    most = rules.duties.get("label_maximum")
    why = f"{_said(measured)} is over the {measured.label_max:g} ppm that the label allows"
    return replace(found, section=label.section if most is None else most.section, why=why)


def _failing_facts(measured: Measured, row: Sanitizer, rules: Rules, instrument: Instrument) -> Check | None:
    """What else of the solution fails, or may: its water, its hardness."""
    water, hardness, most = measured.water, measured.hardness_ppm, row.hardness_most_ppm
    least = row.water.get(water.unit) if water is not None else None
    cold = None
    if water is not None and least is not None and water.value < least:
        warmth = replace(measured, value=water.value, unit=water.unit)
        cold = _warm_enough(warmth, least, row.section, "", rules, instrument)
        told = f"the solution is {words.amount(water.value, water.unit)}, below the"
        if cold.verdict == "violates":
            return replace(cold, why=f"{told} {words.amount(least, water.unit)} needed")
    if hardness is not None and most is not None and hardness > most:
        why = f"water hardness {hardness:g} ppm is over {most:g} ppm, unless the label allows more"
        return _answer("violates", row.section, "<=", most, "ppm", hardness, why)
    return cold


# ---------------------------------------------------------------- the water, the pH, the time


def _water(measured: Measured, table: Sequence[_Row], rules: Rules, instrument: Instrument) -> Check:
    """Between the coolest that may do and the coolest that surely does, the strength or the pH decides."""
    unit, strength, ph = measured.unit, measured.concentration_ppm, measured.ph
    section = next(row.section for row in table)
    able = [row for row in table if unit in row.water and row.strong(strength) and row.acid(ph)]
    if not able:
        return Check("violates", section, why=f"no water temperature is enough{_at(strength, ph)}")
    coolest = min(row.water[unit] for row in able)
    surely, fact = coolest, _PH
    if strength is None:
        surely, fact = max(row.water[unit] for row in able), _STRENGTH
    elif ph is None:
        surely = min((row.water[unit] for row in able if "ph" in row.given), default=coolest)
    value = measured.value
    if coolest <= value < surely:
        return Check("undetermined", section, missing=(fact,), why=f"{_said(measured)}: it depends on {fact}")
    need = surely if value >= surely else coolest
    return _warm_enough(measured, need, section, _at(strength, ph), rules, instrument)


def _warm_enough(
    measured: Measured, need: float, section: str, at: str, rules: Rules, instrument: Instrument
) -> Check:
    unit = measured.unit
    band = instrument.band(unit, rules.decision.accuracy)
    value = measured.value
    compared = compare(value, ">=", need, band=band, rule=rules.decision.rule)
    apart = words.apart(compared.margin, unit, over="above", under="below")
    why = f"{words.amount(value, unit)} is {apart} the {words.amount(need, unit)} required{at}"
    why += words.within(band, unit, compared)
    return Check(compared.outcome, section, ">=", need, unit, compared.margin, (), why)


def _acidity(measured: Measured, table: Sequence[_Row]) -> Check:
    value, strength, water = measured.value, measured.concentration_ppm, measured.water
    section = next(row.section for row in table)
    reached = [row for row in table if row.strong(strength) and row.warm(water)]
    most = max(row.ph for row in reached or table)
    at = _at(strength, water=water)
    if value > most and any(row.label_ph for row in table):
        return _by_label_ph(value, section)
    if value > most:
        why = f"pH {value:g} is over the pH {most:g} that holds{at}"
        return _answer("violates", section, "<=", most, "pH", value, why)
    if not reached:
        return Check("violates", section, why=f"no pH makes up for it{at}")
    missing = tuple(name for name, fact in ((_STRENGTH, strength), (_WATER, water)) if fact is None)
    if missing and value > min(row.ph for row in reached):
        why = f"pH {value:g}: it depends on {' and '.join(missing)}"
        return Check("undetermined", section, missing=missing, why=why)
    if strength is not None and water is None and not any("water" in row.given for row in reached):
        return Check("undetermined", section, missing=(_WATER,), why=f"pH {value:g}: it depends on {_WATER}")
    why = f"pH {value:g} is within the pH {most:g} that holds{at}"
    return _answer("meets", section, "<=", most, "pH", value, why)


def _contact(measured: Measured, agent: str, rules: Rules) -> Check:
    rows = [row for row in rules.sanitizers.values() if row.in_force and row.kind == "contact"]
    own = [row for row in rows if row.agent == agent] or [row for row in rows if row.agent == "other"]
    able = [row for row in own if _allows(row, measured)] or [row for row in own if not row.water] or own
    needs = [(row.contact_s, row.section) for row in able if row.contact_s is not None]
    if not needs:
        return Check("none", why="the rules hold no contact time")
    need, section = min(needs)
    if measured.label_min is not None:
        need = max(need, measured.label_min)
    held = seconds(measured.value, measured.unit)
    verdict: Verdict = "meets" if held >= need else "violates"
    why = f"{words.span(held)} of contact, and {words.span(need)} are needed"
    return _answer(verdict, section, ">=", need, "second", held, why)


def _allows(row: Sanitizer, measured: Measured) -> bool:
    """Whether a contact time is enough for such a solution; a row that names a temperature needs it known."""
    strength, ph, water = measured.concentration_ppm, measured.ph, measured.water
    if strength is not None and row.least_ppm is not None and strength < row.least_ppm:
        return False
    if ph is not None and row.ph_most is not None and ph > row.ph_most:
        return False
    if not row.water:
        return True
    return water is not None and water.unit in row.water and water.value >= row.water[water.unit]


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

"""`check`: a reading held against every limit that applies to it. The worst outcome is the verdict."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from extract.checks import holding, sanitizers, special, words
from extract.checks.comparing import Compared, compare
from extract.checks.exactly import printed_value
from extract.checks.measured import COLDEST, UNKNOWN_INSTRUMENT, Instrument, Measured
from extract.checks.selecting import Subject, limits_for, open_question, subject, tables_for
from shared.rules.model import Limit, Rules, TimeTemperature
from shared.rules.rows import UNITS
from shared.types import Check, Verdict

_FROM_BEST: tuple[Verdict, ...] = ("none", "undetermined", "meets", "borderline", "violates")
_REQUEST = "consumer_request"
_ADVISORY = (
    "whether the advisory covers it and no highly susceptible population is served (3-603.11, 3-801.11)"
)


def check(measured: Measured, rules: Rules, *, instrument: Instrument = UNKNOWN_INSTRUMENT) -> Check:
    """The verdict on a reading, with its limit, margin and the sum in one sentence.

    The reading is compared in the unit it was read in. `none`: no limit applies. `undetermined`: one may,
    but a needed fact is missing, named in `missing`. `borderline`: inside the instrument's accuracy of
    the limit.
    """
    unfit = _unfit(measured)
    if unfit is not None:
        return unfit
    true = instrument.corrected(measured)
    about = subject(true)
    found = special.check(true, about, rules, instrument)
    if found is None:
        found = sanitizers.check(true, about, rules, instrument=instrument)
    if found is None:
        found = _by_limits(true, about, rules, instrument)
    return found if true is measured else replace(found, why=words.corrections(measured, true) + found.why)


def _on_request(measured: Measured, about: Subject, rules: Rules, instrument: Instrument) -> Check:
    """Undercooked at a guest's request: as ever if it is cooked enough, else it hangs on the advisory."""
    as_ever = _by_limits(measured, replace(about, known=about.known - {_REQUEST}), rules, instrument)
    if as_ever.verdict == "none" or _passes(as_ever):
        return as_ever
    still_holds = limits_for(measured, about, rules)
    if still_holds:
        return _settled(measured, about, rules, instrument)
    why = f"{as_ever.why}; undercooked at the guest's request, it depends on {_ADVISORY}"
    return replace(as_ever, verdict="undetermined", missing=(_ADVISORY,), why=why)


def _unfit(measured: Measured) -> Check | None:
    """Why a reading cannot be compared at all: its unit is missing or does not fit, or it is no number."""
    units = UNITS.get(measured.kind, ())
    if measured.unit not in units:
        known = ", ".join(units) or "none"
        why = (
            f"the unit {measured.unit or 'was not said'!r} does not fit a {measured.kind}; units are {known}"
        )
        return Check("undetermined", missing=("the unit of the reading",), why=why)
    if not math.isfinite(measured.value):
        return Check("undetermined", missing=("a figure",), why="the reading is no number")
    least = COLDEST.get(measured.unit, 0.0)
    if not least <= measured.value <= _MOST.get(measured.unit, math.inf):
        said = words.amount(measured.value, measured.unit)
        return Check(
            "undetermined", missing=("a figure that can be",), why=f"{said} cannot be: read it again"
        )
    return None


_MOST = {"pH": 14.0, "aw": 1.0}
"""The upper ends of scales; no quantity but temperature is less than nothing."""


def _by_limits(measured: Measured, about: Subject, rules: Rules, instrument: Instrument) -> Check:
    if measured.stage == "cooking" and measured.kind == "temperature" and _REQUEST in about.known:
        return _on_request(measured, about, rules, instrument)
    question = open_question(measured, about, rules)
    if question is None:
        return _settled(measured, about, rules, instrument)
    answers = [
        _settled(measured, about.with_option(option), rules, instrument) for option in question.options
    ]
    if {answer.verdict for answer in answers} in ({"none"}, {"undetermined"}):
        return next(iter(answers))
    sides = {_passes(answer) for answer in answers}
    if sides == {True}:
        return max(answers, key=lambda answer: (_badness(answer), -_closeness(answer)))
    if sides == {False}:
        return min(answers, key=lambda answer: (_badness(answer), _closeness(answer)))
    worst = max(answers, key=_badness)
    open_ = [answer for answer in answers if answer.verdict == "undetermined"]
    parts = [_either([answer for answer in answers if answer not in open_])]
    parts += [f"or {answer.why}" for answer in open_]
    return replace(
        worst,
        verdict="undetermined",
        missing=(question.asks, *(fact for answer in open_ for fact in answer.missing)),
        why=f"it depends on {question.asks}: {', '.join(parts)}",
    )


def _passes(answer: Check) -> bool | None:
    """Whether a reading as it stands is on the passing side of its limit; None where there is none."""
    if answer.verdict in ("meets", "violates"):
        return answer.verdict == "meets"
    if answer.verdict != "borderline" or answer.margin is None:
        return None
    return answer.margin <= 0 if answer.operator == "<=" else answer.margin >= 0


def _badness(answer: Check | _Held) -> int:
    return _FROM_BEST.index(answer.verdict)


def _closeness(answer: Check) -> float:
    return abs(answer.margin) if answer.margin is not None else 0.0


def _either(answers: Sequence[Check]) -> str:
    """The limits that the answers would lead to: "at least 145 °F or 155 °F"."""
    parts = []
    for operator, word in (("<=", "at most"), (">=", "at least")):
        limits = sorted(
            {
                (answer.limit, answer.unit)
                for answer in answers
                if answer.limit is not None and answer.operator == operator
            }
        )
        figures = [words.amount(limit, unit) for limit, unit in limits if unit is not None]
        if figures:
            *others, last = figures
            parts.append(f"{word} {' or '.join(part for part in (', '.join(others), last) if part)}")
    return "the limit is " + " or ".join(parts)


@dataclass(frozen=True, slots=True)
class _Held:
    """A reading held against one limit."""

    verdict: Verdict
    row: Limit
    limit: float
    unit: str
    compared: Compared
    why: str


def _settled(measured: Measured, about: Subject, rules: Rules, instrument: Instrument) -> Check:
    limits = limits_for(measured, about, rules)
    tables = tables_for(measured, about, limits, rules) if measured.kind == "temperature" else []
    if tables and (found := holding.check(measured, limits, tables, rules, instrument)) is not None:
        return found
    if not limits:
        return _kept_in_any_case(measured, about, rules, instrument) or _nothing(measured, about)
    held = [_against(measured, limit, rules, instrument) for limit in limits]
    worst = max(held, key=lambda item: (_badness(item), item.compared.beyond))
    return _checked(worst, about, _time_taken_as_given(measured, worst, tables))


_HOLDING = ("cold_holding", "hot_holding")
HELD = frozenset(("cooking", "reheating", "manual_sanitize", "freezing"))
"""Stages in which a row's time is the least for which its temperature must be held."""


def _time_taken_as_given(measured: Measured, held: _Held, tables: Sequence[TimeTemperature]) -> float:
    """Seconds for which a passing temperature must have been held, where that was not said; else 0."""
    if measured.stage not in HELD or measured.held_s is not None or not held.compared.passing:
        return 0.0
    steps = [holding.step_for_temperature(table, measured.value, measured.unit) for table in tables]
    times = [step.time_s for step in steps if step is not None]
    return min([held.row.hold_s or 0.0, *times])


def _kept_in_any_case(
    measured: Measured, about: Subject, rules: Rules, instrument: Instrument
) -> Check | None:
    """Food that needs no temperature control, held as food that does must be; None where it is not."""
    if about.food is None or "tcs" in about.known or measured.stage not in _HOLDING:
        return None
    answer = _settled(measured, replace(about, known=about.known | {"tcs"}), rules, instrument)
    if not _passes(answer):
        return None
    return replace(answer, why=f"{answer.why}, which {about.food.name} would not even need")


def _nothing(measured: Measured, about: Subject) -> Check:
    if (
        about.food is not None
        and about.food.needs_control(measured.stage) is False
        and measured.kind == "temperature"
    ):
        return Check("none", why=f"{about.food.name} needs no temperature control, so no limit applies")
    return Check("none", why="no limit applies to this reading")


def _against(measured: Measured, row: Limit, rules: Rules, instrument: Instrument) -> _Held:
    value, unit, limit = printed_value(measured.value, measured.unit, row)
    thermometer = row.quantity == "temperature" and row.accuracy
    band = instrument.band(unit, rules.decision.accuracy) if thermometer else 0.0
    tolerance = row.tolerance.get(unit, 0.0)
    compared = compare(value, row.operator, limit, tolerance=tolerance, band=band, rule=rules.decision.rule)
    why = words.against(value, unit, limit, compared, row, tolerance=tolerance)
    why += words.within(band, unit, compared)
    verdict: Verdict = compared.outcome
    if row.hold_s and measured.held_s is not None and row.stage in HELD:
        short = compare(measured.held_s, ">=", row.hold_s)
        if not short.passing:
            verdict = "violates"
            why += f"; held {words.span(measured.held_s)}, and {words.span(row.hold_s)} are needed"
        else:
            why += f"; held {words.span(measured.held_s)} of the {words.span(row.hold_s)} needed"
    return _Held(verdict, row, limit, unit, compared, why)


def _checked(worst: _Held, about: Subject, given_s: float) -> Check:
    missing: tuple[str, ...] = ()
    verdict, why = worst.verdict, worst.why
    if given_s:
        missing += (f"whether it was held {words.span(given_s)}",)
        why += f", if it was held {words.span(given_s)}"
    if about.doubtful is not None and "tcs" in worst.row.foods and worst.verdict != "meets":
        missing += (about.doubtful,)
        if about.food is not None and about.food.seldom_tcs and not worst.compared.passing:
            verdict = "undetermined"
            why += ", if it needs temperature control at all"
        else:
            why += "; taken as food that needs temperature control until that is known"
    return Check(
        verdict=verdict,
        section=worst.row.section,
        operator=worst.row.operator,
        limit=worst.limit,
        unit=worst.unit,
        margin=worst.compared.margin,
        missing=missing,
        why=why,
    )

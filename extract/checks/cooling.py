"""Cooling judged from any readings with times: what is decided, what is still open, and what the curve says.

Readings are compared in the unit they were read in. Limits of temperature and of time are inclusive.
Order does not matter. A stage is met by one reading at or under its target in time, and missed by one
over it at or after the deadline; anything else is open.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from extract.checks import newton, words
from extract.checks.comparing import exact
from extract.checks.measured import UNKNOWN_INSTRUMENT, Instrument
from extract.checks.options import Option, options_for
from shared.errors import InputError
from shared.rules.model import CoolingRule, CoolingStage, Rules
from shared.types import Check, Verdict

WARMEST_ROOM_DEGF = 75.0
"""The warmest air assumed when the start of the clock is estimated. Common practice, no source."""
_SOON = timedelta(minutes=15)
_HORIZON_MIN = 7 * 24 * 60.0
"""Nothing is forecast that is more than a week away."""


@dataclass(frozen=True, slots=True)
class Point:
    """One reading of the food."""

    at: datetime
    value: float
    unit: str


@dataclass(frozen=True, slots=True)
class Clock:
    """When the time began to count. Between two readings the start is known only within bounds."""

    earliest: datetime | None
    latest: datetime | None
    how: Literal["given", "read", "between readings", "unknown"]


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage as it stands."""

    section: str
    target: float
    unit: str
    deadline: datetime | None
    """By when the target must be reached; None while the start of the clock is unknown."""
    verdict: Verdict
    """`meets`, `violates`, or `undetermined` while it is open."""
    why: str
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Forecast:
    """When the fitted curve reaches a target, with its 95 % interval; None: not, or maybe not."""

    target: float
    unit: str
    at: datetime | None
    low: datetime | None
    high: datetime | None


@dataclass(frozen=True, slots=True)
class Cooling:
    """All that the readings of one food say."""

    rule: CoolingRule
    points: tuple[Point, ...]
    """In order of time."""
    clock: Clock
    stages: tuple[Stage, ...]
    forecast: tuple[Forecast, ...]
    fit: newton.Fit | None
    fit_from: datetime
    """When the fitted curve begins."""
    next_probe: datetime | None
    options: tuple[Option, ...]
    caution: str

    @property
    def verdict(self) -> Verdict:
        """The worst of the stages: violates, then undetermined, then meets."""
        verdicts = [stage.verdict for stage in self.stages]
        return next((one for one in ("violates", "undetermined") if one in verdicts), "meets")


def judge(
    points: Sequence[Point],
    rules: Rules,
    *,
    rule: str = "cooked",
    started: datetime | None = None,
    instrument: Instrument = UNKNOWN_INSTRUMENT,
    surroundings_degf: float | None = None,
) -> Cooling:
    """The stages, the forecast, when to probe next and what may be done now.

    `rule` is the id of a cooling rule in force; `started` the start of the clock where it is known (the
    end of preparation, receipt, or the food at 135 °F). Raises `InputError` for no readings, mixed or
    unknown units, times without an offset, or a rule that does not exist.
    """
    found = _rule(rule, rules)
    ordered = _ordered(points, found, started, instrument)
    clock = _clock(ordered, found, started)
    stages = tuple(_stage(ordered, stage, clock, found) for stage in found.stages)
    accuracy = instrument.band("degF", rules.decision.accuracy)
    used = _since_start(ordered, found)
    fit = _fit(used, accuracy, surroundings_degf)
    forecast = tuple(_forecast(stage, used, fit) for stage in stages)
    return Cooling(
        rule=found,
        points=ordered,
        clock=clock,
        stages=stages,
        forecast=forecast,
        fit=fit,
        fit_from=used[0].at,
        next_probe=_next_probe(ordered, stages, forecast),
        options=options_for(rules, _situation(stages, forecast)),
        caution=rules.caution,
    )


def each_reading(
    points: Sequence[Point],
    rules: Rules,
    *,
    rule: str = "cooked",
    started: datetime | None = None,
    instrument: Instrument = UNKNOWN_INSTRUMENT,
) -> tuple[Check, ...]:
    """A check for each point, in the order given: against the stage that was running when it was read.

    The start has no limit. A reading that reaches its stage's target in time meets; one above it is
    undetermined before the deadline and violates at or after it.
    """
    judged = judge(points, rules, rule=rule, started=started, instrument=instrument)
    return tuple(_one(_corrected(point, instrument), judged) for point in points)


# ---------------------------------------------------------------- the readings and the clock


def _rule(name: str, rules: Rules) -> CoolingRule:
    found = rules.cooling.get(name)
    if found is None or not found.in_force:
        known = ", ".join(item.id for item in rules.cooling.values() if item.in_force)
        raise InputError(f"{rules.name} has no cooling rule {name!r} in force; there are: {known}")
    return found


def _ordered(
    points: Sequence[Point], rule: CoolingRule, started: datetime | None, instrument: Instrument
) -> tuple[Point, ...]:
    if not points:
        raise InputError('no readings: give at least one, as "135 degF@14:00"')
    units = {point.unit for point in points}
    known = {unit for stage in rule.stages for unit in stage.target}
    if not any(units == {unit} for unit in known):
        raise InputError(
            f"readings are in {', '.join(sorted(units))}: give all of one cooling in one of "
            f"{', '.join(sorted(known))}"
        )
    times = [point.at for point in points] + ([started] if started else [])
    if any(time.tzinfo is None for time in times):
        raise InputError("a time has no offset from UTC: give one, as 2026-05-04T14:00-05:00")
    return tuple(
        sorted((_corrected(point, instrument) for point in points), key=lambda item: (item.at, item.value))
    )


def _unit(points: Sequence[Point]) -> str:
    """The one unit that all the readings are in."""
    return next(iter(points)).unit


def _corrected(point: Point, instrument: Instrument) -> Point:
    return Point(point.at, instrument.true(point.value, point.unit), point.unit)


def _clock(points: tuple[Point, ...], rule: CoolingRule, started: datetime | None) -> Clock:
    if started is not None:
        return Clock(started, started, "given")
    unit = _unit(points)
    if not rule.start:
        return Clock(points[0].at, points[0].at, "read")
    start = rule.start[unit]
    hot = [point for point in points if point.value >= start]
    if not hot:
        return Clock(None, points[0].at, "unknown")
    last = hot[-1]
    after = next((point for point in points if point.at > last.at), None)
    if last.value == start or after is None:
        return Clock(last.at, last.at, "read")
    return _between(last, after, start)


def _between(hot: Point, cool: Point, start: float) -> Clock:
    """The start between two readings. A cooling curve is bent downwards, so it lies below the straight line
    between them (the latest start) and above the curve towards the warmest room (the earliest)."""
    span = cool.at - hot.at
    latest = hot.at + span * ((hot.value - start) / (hot.value - cool.value))
    room = WARMEST_ROOM_DEGF if hot.unit == "degF" else (WARMEST_ROOM_DEGF - 32) * 5 / 9
    curve = newton.crossing(hot.value, cool.value, start, surroundings=min(room, cool.value - 1.0))
    return Clock(hot.at + span * curve, latest, "between readings")


# ---------------------------------------------------------------- the stages


def _stage(points: tuple[Point, ...], stage: CoolingStage, clock: Clock, rule: CoolingRule) -> Stage:
    unit = _unit(points)
    target = stage.target[unit]
    within = timedelta(minutes=stage.within_min)
    deadline = clock.earliest + within if clock.earliest is not None else None
    said = words.amount(target, unit)
    met = next(
        (
            point
            for point in points
            if point.value <= target and deadline is not None and point.at <= deadline
        ),
        None,
    )
    missed = next(
        (
            point
            for point in points
            if clock.latest and point.at >= clock.latest + within and point.value > target
        ),
        None,
    )
    if met is not None:
        since = f" after {words.span((met.at - clock.earliest).total_seconds())}" if clock.earliest else ""
        why = (
            f"{words.amount(met.value, unit)}{since}: {said} was reached within "
            f"{words.span(stage.within_min * 60)}"
        )
        return Stage(stage.section, target, unit, deadline, "meets", why)
    if missed is not None and clock.latest is not None:
        minutes = (missed.at - clock.latest).total_seconds()
        at_least = "at least " if clock.how == "unknown" else ""
        why = (
            f"{words.amount(missed.value, unit)} after {at_least}{words.span(minutes)} is "
            f"{words.amount(exact(missed.value - target), unit)} over {said}, which was due within "
            f"{words.span(stage.within_min * 60)}"
        )
        return Stage(stage.section, target, unit, deadline, "violates", why)
    return _open(points, stage, rule, target, deadline)


def _open(
    points: tuple[Point, ...],
    stage: CoolingStage,
    rule: CoolingRule,
    target: float,
    deadline: datetime | None,
) -> Stage:
    unit = _unit(points)
    said = words.amount(target, unit)
    if deadline is None:
        start = f"when it was at {words.amount(rule.start[unit], unit)}"
        why = f"it depends on {start}"
        return Stage(stage.section, target, unit, None, "undetermined", why, (start,))
    last = points[-1]
    if last.at >= deadline:
        missing = (f"a reading at {deadline:%H:%M}, when {said} was due",)
        why = f"no reading shows whether {said} was reached by {deadline:%H:%M}"
        return Stage(stage.section, target, unit, deadline, "undetermined", why, missing)
    left = words.span((deadline - last.at).total_seconds())
    why = (
        f"{words.amount(last.value, unit)} at {last.at:%H:%M}: {left} left to reach {said} by "
        f"{deadline:%H:%M}"
    )
    return Stage(stage.section, target, unit, deadline, "undetermined", why)


def _one(point: Point, judged: Cooling) -> Check:
    """The check of one reading: against the stage that was running, or the one whose deadline it missed."""
    unit = point.unit
    start = judged.rule.start.get(unit)
    if start is not None and point.value >= start:
        return Check("none", why=f"the clock starts at {words.amount(start, unit)}")
    if start is None and judged.clock.earliest == point.at and point.value > judged.stages[-1].target:
        return Check("none", why="the clock starts here")
    earliest, latest = judged.clock.earliest, judged.clock.latest
    for stage, law in zip(judged.stages, judged.rule.stages, strict=True):
        within = timedelta(minutes=law.within_min)
        margin = exact(point.value - stage.target)
        past = latest is not None and point.at >= latest + within
        if margin > 0 and past:
            return Check(
                "violates",
                stage.section,
                "<=",
                stage.target,
                unit,
                margin,
                (),
                _late(point, stage, latest, law),
            )
        running = earliest is None or point.at <= earliest + within
        if running:
            return _running(point, stage, margin, known=earliest is not None)
    last = judged.stages[-1]
    margin = exact(point.value - last.target)
    return Check("undetermined", last.section, "<=", last.target, unit, margin, last.missing, last.why)


def _running(point: Point, stage: Stage, margin: float, *, known: bool) -> Check:
    said = f"{words.amount(point.value, point.unit)} at {point.at:%H:%M}"
    target = words.amount(stage.target, point.unit)
    if not known:
        return Check(
            "undetermined", stage.section, "<=", stage.target, point.unit, margin, stage.missing, stage.why
        )  # fmt: skip
    if margin <= 0:
        why = f"{said} has reached {target} in time"
        return Check("meets", stage.section, "<=", stage.target, point.unit, margin, (), why)
    why = (
        f"{said} is {words.amount(margin, point.unit)} over {target}, which is due by {stage.deadline:%H:%M}"
    )
    return Check("undetermined", stage.section, "<=", stage.target, point.unit, margin, (), why)


def _late(point: Point, stage: Stage, latest: datetime | None, law: CoolingStage) -> str:
    after = words.span((point.at - latest).total_seconds()) if latest else "too long"
    return (
        f"{words.amount(point.value, point.unit)} after {after} is "
        f"{words.amount(exact(point.value - stage.target), point.unit)} over "
        f"{words.amount(stage.target, point.unit)}, "
        f"which was due within {words.span(law.within_min * 60)}"
    )


# ---------------------------------------------------------------- what is to come


def degf(value: float, unit: str) -> float:
    """A temperature in °F, for drawing and fitting only."""
    return value if unit == "degF" else value * 9 / 5 + 32


def _fit(used: tuple[Point, ...], accuracy_degf: float, surroundings_degf: float | None) -> newton.Fit | None:
    first = used[0].at
    minutes = [(point.at - first).total_seconds() / 60 for point in used]
    values = [degf(point.value, point.unit) for point in used]
    return newton.fit(minutes, values, accuracy_degf=accuracy_degf, surroundings_degf=surroundings_degf)


def _since_start(points: tuple[Point, ...], rule: CoolingRule) -> tuple[Point, ...]:
    """The readings from the last one at or above the start on: the curve before it is another one."""
    start = rule.start.get(_unit(points))
    if start is None:
        return points
    hot = [place for place, point in enumerate(points) if point.value >= start]
    return points[hot[-1] :] if hot else points


def _forecast(stage: Stage, used: tuple[Point, ...], fit: newton.Fit | None) -> Forecast:
    if used[0].value <= stage.target:
        return Forecast(stage.target, stage.unit, used[0].at, used[0].at, used[0].at)
    if fit is None:
        return Forecast(stage.target, stage.unit, None, None, None)
    target = degf(stage.target, stage.unit)
    low, high = fit.interval_to(target)
    times = (_after(used[0].at, minutes) for minutes in (fit.minutes_to(target), low, high))
    return Forecast(stage.target, stage.unit, *times)


def _after(first: datetime, minutes: float | None) -> datetime | None:
    if minutes is None or minutes > _HORIZON_MIN:
        return None
    return (first + timedelta(minutes=minutes)).replace(microsecond=0)


def _next_probe(
    points: tuple[Point, ...], stages: tuple[Stage, ...], forecast: tuple[Forecast, ...]
) -> datetime | None:
    """When the next reading tells most.

    Once the target is surely expected, at the latest at the deadline; half-way to it when the curve says that
    it will be missed and there is still time to act.
    """
    last = points[-1].at
    if any(stage.verdict == "violates" for stage in stages):
        return None
    for stage, expected in zip(stages, forecast, strict=True):
        if stage.verdict != "undetermined" or stage.deadline is None or stage.deadline <= last:
            continue
        if expected.at is not None and expected.at <= stage.deadline:
            sure = expected.high if expected.high is not None else stage.deadline
            return max(min(sure, stage.deadline), min(last + _SOON, stage.deadline))
        return last + (stage.deadline - last) / 2
    return None


def _situation(stages: tuple[Stage, ...], forecast: tuple[Forecast, ...]) -> str:
    if any(stage.verdict == "violates" for stage in stages):
        return "cooling_missed"
    for stage, expected in zip(stages, forecast, strict=True):
        if stage.verdict == "undetermined":
            if stage.deadline is None:
                return "cooling_unknown"
            behind = expected.at is None or expected.at > stage.deadline
            return "cooling_behind" if behind else "cooling_on_time"
    return "cooling_done"

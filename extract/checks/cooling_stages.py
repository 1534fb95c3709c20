"""The stages of cooling held against readings with times: what is decided, and what is still open.

Readings are corrected for the thermometer's offset and compared in the unit they were read in. Limits of
temperature and of time are inclusive. Order does not matter. A stage is met by one reading at or under its
target in time, and missed by one over it at or after the deadline, or borderline where that lies inside the
thermometer's accuracy; anything else is open. Times are counted in UTC, so that a night on which daylight
time begins or ends is no hour shorter or longer, and told by the clock of the first reading given.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, tzinfo
from typing import Literal

from extract.checks import newton, words
from extract.checks.comparing import Compared, compare, reached
from extract.checks.measured import UNKNOWN_INSTRUMENT, Instrument
from shared.errors import InputError
from shared.rules.model import CoolingRule, CoolingStage, DecisionRule, Rules
from shared.types import Check, Verdict

WARMEST_ROOM_DEGF = 75.0
"""The warmest air assumed when the start of the clock is estimated. Common practice, no source."""
_NEVER_HOT = {"degF": 100.0, "degC": 40.0}
"""Food first read below this was made from ingredients at room temperature; common practice, no source."""


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
    """`meets`, `violates`, `borderline`, or `undetermined` while it is open."""
    why: str
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Scale:
    """How readings are held against targets: in their unit, with the thermometer's accuracy, by the rule."""

    unit: str
    band: float
    rule: DecisionRule
    zone: tzinfo | None
    """In which times are told."""

    def against(self, point: Point, target: float) -> Compared:
        return compare(point.value, "<=", target, band=self.band, rule=self.rule)

    def verdict(self, compared: Compared) -> Verdict:
        return reached(compared, self.rule)

    def near(self, compared: Compared) -> str:
        """What a reading inside the accuracy adds to its sentence."""
        return words.within(self.band, self.unit, compared)

    def amount(self, value: float) -> str:
        return words.amount(value, self.unit)

    def time(self, at: datetime) -> str:
        return f"{at.astimezone(self.zone):%H:%M}"


@dataclass(frozen=True, slots=True)
class Held:
    """Readings held against the stages of their rule; all times in UTC."""

    rule: CoolingRule
    points: tuple[Point, ...]
    clock: Clock
    stages: tuple[Stage, ...]
    scale: Scale


def rule_of(points: Sequence[Point]) -> str:
    """The id of the rule that food goes by when nobody said what it was made of, by its first reading."""
    first = min(points, key=lambda point: point.at)
    return "room_temperature_ingredients" if first.value < _NEVER_HOT[first.unit] else "cooked"


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
    undetermined before the deadline and violates at or after it, or is borderline inside the accuracy. What
    was read before the food was hot once more is held against the clock that ran then.
    """
    held = held_against(points, rules, rule, started, instrument)
    return tuple(_of_its_cooling(point, points, held, rules, instrument) for point in points)


# ---------------------------------------------------------------- the readings and the clock


def held_against(
    points: Sequence[Point], rules: Rules, rule: str, started: datetime | None, instrument: Instrument
) -> Held:
    """The readings, in order of time, held against the cooling rule of that id. Raises as `judge` does."""
    found = _rule(rule, rules)
    ordered = _ordered(points, found, started, instrument)
    clock = _clock(ordered, found, started.astimezone(UTC) if started else None)
    unit = unit_of(ordered)
    band = instrument.band(unit, rules.decision.accuracy)
    scale = Scale(unit, band, rules.decision.rule, points[0].at.tzinfo)
    stages = tuple(_stage(ordered, stage, clock, found, scale) for stage in found.stages)
    return Held(found, ordered, clock, stages, scale)


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
        sorted((_true(point, instrument) for point in points), key=lambda item: (item.at, item.value))
    )


def unit_of(points: Sequence[Point]) -> str:
    """The one unit that all the readings are in."""
    return next(iter(points)).unit


def _true(point: Point, instrument: Instrument) -> Point:
    return Point(point.at.astimezone(UTC), instrument.true(point.value, point.unit), point.unit)


def _clock(points: tuple[Point, ...], rule: CoolingRule, started: datetime | None) -> Clock:
    if started is not None:
        return Clock(started, started, "given")
    unit = unit_of(points)
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


def _stage(
    points: tuple[Point, ...], stage: CoolingStage, clock: Clock, rule: CoolingRule, scale: Scale
) -> Stage:
    target = stage.target[scale.unit]
    within = timedelta(minutes=stage.within_min)
    deadline = clock.earliest + within if clock.earliest is not None else None
    met, missed = [], []
    for point in points:
        if _too_early(point, clock):
            continue
        compared = scale.against(point, target)
        if compared.passing and deadline is not None and point.at <= deadline:
            met.append((point, compared))
        if not compared.passing and clock.latest is not None and point.at >= clock.latest + within:
            missed.append((point, compared))
    for verdict, found in (("meets", met), ("violates", missed), ("borderline", met), ("borderline", missed)):
        for point, compared in found:
            if scale.verdict(compared) == verdict:
                why = _in_time if compared.passing else _late
                said = why(point, target, stage, clock, scale, compared)
                return Stage(stage.section, target, scale.unit, deadline, scale.verdict(compared), said)
    if _too_early(points[-1], clock):
        missing = ("a reading after the clock started",)
        return Stage(
            stage.section,
            target,
            scale.unit,
            deadline,
            "undetermined",
            _before(points[-1], clock, scale),
            missing,
        )
    return _open(points[-1], stage, rule, deadline, scale)


def _too_early(point: Point, clock: Clock) -> bool:
    """Whether a reading says nothing of the food's cooling, as it was taken before that began."""
    return clock.earliest is not None and point.at < clock.earliest


def _before(point: Point, clock: Clock, scale: Scale) -> str:
    began = scale.time(clock.earliest) if clock.earliest else ""
    return (
        f"{scale.amount(point.value)} at {scale.time(point.at)} was read before the clock started, at {began}"
    )


def _in_time(
    point: Point, target: float, stage: CoolingStage, clock: Clock, scale: Scale, compared: Compared
) -> str:
    since = f" after {words.span((point.at - clock.earliest).total_seconds())}" if clock.earliest else ""
    return (
        f"{scale.amount(point.value)}{since}: {scale.amount(target)} was reached within "
        f"{words.span(stage.within_min * 60)}{scale.near(compared)}"
    )


def _late(
    point: Point, target: float, stage: CoolingStage, clock: Clock, scale: Scale, compared: Compared
) -> str:
    at_least = "" if clock.earliest == clock.latest else "at least "
    after = words.span((point.at - clock.latest).total_seconds()) if clock.latest else "too long"
    return (
        f"{scale.amount(point.value)} after {at_least}{after} is {scale.amount(compared.margin)} over "
        f"{scale.amount(target)}, which was due within {words.span(stage.within_min * 60)}"
        f"{scale.near(compared)}"
    )


def _open(
    last: Point, stage: CoolingStage, rule: CoolingRule, deadline: datetime | None, scale: Scale
) -> Stage:
    target = stage.target[scale.unit]
    said = scale.amount(target)
    missing: tuple[str, ...] = ()
    if deadline is None:
        start = f"when it was at {scale.amount(rule.start[scale.unit])}"
        missing, why = (start,), f"it depends on {start}"
    elif last.at >= deadline:
        missing = (f"a reading at {scale.time(deadline)}, when {said} was due",)
        why = f"no reading shows whether {said} was reached by {scale.time(deadline)}"
    else:
        left = words.span((deadline - last.at).total_seconds())
        why = (
            f"{scale.amount(last.value)} at {scale.time(last.at)}: {left} left to reach {said} by "
            f"{scale.time(deadline)}"
        )
    return Stage(stage.section, target, scale.unit, deadline, "undetermined", why, missing)


def _of_its_cooling(
    point: Point, points: Sequence[Point], held: Held, rules: Rules, instrument: Instrument
) -> Check:
    """The check of a reading by the clock that ran when it was read."""
    true = _true(point, instrument)
    if not _too_early(true, held.clock) or held.clock.how == "given":
        return _one(true, held)
    until = [other for other in points if other.at <= point.at]
    return _one(true, held_against(until, rules, held.rule.id, None, instrument))


def _one(point: Point, held: Held) -> Check:
    """The check of one reading: against the stage that was running, or the one whose deadline it missed."""
    scale, clock = held.scale, held.clock
    start = held.rule.start.get(scale.unit)
    if start is not None and point.value >= start:
        return Check("none", why=f"the clock starts at {scale.amount(start)}")
    if start is None and clock.earliest == point.at and point.value > held.stages[-1].target:
        return Check("none", why="the clock starts here")
    if _too_early(point, clock):
        first = held.stages[0]
        missing = ("on which day it was read",)
        return _checked(
            "undetermined", first, scale.against(point, first.target), _before(point, clock, scale), missing
        )
    for stage, law in zip(held.stages, held.rule.stages, strict=True):
        within = timedelta(minutes=law.within_min)
        compared = scale.against(point, stage.target)
        if not compared.passing and clock.latest is not None and point.at >= clock.latest + within:
            why = _late(point, stage.target, law, clock, scale, compared)
            return _checked(scale.verdict(compared), stage, compared, why)
        if clock.earliest is None or point.at <= clock.earliest + within:
            return _running(point, stage, compared, scale)
    last = held.stages[-1]
    return _checked("undetermined", last, scale.against(point, last.target), last.why, last.missing)


def _checked(
    verdict: Verdict, stage: Stage, compared: Compared, why: str, missing: tuple[str, ...] = ()
) -> Check:
    return Check(verdict, stage.section, "<=", stage.target, stage.unit, compared.margin, missing, why)


def _running(point: Point, stage: Stage, compared: Compared, scale: Scale) -> Check:
    if stage.deadline is None:
        return _checked("undetermined", stage, compared, stage.why, stage.missing)
    said = f"{scale.amount(point.value)} at {scale.time(point.at)}"
    target = scale.amount(stage.target)
    if compared.passing:
        why = f"{said} has reached {target} in time{scale.near(compared)}"
        return _checked(scale.verdict(compared), stage, compared, why)
    due = scale.time(stage.deadline)
    why = f"{said} is {scale.amount(compared.margin)} over {target}, which is due by {due}"
    return _checked("undetermined", stage, compared, why, (f"whether it reaches {target} by {due}",))

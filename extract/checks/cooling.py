"""Cooling judged from any readings with times: the stages, what the curve says, and what may be done now."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta, tzinfo

from extract.checks import newton
from extract.checks.cooling_stages import Clock, Point, Stage, held_against, unit_of
from extract.checks.measured import UNKNOWN_INSTRUMENT, Instrument
from extract.checks.options import Option, options_for
from shared.rules.model import CoolingRule, Rules
from shared.types import Verdict

_SOON = timedelta(minutes=15)
_HORIZON_MIN = 7 * 24 * 60.0
"""Nothing is forecast that is more than a week away."""


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
        """The worst of the stages: violates, then borderline, then undetermined, then meets."""
        verdicts = [stage.verdict for stage in self.stages]
        return next((one for one in _FROM_WORST if one in verdicts), "meets")


_FROM_WORST: tuple[Verdict, ...] = ("violates", "borderline", "undetermined")


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
    held = held_against(points, rules, rule, started, instrument)
    accuracy = instrument.band("degF", rules.decision.accuracy)
    used = _since_start(held.points, held.rule)
    fit = _fit(used, accuracy, surroundings_degf)
    forecast = tuple(_forecast(stage, used, fit) for stage in held.stages)
    found = Cooling(
        rule=held.rule,
        points=held.points,
        clock=held.clock,
        stages=held.stages,
        forecast=forecast,
        fit=fit,
        fit_from=used[0].at,
        next_probe=_next_probe(held.points, held.stages, forecast),
        options=options_for(rules, _situation(used, held.stages, forecast)),
        caution=rules.caution,
    )
    return _told_in(found, held.scale.zone)


def _told_in(found: Cooling, zone: tzinfo | None) -> Cooling:
    """The same with all its times by the clock of that zone."""

    def there(at: datetime | None) -> datetime | None:
        return at.astimezone(zone) if at is not None else None

    return replace(
        found,
        points=tuple(replace(point, at=point.at.astimezone(zone)) for point in found.points),
        clock=replace(found.clock, earliest=there(found.clock.earliest), latest=there(found.clock.latest)),
        stages=tuple(replace(stage, deadline=there(stage.deadline)) for stage in found.stages),
        forecast=tuple(
            replace(item, at=there(item.at), low=there(item.low), high=there(item.high))
            for item in found.forecast
        ),
        fit_from=found.fit_from.astimezone(zone),
        next_probe=there(found.next_probe),
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
    start = rule.start.get(unit_of(points))
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


def _situation(used: tuple[Point, ...], stages: tuple[Stage, ...], forecast: tuple[Forecast, ...]) -> str:
    if any(stage.verdict == "violates" for stage in stages):
        return "cooling_missed"
    if any(stage.verdict == "borderline" for stage in stages):
        return "cooling_borderline"
    for stage, expected in zip(stages, forecast, strict=True):
        if stage.verdict == "undetermined":
            if stage.deadline is None:
                return "cooling_unknown"
            if stage.deadline <= used[-1].at:
                return "cooling_unshown"
            late = expected.at is None or expected.at > stage.deadline
            return "cooling_behind" if late and used[1:] else "cooling_on_time"
    return "cooling_done"

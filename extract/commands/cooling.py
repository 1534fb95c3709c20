"""`probeside cooling`: food that is cooling, judged and forecast from readings with times."""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable
from datetime import date, datetime, tzinfo
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from extract.checks import given
from extract.checks.cooling import Cooling, judge
from extract.checks.cooling_picture import describe, draw
from extract.commands import thermometer
from shared import rules as law
from shared import wire
from shared.errors import InputError
from shared.units import convert, written

_VERDICTS = {"meets": "met", "violates": "missed", "borderline": "borderline", "undetermined": "open"}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declares the options of the call."""
    say = parser.add_argument
    say("points", nargs="+", metavar="POINT", help="a reading with its time, such as '135 degF@14:00'")
    say("--rule", default="cooked", help="cooked, room_temperature_ingredients or received_warm")
    say("--started", help="when the clock started, where it is known: the end of preparation, or receipt")
    say("--surroundings", help="the air or ice bath that the food cools in, such as '38 degF'")
    thermometer.add_arguments(parser)
    say("--date", help="the day of the first reading, such as 2026-05-04; today if left out")
    say("--zone", help="time zone by its IANA name, such as America/Chicago; this machine's if left out")
    say("--svg", type=Path, metavar="FILE", help="draw the curve into this file")
    say("--rules", default="food_code_2022", help="name or file of the rules")
    say("--json", action="store_true", help="print JSON")


def run(options: argparse.Namespace, *, now: Callable[[], datetime] = datetime.now) -> int:
    """Prints the stages, the forecast and the options, and returns 0."""
    rules = law.load(options.rules)
    zone = _zone(options.zone) if options.zone else None
    on = _day(options.date) if options.date else now().date()
    surroundings = given.temperature(options.surroundings) if options.surroundings else None
    readings, started = given.points(options.points, on=on, zone=zone, started=options.started)
    found = judge(
        readings,
        rules,
        rule=options.rule,
        started=started,
        instrument=thermometer.thermometer(options),
        surroundings_degf=convert(surroundings.value, surroundings.unit, "degF") if surroundings else None,
    )
    if options.svg is not None:
        _write(options.svg, draw(found))
    if options.json:
        print(json.dumps(_as_json(found, rules.name), ensure_ascii=False, indent=2))
    else:
        print(_as_text(found))
    return 0


def _zone(name: str) -> tzinfo:
    try:
        return ZoneInfo(name)
    except (OSError, ValueError, KeyError) as error:
        raise InputError(f"unknown time zone {name!r}: use an IANA name, as America/Chicago") from error


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        raise InputError(f"--date {text!r} is not a date: write it as 2026-05-04") from error


def _write(path: Path, svg: str) -> None:
    try:
        path.write_text(svg, encoding="utf-8")
    except OSError as error:
        raise InputError(
            f"{path}: the picture cannot be written ({error.strerror}); choose another place"
        ) from error


def _as_json(found: Cooling, rules: str) -> dict[str, Any]:
    return {
        "schema": wire.SCHEMA,
        "rules": rules,
        "rule": found.rule.id,
        "verdict": found.verdict,
        "clock": {"earliest": wire.plain(found.clock.earliest), "how": found.clock.how},
        "stages": [
            {
                "section": stage.section,
                "target": stage.target,
                "unit": stage.unit,
                "deadline": wire.plain(stage.deadline),
                "verdict": stage.verdict,
                "missing": list(stage.missing),
                "why": stage.why,
            }
            for stage in found.stages
        ],
        "next_probe": wire.plain(found.next_probe),
        "forecast": {
            f"{item.target:g} {item.unit}": {
                "at": wire.plain(item.at),
                "low": wire.plain(item.low),
                "high": wire.plain(item.high),
            }
            for item in found.forecast
        },
        "options": [
            {"says": option.says, "section": option.section, "source": option.source.verified}
            for option in found.options
        ],
        "description": describe(found),
        "caution": found.caution,
    }


def _as_text(found: Cooling) -> str:
    lines = [f"{found.rule.title}, {found.rule.section}"]
    lines += [f"{_VERDICTS[stage.verdict]}: {stage.section}: {stage.why}" for stage in found.stages]
    facts = dict.fromkeys(fact for stage in found.stages for fact in stage.missing)
    lines += [f"find out: {fact}" for fact in facts]
    for item, stage in zip(found.forecast, found.stages, strict=True):
        if stage.verdict == "meets" or found.fit is None:
            continue
        target = written(item.target, item.unit)
        if item.at is None:
            lines.append(f"forecast: by the curve it will not reach {target}")
            continue
        low = f"{item.low:%H:%M}" if item.low else "?"
        high = f"{item.high:%H:%M}" if item.high else "never, perhaps"
        lines.append(f"forecast: {target} at about {item.at:%H:%M} (between {low} and {high})")
    if found.next_probe is not None:
        lines.append(f"next probe: {found.next_probe:%H:%M}")
    lines += [f"may be done: {option.says} ({option.section})" for option in found.options]
    lines.append(f"caution: {found.caution}")
    return "\n".join(lines)

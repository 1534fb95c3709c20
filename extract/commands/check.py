"""`probeside check`: one reading from options, held against its limit."""

from __future__ import annotations

import argparse
import json
from typing import Any

from extract.checks import Measured, check, given
from extract.checks.exactly import seconds
from extract.checks.options import Advice, out_of_limits
from extract.checks.selecting import Subject, subject
from extract.commands import conditions, thermometer
from shared import rules as law
from shared import wire
from shared.errors import InputError
from shared.rules.model import Provision, Rules, Source
from shared.rules.rows import STAGES
from shared.types import Check
from shared.units import written

_AGENTS = ("chlorine", "quat", "iodine", "peracetic", "lactic", "hot_water")
_VERDICTS = {
    "meets": "meets the limit",
    "violates": "violates the limit",
    "borderline": "borderline",
    "undetermined": "cannot be decided yet",
    "none": "no limit applies",
}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declares the options of the call."""
    say = parser.add_argument
    say("--stage", required=True, help="such as cold_holding, cooking, sanitizer")
    say("--value", required=True, help="the figure read, such as 49")
    say("--unit", required=True, help="such as degF, degC, ppm, pH, inch, foot_candle, hour")
    say("--item", help="the food or object measured, such as 'sliced turkey'")
    say("--place", help="where it was measured, such as 'walk-in cooler'")
    say("--held", help="how long a temperature was held, such as '15 s'")
    say("--at", help="the temperature that goes with a duration, such as '134 degF'")
    say("--agent", choices=_AGENTS, help="the sanitizer")
    say("--ph", help="pH of the sanitizing solution, or of a food beside its water activity")
    say("--aw", help="water activity of a food beside its pH")
    say("--water", help="temperature of the sanitizing solution, such as '76 degF'")
    say("--concentration", help="strength of the solution in ppm, when its pH or temperature is the reading")
    say("--hardness", help="hardness of the water in ppm")
    say("--label-min", help="lower end of the range on the label")
    say("--label-max", help="upper end of the range on the label")
    say("--diameter", help="inside diameter of a water inlet, for an air gap, such as '0.5 inch'")
    say("--said", action="append", default=[], metavar="CONDITION", help="a condition, such as microwave")
    thermometer.add_arguments(parser)
    say("--out-for", help="how long the food has been out of its limit, such as '3 h'")
    say("--rules", default="food_code_2022", help="name or file of the rules")
    say("--json", action="store_true", help="print JSON")


def run(options: argparse.Namespace) -> int:
    """Prints the verdict and returns 0. A call that makes no sense raises `InputError`."""
    rules = law.load(options.rules)
    measured = _measured(options, rules)
    found = check(measured, rules, instrument=thermometer.thermometer(options))
    advice = _advice(measured, found, rules, options.out_for)
    if options.json:
        print(json.dumps(_as_json(measured, found, rules, advice), ensure_ascii=False, indent=2))
    else:
        print(_as_text(found, rules, advice))
    return 0


def _advice(measured: Measured, found: Check, rules: Rules, out_for: str | None) -> Advice | None:
    if not _is_out(found):
        return None
    elapsed_min = given.span(out_for) / 60 if out_for else None
    if elapsed_min is None and measured.kind == "duration":
        elapsed_min = seconds(measured.value, measured.unit) / 60
    near = found.verdict == "borderline"
    return out_of_limits(measured.stage, rules, kind=measured.kind, elapsed_min=elapsed_min, near=near)


def _is_out(found: Check) -> bool:
    failing = (found.operator == ">=" and (found.margin or 0) < 0) or (
        found.operator == "<=" and (found.margin or 0) > 0
    )
    return found.verdict == "violates" or (found.verdict == "borderline" and failing)


def _measured(options: argparse.Namespace, rules: Rules) -> Measured:
    unit = given.unit(options.unit)
    stage = options.stage.strip().lower().replace("-", "_").replace(" ", "_")
    if stage not in STAGES:
        raise InputError(f"unknown stage {options.stage!r}: use one of {', '.join(STAGES)}")
    least, most = _optional(options.label_min, "--label-min"), _optional(options.label_max, "--label-max")
    if least is not None and most is not None and least > most:
        raise InputError(
            f"--label-min {least:g} is over --label-max {most:g}: give the lower end of the range first"
        )
    return Measured(
        kind=given.kind_of(unit),
        value=given.number(options.value, "--value"),
        unit=unit,
        stage=stage,
        item=options.item,
        place=options.place,
        agent=options.agent,
        held_s=given.span(options.held) if options.held else None,
        at=given.temperature(options.at) if options.at else None,
        ph=_optional(options.ph, "--ph"),
        aw=_optional(options.aw, "--aw"),
        water=given.temperature(options.water) if options.water else None,
        concentration_ppm=_optional(options.concentration, "--concentration"),
        hardness_ppm=_optional(options.hardness, "--hardness"),
        label_min=least,
        label_max=most,
        diameter=given.length(options.diameter) if options.diameter else None,
        elevation_m=thermometer.elevation(options),
        says=conditions.said(options.said, rules),
    )


def _optional(text: str | None, name: str) -> float | None:
    return None if text is None else given.number(text, name)


def source_of(found: Check, rules: Rules) -> Source | None:
    """Where the limit of a check comes from: the row with its section and figure, else the provision."""
    for limit in rules.limits.values():
        if (
            limit.in_force
            and limit.section == found.section
            and limit.values.get(found.unit or "") == found.limit
        ):
            return limit.source
    provision = rules.provision(found.section or "")
    return provision.source if provision is not None else None


def _as_json(measured: Measured, found: Check, rules: Rules, advice: Advice | None) -> dict[str, Any]:
    provision = rules.provision(found.section or "")
    source = source_of(found, rules)
    return {
        "schema": wire.SCHEMA,
        "rules": rules.name,
        **wire.check(found),
        "provision": _provision(provision),
        "source": wire.plain(source) if source is not None else None,
        "options": [
            {"says": option.says, "section": option.section, "source": option.source.verified}
            for option in (advice.options if advice else ())
        ],
        "question": advice.question if advice else None,
        "understood": _understood(measured, subject(measured)),
        "caution": rules.caution,
    }


def _provision(provision: Provision | None) -> dict[str, Any] | None:
    if provision is None:
        return None
    return {
        "section": provision.section,
        "title": provision.title,
        "class": provision.classes[0],
        "form_item": provision.form_item,
    }


def _understood(measured: Measured, about: Subject) -> dict[str, Any]:
    """Every fact that was taken from the call, and what the vocabulary made of the names."""
    facts = {
        name: wire.plain(getattr(measured, name))
        for name in measured.__dataclass_fields__
        if name not in ("food", "says") and getattr(measured, name) is not None
    }
    food = about.food
    return {
        **facts,
        "food": None if food is None else {"name": food.name, "kind": food.kind, "tags": sorted(food.tags)},
        "known": sorted(about.known),
    }


def _as_text(found: Check, rules: Rules, advice: Advice | None) -> str:
    lines = [f"{_VERDICTS[found.verdict]}: {found.why}"]
    if found.limit is not None and found.unit is not None and found.operator is not None:
        sign = {"<=": "at most", ">=": "at least", "+-": "within tolerance of"}[found.operator]
        margin = "" if found.margin is None else f", margin {found.margin:+g}".replace("-", "−")
        lines.append(f"limit: {sign} {written(found.limit, found.unit)}{margin}")
    provision = rules.provision(found.section or "")
    if found.section is not None:
        title = f" {provision.title} ({provision.classes[0]})" if provision is not None else ""
        lines.append(f"section: {found.section}{title}, {rules.title}")
        source = source_of(found, rules)
        if source is not None:
            lines.append(f"source: {source.text}; verified: {source.verified}")
    lines += [f"find out: {fact}{conditions.answers(fact, rules)}" for fact in found.missing]
    if advice is not None:
        lines += [f"find out: {advice.question}"] if advice.question else []
        lines += [f"may be done: {option.says} ({option.section})" for option in advice.options]
        lines.append(f"caution: {advice.caution}")
    return "\n".join(lines)

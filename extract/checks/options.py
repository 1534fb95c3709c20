"""What may be done with food, as options with their source. They are proposals; the person decides."""

from __future__ import annotations

from dataclasses import dataclass

from shared.rules.model import OptionRow, Rules

Option = OptionRow

_OUT_OF = {
    ("cold_holding", "temperature"): "cold_holding_out",
    ("hot_holding", "temperature"): "hot_holding_out",
    ("cooking", "temperature"): "cooking_out",
    ("cooking", "duration"): "cooking_out",
    ("reheating", "temperature"): "reheating_out",
    ("reheating", "duration"): "reheating_out",
    ("receiving", "temperature"): "receiving_out",
    ("time_control", "temperature"): "time_control_warm",
    ("time_control", "duration"): "time_control_out",
    ("storage", "duration"): "date_marking_out",
}
"""The situation of food whose reading violates, by its stage and kind."""


@dataclass(frozen=True, slots=True)
class Advice:
    """Options for food out of its limits, and the caution that goes with them."""

    options: tuple[Option, ...]
    question: str | None
    """What must be found out to choose, in plain words."""
    caution: str


def options_for(rules: Rules, situation: str, *, elapsed_min: float | None = None) -> tuple[Option, ...]:
    """The options of a situation, in the order of the file; those bound to a time only when it is known."""
    return tuple(
        option
        for option in rules.options.values()
        if option.situation == situation and _fits(option, elapsed_min)
    )


def _fits(option: Option, elapsed_min: float | None) -> bool:
    if elapsed_min is None:
        return option.less_than_min is None and option.at_least_min is None
    if option.less_than_min is not None and elapsed_min >= option.less_than_min:
        return False
    return option.at_least_min is None or elapsed_min >= option.at_least_min


def out_of_limits(
    stage: str,
    rules: Rules,
    *,
    kind: str = "temperature",
    elapsed_min: float | None = None,
    near: bool = False,
) -> Advice | None:
    """What may be done with food out of its limits at a stage, given for how long; None for other readings.

    `near`: the reading lies inside the thermometer's accuracy, so that it should be taken again first.
    """
    situation = _OUT_OF.get((stage, kind))
    if situation is None:
        return None
    found = options_for(rules, situation, elapsed_min=elapsed_min)
    question = None
    if elapsed_min is None:
        timed = any(
            option.situation == situation and (option.less_than_min or option.at_least_min)
            for option in rules.options.values()
        )
        question = "how long it has been out" if timed else None
        found += options_for(rules, f"{situation}_unknown")
    again = options_for(rules, "borderline") if near else ()
    return Advice(again + found, question, rules.caution)

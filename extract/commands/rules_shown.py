"""The rows of a rules file that a call asks for, and each as one line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from extract.checks.checking import HELD
from extract.checks.words import span
from shared.rules.model import CoolingRule, Limit, Provision, Rules, Sanitizer, TimeTemperature
from shared.units import written

_SIGNS = {"<=": "at most", ">=": "at least", "+-": "within"}


def chosen(rules: Rules, *, stage: str | None, section: str | None) -> dict[str, list[Any]]:
    """The rows of a stage, or of a section and all under it, by their kind; with neither, all of these."""
    return {
        "limits": [
            row
            for row in rules.limits.values()
            if stage in (None, row.stage) and _under(row.section, section)
        ],
        "tables": [
            row
            for row in rules.tables.values()
            if (stage is None or stage in row.stages) and _under(row.section, section)
        ],
        "sanitizers": [
            row
            for row in rules.sanitizers.values()
            if stage in (None, "sanitizer") and _under(row.section, section)
        ],
        "cooling": [
            row
            for row in rules.cooling.values()
            if stage in (None, "cooling")
            and any(_under(one, section) for one in (row.section, *(part.section for part in row.stages)))
        ],
        "provisions": [
            row for row in rules.provisions.values() if stage is None and _under(row.section, section)
        ],
    }


def line(row: Limit | TimeTemperature | Sanitizer | CoolingRule | Provision) -> str:
    """A row with its section, its figures, its conditions and its source."""
    if isinstance(row, Limit):
        said, what = row.says, _limit(row)
    elif isinstance(row, TimeTemperature):
        said = row.title
        steps = (
            f"{_figures(step.values)} {span(step.time_s) if step.time_s else 'an instant'}"
            for step in row.steps
        )
        what = ", ".join(steps)
    elif isinstance(row, Sanitizer):
        said, what = f"{row.agent.replace('_', ' ')}, {row.kind}", _sanitizer(row)
    elif isinstance(row, CoolingRule):
        said = f"{row.title}, from {row.clock_from}"
        what = ", ".join(
            f"{_figures(part.target)} within {span(part.within_min * 60)}" for part in row.stages
        )
    else:
        item = f", line {row.form_item}" if row.form_item is not None else ""
        return f"{row.section}  {row.title} ({'/'.join(row.classes)}{item}; {row.source.verified})"
    edition = f" [edition {row.edition}]" if row.edition else ""
    force = "" if row.in_force else " [not in force]"
    return f"{row.section}  {said}: {what}{edition}{force}  ({row.id}; {row.source.verified})"


def _limit(row: Limit) -> str:
    parts = [f"{_SIGNS[row.operator]} {_figures(row.values)}"]
    if row.tolerance:
        parts = [f"within {_figures(row.tolerance)} of {_figures(row.values)}"]
    if row.hold_s and row.stage in HELD:
        parts.append(f"held {span(row.hold_s)}")
    if row.when:
        parts.append(f"when {', '.join(sorted(row.when))}")
    if row.unless:
        parts.append(f"unless {', '.join(sorted(row.unless))}")
    return "; ".join(parts)


def _sanitizer(row: Sanitizer) -> str:
    facts: Sequence[tuple[str, float | None, str]] = (
        ("at least", row.least_ppm, "ppm"), ("at most", row.most_ppm, "ppm"), ("pH at most", row.ph_most, ""),
        ("hardness at most", row.hardness_most_ppm, "ppm"),
    )  # fmt: skip
    parts = [
        " ".join(part for part in (name, f"{value:g}", unit) if part) for name, value, unit in facts if value
    ]
    if row.water:
        parts.append(f"water at least {_figures(row.water)}")
    if row.contact_s:
        parts.append(f"contact {span(row.contact_s)}")
    if row.by_label:
        parts.append("strength by the label")
    return ", ".join(parts)


def _figures(values: Mapping[str, float]) -> str:
    return " / ".join(written(value, unit) for unit, value in values.items())


def _under(section: str, wanted: str | None) -> bool:
    return wanted is None or section == wanted or section.startswith(f"{wanted}(")

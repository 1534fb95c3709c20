"""`load` gives a jurisdiction's law, checked; all faults are reported at once, by file and entry."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import get_args

from shared.errors import InputError
from shared.rules import conduct_rows, known, rows
from shared.rules.fields import Fault, Row
from shared.rules.files import FORMAT, Layers, find, gather
from shared.rules.model import Decision, DecisionRule, Limit, Rules, Source

_SHOWN = 12


class RulesError(InputError):
    """A rules file has faults; `faults` holds them all."""

    def __init__(self, name: str, faults: list[Fault]) -> None:
        self.faults = faults
        shown = "; ".join(str(fault) for fault in faults[:_SHOWN])
        more = f"; and {len(faults) - _SHOWN} more" if len(faults) > _SHOWN else ""
        super().__init__(
            f"the rules {name!r} have {len(faults)} fault{'s' * (len(faults) > 1)}: {shown}{more}. "
            f"Correct them; `probeside rules validate {name}` lists all"
        )


def load(name_or_path: str | Path = "food_code_2022") -> Rules:
    """The rules of that name, or in that file or folder.

    Raises `InputError` when there are none, `RulesError` with every fault when they are not whole.
    Shipped rules are read once in a process.
    """
    return _load(str(name_or_path))


@lru_cache(maxsize=16)
def _load(name_or_path: str) -> Rules:
    rules, faults = examine(name_or_path)
    if faults or rules is None:
        raise RulesError(name_or_path, faults)
    return rules


def examine(name_or_path: str | Path) -> tuple[Rules | None, list[Fault]]:
    """The rules, if they are whole, and every fault. Raises `InputError` when there are no such rules."""
    path = find(name_or_path)
    layers = gather(path)
    rules = _build(layers)
    if path != known.MODEL:  # its own words are the known ones
        known.note_unknown(layers)
    return (None if layers.faults else rules), layers.faults


def _build(layers: Layers) -> Rules:
    header = Row(
        {key: value for key, value in layers.header.items() if not isinstance(value, list)},
        layers.header_file,
        "header",
        layers.faults,
    )
    if header.text("format") not in (FORMAT, ""):
        header.fault(f"`format` must be {FORMAT!r}")
    decision = header.raw.get("decision", {})
    sources = rows.sources(layers)
    limits = rows.limits(layers, sources)
    return Rules(
        name=header.text("name"),
        title=header.text("title"),
        edition=header.text("edition"),
        effective=header.day("effective"),
        caution=header.text("caution", ""),
        inherits=tuple(layers.inherits),
        decision=_decision(decision, header),
        provisions=rows.provisions(layers, sources),
        form_items=rows.form_items(layers, sources),
        limits=limits,
        by_stage=_by_stage(limits),
        tables=rows.tables(layers, sources, limits),
        ambiguities=rows.ambiguities(layers),
        sanitizers=rows.sanitizers(layers, sources),
        cooling=rows.cooling(layers, sources),
        tcs_cells=conduct_rows.tcs_cells(layers, sources),
        deadlines=conduct_rows.deadlines(layers, sources),
        hazards=conduct_rows.hazards(layers, sources),
        categories=conduct_rows.categories(layers, sources),
        options=conduct_rows.options(layers, sources),
        illnesses=conduct_rows.illnesses(layers, sources),
        duties=conduct_rows.duties(layers, sources),
        edition_notes=conduct_rows.edition_notes(layers, sources),
    )


def _decision(raw: object, header: Row) -> Decision:
    if not isinstance(raw, Mapping):
        header.fault("`decision` must be a table")
        return Decision()
    row = Row(raw, header.file, "decision", header.faults)
    plain = Decision()
    accuracy = row.quantities("accuracy", ("degF", "degC"), least=0)
    decision = Decision(
        rule=row.choice("rule", get_args(DecisionRule), plain.rule),
        accuracy=accuracy or plain.accuracy,
    )
    if accuracy and set(accuracy) != set(plain.accuracy):
        row.fault(f"`accuracy` must be given in {' and '.join(plain.accuracy)}")
    row.closed()
    return decision


def _by_stage(limits: Mapping[str, Limit]) -> Mapping[tuple[str, str], tuple[Limit, ...]]:
    found: dict[tuple[str, str], list[Limit]] = {}
    for limit in limits.values():
        if limit.in_force:
            found.setdefault((limit.stage, limit.quantity), []).append(limit)
    return MappingProxyType({key: tuple(value) for key, value in found.items()})


__all__ = ["RulesError", "Source", "examine", "load"]

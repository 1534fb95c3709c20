"""`probeside rules`: list, show, validate and compare rules files."""

from __future__ import annotations

import argparse
import json
import sys
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from extract.commands import rules_shown
from extract.commands.rules_inspection import Change, changes
from shared import rules as law
from shared import wire
from shared.errors import InputError
from shared.rules.comparing import KINDS, Difference, differences
from shared.rules.model import Rules, Source
from shared.units import written


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declares the calls `list`, `show`, `validate` and `compare`."""
    calls = parser.add_subparsers(dest="rules_call", required=True, metavar="CALL")
    _call(calls, "list", "the rules that ship with the program", _list)
    show = _call(calls, "show", "what a jurisdiction says", _show)
    show.add_argument("name", help="name or file of the rules")
    show.add_argument("--stage", help="only limits of this stage, such as cold_holding")
    show.add_argument("--section", help="only what this section says, such as 3-501.16")
    validate = _call(calls, "validate", "all faults of a rules file, by file and entry", _validate)
    validate.add_argument("file", help="name, file or folder of the rules")
    compare = _call(calls, "compare", "where two jurisdictions differ", _compare)
    compare.add_argument("first", help="name or file of the first rules")
    compare.add_argument("second", help="name or file of the second rules")
    compare.add_argument(
        "--inspection",
        metavar="FILE",
        type=Path,
        help="what would change for this one: its text, an utterance a line",
    )


def _call(
    calls: Any, name: str, does: str, run: Callable[[argparse.Namespace], int]
) -> argparse.ArgumentParser:
    parser: argparse.ArgumentParser = calls.add_parser(name, help=does, description=does)
    parser.add_argument("--json", action="store_true", help="print JSON")
    parser.set_defaults(rules_run=run)
    return parser


def run(options: argparse.Namespace) -> int:
    """Runs the call. `validate` returns 1 when there are faults."""
    return int(options.rules_run(options))


# ---------------------------------------------------------------- list


def _list(options: argparse.Namespace) -> int:
    found = [law.load(name) for name in law.names()]
    if options.json:
        print(json.dumps([_head(rules) for rules in found], ensure_ascii=False, indent=2))
        return 0
    for rules in found:
        base = f", as {rules.inherits[0]} except for its own rows" if rules.inherits else ""
        since = f", in force from {rules.effective}" if rules.effective else ""
        print(f"{rules.name}: {rules.title}, edition {rules.edition}{since}{base}")
        print("  " + ", ".join(f"{count} {kind.replace('_', ' ')}" for kind, count in _counts(rules).items()))
    return 0


def _counts(rules: Rules) -> dict[str, int]:
    return {kind: len(getattr(rules, kind)) for kind in KINDS}


def _head(rules: Rules) -> dict[str, Any]:
    return {
        "name": rules.name,
        "title": rules.title,
        "edition": rules.edition,
        "effective": wire.plain(rules.effective),
        "inherits": list(rules.inherits),
        "decision": wire.plain(rules.decision),
        "caution": rules.caution,
        "rows": _counts(rules),
        "verified": _verified(rules),
    }


def _verified(rules: Rules) -> dict[str, int]:
    """How many rows rest on what: a government text, a secondary one, memory, or common practice."""
    sources: list[Source] = [row.source for kind in KINDS for row in getattr(rules, kind).values()]
    counted = Counter(source.verified.split(":")[0] for source in sources)
    return dict(counted.most_common())


# ---------------------------------------------------------------- show


def _show(options: argparse.Namespace) -> int:
    rules = law.load(options.name)
    chosen = rules_shown.chosen(rules, stage=options.stage, section=options.section)
    if not any(chosen.values()):
        raise InputError(
            f"{rules.name} has nothing for that stage or section: leave the option out to see all"
        )
    if options.json:
        shown: dict[str, Any] = {
            **_head(rules),
            **{kind: [wire.plain(_open(row)) for row in rows] for kind, rows in chosen.items()},
        }
        if not options.stage and not options.section:
            shown |= {
                kind: [wire.plain(_open(row)) for row in getattr(rules, kind).values()]
                for kind in KINDS[3:]
                if kind not in shown
            }
        print(json.dumps(shown, ensure_ascii=False, indent=2))
        return 0
    print(f"{rules.title}, edition {rules.edition} ({rules.name})")
    for kind, count in _verified(rules).items():
        print(f"  {count} rows: {kind}")
    for row in (row for rows in chosen.values() for row in rows):
        print(rules_shown.line(row))
    return 0


def _open(row: Any) -> dict[str, Any]:
    """A row as plain values, sets in the order of the alphabet."""
    return {
        name: sorted(value) if isinstance(value, frozenset) else value
        for name in row.__dataclass_fields__
        for value in (getattr(row, name),)
    }


# ---------------------------------------------------------------- validate


def _validate(options: argparse.Namespace) -> int:
    rules, faults = law.examine(options.file)
    if options.json:
        print(json.dumps({"whole": not faults, "faults": [wire.plain(fault) for fault in faults]}, indent=2))
        return 1 if faults else 0
    for fault in faults:
        print(fault)
    if faults or rules is None:
        print(f"{options.file}: {len(faults)} fault{'s' * (len(faults) != 1)}", file=sys.stderr)
        return 1
    counts = ", ".join(f"{count} {kind}" for kind, count in _counts(rules).items() if count)
    print(f"{options.file}: whole; {counts}")
    return 0


# ---------------------------------------------------------------- compare


def _compare(options: argparse.Namespace) -> int:
    first, second = law.load(options.first), law.load(options.second)
    if options.inspection is not None:
        found = changes(options.inspection, first, second)
        _print_changes(found, first, second, as_json=options.json)
        return 0
    rows = differences(first, second)
    if options.json:
        print(json.dumps([_as_json(row) for row in rows], ensure_ascii=False, indent=2))
        return 0
    for row in rows:
        print(f"{row.kind.replace('_', ' ')}: {row.name}: {row.what}")
        for name, (mine, theirs) in row.fields.items():
            print(f"  {name}: {_shown(mine)} → {_shown(theirs)}")
    print(f"{len(rows)} rows differ" if rows else "no row differs")
    return 0


def _as_json(row: Difference) -> dict[str, Any]:
    changed = {
        name: {"first": _plain(mine), "second": _plain(theirs)} for name, (mine, theirs) in row.fields.items()
    }
    return {"kind": row.kind, "name": row.name, "what": row.what, "fields": changed}


def _plain(value: Any) -> Any:
    return sorted(value) if isinstance(value, frozenset) else wire.plain(value)


def _shown(value: Any) -> str:
    if isinstance(value, Mapping):
        return " / ".join(written(figure, unit) for unit, figure in value.items())
    if isinstance(value, frozenset):
        return ", ".join(sorted(value)) or "nothing"
    return "nothing" if value is None or value == "" else str(value)


def _print_changes(found: Sequence[Change], first: Rules, second: Rules, *, as_json: bool) -> None:
    if as_json:
        print(json.dumps([wire.plain(change) for change in found], ensure_ascii=False, indent=2))
        return
    for change in found:
        print(
            f"{change.said}: {change.first.verdict} under {first.name}, {change.second.verdict} under "
            f"{second.name}"
        )
        print(f"  {first.name}: {change.first.why}")
        print(f"  {second.name}: {change.second.why}")
    print(
        f"{len(found)} readings would be judged otherwise"
        if found
        else "no reading would be judged otherwise"
    )

"""The conditions that a call may name: those that a row of the rules, or the sums themselves, know."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

from shared.errors import InputError
from shared.rules.known import BY_SUMS
from shared.rules.model import Limit, Rules, TimeTemperature


def said(texts: Iterable[str], rules: Rules) -> frozenset[str]:
    """The conditions of a call. Raises `InputError` for one that changes nothing anywhere."""
    known = _known(rules)
    found = frozenset(text.strip().lower().replace("-", "_").replace(" ", "_") for text in texts)
    for text in sorted(found - known):
        near = get_close_matches(text, sorted(known), n=3)
        hint = f"did you mean {' or '.join(near)}?" if near else "docs/rules.md lists the conditions in use"
        raise InputError(f"--said {text!r} is no condition of {rules.name}: {hint}")
    return found


def answers(question: str, rules: Rules) -> str:
    """How a call answers a question: " (--said roast_table or --said cooked_otherwise)"; else nothing."""
    asked = (item for items in rules.ambiguities.values() for item in items if item.asks == question)
    options = next((item.options for item in asked), ())
    return f" ({' or '.join(f'--said {option}' for option in options)})" if options else ""


def _known(rules: Rules) -> frozenset[str]:
    named: list[Limit | TimeTemperature] = [*rules.limits.values(), *rules.tables.values()]
    rows = frozenset(word for row in named for word in row.when | row.unless | row.foods | row.not_foods)
    asked = frozenset(
        word
        for items in rules.ambiguities.values()
        for item in items
        for word in (*item.unless, *item.options, *item.foods, *item.not_foods)
    )
    return rows | asked | BY_SUMS

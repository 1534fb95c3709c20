"""Holding a reading that the inspector changed against its limit again."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from extract.checks import Measured, check
from review_api.store.values import to_json
from shared.rules.model import Rules


def recheck(reading: Mapping[str, Any], rules: Rules) -> dict[str, Any]:
    """The check of the reading as it is now, as JSON."""
    names = ("kind", "value", "unit", "stage", "item", "agent")
    return to_json(check(Measured(**{name: reading[name] for name in names}), rules))

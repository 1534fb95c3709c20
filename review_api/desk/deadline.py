"""By when a violation that is decided at the desk must be corrected."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, tzinfo
from typing import Any

from extract.checks.correcting import correct_by
from review_api.place_time import local
from shared.errors import InputError
from shared.rules.model import Rules

_DECIDE = ("when", "class_", "corrected_on_site")
"""The parts of a finding that its deadline follows from."""


def deadline(class_: str, found: datetime, rules: Rules, zone: tzinfo) -> str | None:
    """By when a violation of that class must be corrected, as the rules say; None where they do not."""
    try:
        return correct_by(class_, local(found, zone), rules, zone=zone).latest.isoformat()
    except (InputError, OverflowError, ValueError):
        return None


def by_when(
    base: Mapping[str, Any],
    shown: Mapping[str, Any],
    edits: Mapping[str, Any],
    rules: Rules,
    zone: tzinfo,
) -> str | None:
    """The deadline of a finding as it stands: the one that the inspector typed; else the program's own while
    time and class are as proposed; else by the rules from the time and class that stand.

    `base`: the finding as it was proposed or added by hand; `shown`: with answers and edits over it. One
    that was added without a time counts from when it was added.
    """
    if "correct_by" in edits:
        typed: str | None = edits["correct_by"]
        return typed
    own: str | None = base.get("correct_by")
    by_hand = "at" in base
    if not by_hand and all(shown.get(name) == base.get(name) for name in _DECIDE):
        return own
    found = shown.get("when") or (base["at"] if by_hand else None)
    if found is None or shown.get("corrected_on_site"):
        return own if shown.get("corrected_on_site") else None
    return deadline(shown["class_"], datetime.fromisoformat(found), rules, zone)

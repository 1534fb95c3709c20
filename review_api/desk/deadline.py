"""By when a violation that is decided at the desk must be corrected."""

from __future__ import annotations

from datetime import datetime

from extract.checks.correcting import correct_by
from shared.errors import InputError
from shared.rules.model import Rules


def deadline(class_: str, found: datetime, rules: Rules) -> str | None:
    """By when a violation of that class must be corrected, as the rules say; None where they do not."""
    try:
        return correct_by(class_, found, rules).latest.isoformat()
    except InputError:
        return None

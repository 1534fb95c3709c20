"""What would change for a given inspection under other rules."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from shared.rules.model import Rules
from shared.types import Check, Reading


@dataclass(frozen=True, slots=True)
class Change:
    """A reading that two jurisdictions judge differently."""

    said: str
    """The reading as a person knows it: "43 °F, sliced turkey, walk-in cooler"."""
    first: Check
    second: Check


def changes(file: Path, first: Rules, second: Rules) -> tuple[Change, ...]:
    """The readings of an inspection's text, one utterance a line, whose verdict, section or limit differ.

    Raises `InputError` when the file cannot be read.
    """
    from extract.commands.extract import text_of, utterances
    from extract.extraction import extract

    said = list(utterances(text_of(str(file))))
    mine = extract(said, rules=first).readings
    theirs = {_key(reading): reading for reading in extract(said, rules=second).readings}
    found = []
    for reading in mine:
        other = theirs.get(_key(reading))
        if reading.check is None or other is None or other.check is None:
            continue
        if _judged(reading.check) != _judged(other.check):
            found.append(Change(_named(reading), reading.check, other.check))
    return tuple(found)


def _key(reading: Reading) -> tuple[int, tuple[int, int], str | None]:
    return reading.utterance, reading.span, reading.item


def _judged(check: Check) -> tuple[str, str | None, float | None]:
    return check.verdict, check.section, check.limit


def _named(reading: Reading) -> str:
    from extract.checks.words import amount

    return ", ".join(
        part for part in (amount(reading.value, reading.unit), reading.item, reading.place) if part
    )

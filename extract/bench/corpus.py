"""A corpus of dictations with what they mean, one JSON object a line."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from shared.errors import InputError
from shared.types import Utterance

_DAY = datetime(2026, 1, 5, tzinfo=UTC)
"""The day on which all dictations are taken to have been said; only the time of day matters."""


@dataclass(frozen=True, slots=True)
class Gold:
    """A reading as the corpus has it."""

    kind: str
    value: float
    unit: str
    stage: str
    item: str | None
    place: str | None
    agent: str | None
    clock: str | None
    verdict: str


@dataclass(frozen=True, slots=True)
class GoldFinding:
    """A violation as the corpus has it."""

    provisions: tuple[str, ...]
    """The section and those an expert would also accept."""
    corrected_on_site: bool
    place: str | None
    item: str | None


@dataclass(frozen=True, slots=True)
class Dictation:
    """One dictation and its truth."""

    id: str
    rules: str
    utterances: tuple[Utterance, ...]
    readings: tuple[Gold, ...]
    findings: tuple[GoldFinding, ...]
    must_flag: tuple[str, ...]


def load_corpus(path: Path) -> tuple[Dictation, ...]:
    """The dictations of a JSON Lines file. Raises InputError naming the file and line that cannot be used."""
    try:
        lines = path.read_text(encoding="utf-8").splitlines()
    except (OSError, UnicodeDecodeError) as error:
        raise InputError(f"{path}: the corpus cannot be read ({error}); give a JSON Lines file") from error
    made = []
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            continue
        try:
            made.append(_dictation(json.loads(line)))
        except (ValueError, KeyError, TypeError) as error:
            raise InputError(
                f"{path}, line {number}: not a dictation ({error!r}); correct or remove it"
            ) from error
    if not made:
        raise InputError(f"{path}: the corpus is empty; give a JSON Lines file with dictations")
    return tuple(made)


def _dictation(row: dict[str, Any]) -> Dictation:
    return Dictation(
        id=row["id"],
        rules=row.get("rules", "food_code_2022"),
        utterances=tuple(Utterance(item["text"], at=_at(item.get("at"))) for item in row["utterances"]),
        readings=tuple(
            Gold(
                kind=item["kind"],
                value=float(item["value"]),
                unit=item["unit"],
                stage=item["stage"],
                item=item.get("item"),
                place=item.get("place"),
                agent=item.get("agent"),
                clock=item.get("clock"),
                verdict=item["verdict"],
            )
            for item in row["readings"]
        ),
        findings=tuple(
            GoldFinding(
                (item["provision"], *item.get("accept", ())),
                bool(item["corrected_on_site"]),
                item.get("place"),
                item.get("item"),
            )
            for item in row["findings"]
        ),
        must_flag=tuple(row.get("must_flag", ())),
    )


def _at(text: str | None) -> datetime | None:
    if text is None:
        return None
    hours, minutes, seconds = (int(part) for part in text.split(":"))
    return _DAY + timedelta(hours=hours, minutes=minutes, seconds=seconds)

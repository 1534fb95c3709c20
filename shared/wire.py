"""The stable JSON of the command line: `probeside/1`. Plain values in, plain dicts and lists out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import fields
from datetime import date, datetime
from typing import Any

from shared.types import (
    Check,
    Doubt,
    Evidence,
    Extraction,
    Finding,
    Photo,
    Reading,
    Recording,
    Stretch,
    Transcript,
    Utterance,
    Withdrawn,
    Word,
)

SCHEMA = "probeside/1"

Json = dict[str, Any]


def plain(value: object) -> Any:
    """A dataclass, time, tuple or mapping as JSON takes it; `class_` loses its mark."""
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, str | int | float | bool) or value is None:
        return value
    if isinstance(value, Iterable):
        return [plain(item) for item in value]
    return {field.name.rstrip("_"): plain(getattr(value, field.name)) for field in fields(value)}  # type: ignore[arg-type]


def _without(value: object, *names: str) -> Json:
    whole: Json = plain(value)
    return {key: item for key, item in whole.items() if key not in names}


def doubt(value: Doubt) -> Json:
    return _without(value)


def word(value: Word) -> Json:
    return {
        "text": value.text,
        "start": round(value.start, 2),
        "end": round(value.end, 2),
        "probability": round(value.probability, 3),
    }


def stretch(value: Stretch) -> Json:
    return {"start": round(value.start, 2), "end": round(value.end, 2)}


def utterance(value: Utterance) -> Json:
    return {
        "start": value.start,
        "end": value.end,
        "text": value.text,
        "heard": value.heard,
        "at": plain(value.at),
        "recording": value.recording,
        "words": [word(item) for item in value.words],
        "doubts": [doubt(item) for item in value.doubts],
    }


def transcript(file: str, value: Transcript) -> Json:
    """One object of `probeside transcribe --json`."""
    return {
        "schema": SCHEMA,
        "file": file,
        "utterances": [utterance(item) for item in value.utterances],
        "not_understood": [stretch(item) for item in value.not_understood],
        "removed": [_without(item) for item in value.removed],
        "warnings": list(value.warnings),
    }


def check(value: Check) -> Json:
    return _without(value)


def reading(value: Reading) -> Json:
    return _without(value, "trace", "context")


def withdrawn(value: Withdrawn) -> Json:
    return {"reading": reading(value.reading), "why": value.why, "superseded_by": value.superseded_by}


def evidence(value: Evidence) -> Json:
    return {key: item for key, item in _without(value).items() if item is not None}


def finding(value: Finding) -> Json:
    whole = _without(value, "trace", "evidence")
    return {**whole, "state": "proposed", "evidence": [evidence(item) for item in value.evidence]}


def recording(value: Recording) -> Json:
    return _without(value)


def photo(value: Photo) -> Json:
    return _without(value)


def extraction(value: Extraction) -> Json:
    """One object of `probeside extract --json`, and the core of `probeside process --json`."""
    return {
        "schema": SCHEMA,
        "rules": value.rules,
        "readings": [reading(item) for item in value.readings],
        "withdrawn": [withdrawn(item) for item in value.withdrawn],
        "findings": [finding(item) for item in value.findings],
        "questions": [
            {**_without(item, "evidence"), "evidence": [evidence(part) for part in item.evidence]}
            for item in value.questions
        ],
        "compliances": [
            {**_without(item, "evidence"), "evidence": [evidence(part) for part in item.evidence]}
            for item in value.compliances
        ],
        "doubts": [{"utterance": item.utterance, **doubt(item.doubt)} for item in value.doubts],
    }

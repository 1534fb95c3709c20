"""What the service answers where something is looked up: words, dues, rules, the vocabulary, sound."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from review_api.api.base import Shown


class Due(Shown):
    inspection: int
    number: str
    establishment: str | None = None
    what: Literal["report to hand over", "correct by", "revisit"]
    subject: str
    """The report's number, the violation, or `visit`."""
    text: str
    on: datetime
    """With the offset of the place that was visited."""
    late: bool


class Hit(Shown):
    """One place where the searched words occur; `snippet` marks them with U+2068 and U+2069."""

    inspection: int
    number: str
    establishment: str | None = None
    kind: Literal["utterance", "finding"]
    subject: str
    snippet: str


class VocabularyWord(Shown):
    id: int
    meant: str
    heard: str | None = None
    kind: str
    made: datetime


class ProvisionLine(Shown):
    """A section that can be cited."""

    section: str
    title: str
    classes: tuple[str, ...]
    form_item: int | None


class RulesShown(Shown):
    name: str
    title: str
    provisions: tuple[ProvisionLine, ...]


class Peaks(Shown):
    """The loudest sample of each part of a second, 0 to 1."""

    duration_s: float
    per_second: int
    peaks: list[float]

"""The values of this stage: what was seen, and which provision it may go against."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Span = tuple[int, int]

Polarity = Literal["violation", "compliance", "hypothetical", "earlier"]
"""`violation`: it is so now. `compliance`: it was said to be in order, or not to be so. `hypothetical`:
advice, a rule, a condition or a question said aloud. `earlier`: it was so at an earlier visit."""


@dataclass(frozen=True, slots=True)
class Condition:
    """One condition that the words describe, and the provision it concerns."""

    section: str
    span: Span
    """From the first to the last character that the pattern rests on."""
    polarity: Polarity
    confidence: float
    """0 to 1: how specific the words are. Below `ASK_BELOW` it is a question, not a finding."""
    runners_up: tuple[str, ...]
    """Other sections that the same words could mean, most likely first."""
    form_item: int | None
    item: str | None
    """The thing named, as said; None when the words name none."""
    item_span: Span | None
    rule: str
    """Name of the catalogue row and the pattern that matched."""
    questions: tuple[str, ...]
    """What this kind of violation needs asked, in plain words."""
    says: str
    """What is wrong, as a short plain phrase of ours."""
    pieces: tuple[Span, ...]
    """The words that each part of the pattern rests on, in the order of the text."""
    foreseen: bool = True
    """A pattern of the catalogue found it; else it is only like what is said of its section."""
    repeated: bool = False
    """The words say that it was so before too: "still", "again", "same as last time"."""
    plain: bool = False
    """The words leave nothing to weigh: it is no less sure than the pattern."""


ASK_BELOW = 0.5
"""A condition less sure than this is only offered as a question."""

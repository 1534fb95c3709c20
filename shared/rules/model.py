"""A jurisdiction's law as frozen values. Files of `shared/rules/` fill them; code knows only the kinds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Mark = Literal["IN", "OUT", "NO", "NA"]


@dataclass(frozen=True, slots=True)
class Source:
    """Where a row comes from, and how that was verified."""

    text: str
    verified: str
    """`yes: URL` seen in a government text, `secondary: …`, `memory`, or `common practice, no source`."""


@dataclass(frozen=True, slots=True)
class Provision:
    """One section that can be cited."""

    section: str
    title: str
    classes: tuple[str, ...]
    """P, Pf, C; the first is the usual one."""
    form_item: int | None
    reason: str
    """Why it matters for public health, one sentence."""
    correction: str
    """The usual correction."""
    source: Source


@dataclass(frozen=True, slots=True)
class FormItem:
    """One numbered line of the inspection form."""

    number: int
    group: str
    heading: str
    text: str
    marks: tuple[Mark, ...]
    sections: tuple[str, ...]
    source: Source


@dataclass(frozen=True, slots=True)
class Rules:
    """A jurisdiction at one edition. Limits, deadlines and hazards are added by their own modules."""

    name: str
    title: str
    edition: str
    provisions: Mapping[str, Provision]
    form_items: Mapping[int, FormItem]

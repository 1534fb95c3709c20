"""The record of an inspection as a person decided it: all that a report is made from, and nothing else.

The store builds it from decisions; the report, the seal and the amendment only read it. It is complete:
rendering needs this value and the photo files it names, no database, no rules file.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Literal

from pydantic import BaseModel, ConfigDict

from shared.rules.model import Mark


class _Frozen(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Department(_Frozen):
    """The department's own settings, printed on every report."""

    name: str
    address: str = ""
    contact: str = ""
    appeal: str = ""


class Establishment(_Frozen):
    name: str | None = None
    address: str | None = None
    permit: str | None = None
    risk_category: int | None = None


class Visit(_Frozen):
    purpose: str | None = None
    inspector: str | None = None
    person_in_charge: str | None = None
    time_in: datetime | None = None
    time_out: datetime | None = None
    revisit: date | None = None


class DecidedReading(_Frozen):
    """A reading that the inspector confirmed or edited."""

    id: str
    kind: str
    value: float
    unit: str
    said: str
    stage: str
    item: str | None
    place: str | None
    agent: str | None
    at: datetime | None
    verdict: str
    section: str | None
    limit: str | None
    """The limit as printed, such as `41 °F or below`."""
    margin: float | None = None
    why: str = ""


class DecidedPhoto(_Frozen):
    sha256: str
    caption: str
    alternative_text: str
    taken: datetime | None


class Violation(_Frozen):
    """A finding that the inspector confirmed, edited or added by hand."""

    id: str
    provision: str
    class_: Literal["P", "Pf", "C"]
    form_item: int | None
    title: str
    who: str | None
    what: str
    where: str | None
    when: datetime | None
    why: str
    reason: str
    """The public-health reason of the provision."""
    corrected_on_site: bool
    correction: str | None
    correct_by: datetime | None
    repeat: bool
    readings: tuple[str, ...] = ()
    photos: tuple[str, ...] = ()
    evidence: tuple[str, ...] = ()
    """Each as a reference a person can follow: `walk.flac 00:12.4-00:14.1`, `photo p3`, `typed`."""
    typed: bool = False
    """The words are the inspector's own and stand as typed."""


class ItemMark(_Frozen):
    """One line of the check sheet; `mark` None: not marked."""

    number: int
    heading: str
    text: str
    mark: Mark | None
    corrected_on_site: bool = False
    repeat: bool = False


class Figure(_Frozen):
    """A drawing such as a cooling curve, described in words."""

    title: str
    svg: str
    description: str


class Record(_Frozen):
    """One inspection, decided. `draft` until it is sealed."""

    schema_: Literal["probeside/record/1"] = "probeside/record/1"
    number: str
    draft: bool
    made: datetime
    rules: str
    rules_title: str
    department: Department
    establishment: Establishment
    visit: Visit
    thermometer_checks: tuple[DecidedReading, ...] = ()
    readings: tuple[DecidedReading, ...] = ()
    violations: tuple[Violation, ...] = ()
    marks: tuple[ItemMark, ...] = ()
    photos: tuple[DecidedPhoto, ...] = ()
    figures: tuple[Figure, ...] = ()
    education: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    """What the operator said, as taken down."""
    left_open: tuple[str, ...] = ()
    """What was missing when the record was made, and the reason given for closing without it."""

"""The record of an inspection as a person decided it: all that a report is made from, and nothing else.

The store builds it from decisions; the report, the seal and the amendment only read it. It is complete:
rendering needs this value and the photo files it names, no database, no rules file.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from shared.rules.model import Mark


class _Frozen(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Department(_Frozen):
    """The department's own settings, printed on every report."""

    name: str
    address: str = ""
    contact: str = ""
    appeal: str = ""

    @property
    def address_lines(self) -> tuple[str, ...]:
        """The address line by line, without empty ones."""
        return tuple(line for line in self.address.splitlines() if line.strip())


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
    thermometer: str | None = None
    """What the readings were taken with, and its stated accuracy."""


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


class Answer(_Frozen):
    """What the inspector answered to an open question of a finding."""

    question: str
    answer: str


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
    """How it is to be corrected, or was, as decided; None when nobody said."""
    usual_correction: str = ""
    """The usual correction of the provision, printed as such where none was decided."""
    correct_by: datetime | None
    repeat: bool
    readings: tuple[str, ...] = ()
    photos: tuple[str, ...] = ()
    evidence: tuple[str, ...] = ()
    """Each as a reference a person can follow: `walk.flac 00:12.4-00:14.1`, `photo p3`, `typed`."""
    typed: bool = False
    """The words are the inspector's own and stand as typed."""
    answers: tuple[Answer, ...] = ()
    """To what nobody had said, in the order asked."""


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


Share = Annotated[float, Field(ge=0, le=1, allow_inf_nan=False)]
"""A coordinate as a share of the glass: 0 is left or top, 1 is right or bottom."""

Stroke = Annotated[tuple[tuple[Share, Share], ...], Field(min_length=1, max_length=5_000)]
"""One movement of the pen without lifting it."""


class Signature(_Frozen):
    """A name put under the report: written on glass and kept as vector, or typed."""

    name: str
    role: str
    at: datetime
    strokes: Annotated[tuple[Stroke, ...], Field(max_length=500)] = ()
    """Empty when the name was typed."""
    aspect: Annotated[float, Field(gt=0.1, lt=20, allow_inf_nan=False)] = 3.0
    """Width of the glass divided by its height."""


class Acknowledgement(_Frozen):
    """How the receipt of the report ended: signed, refused, or nobody there to sign."""

    kind: Literal["signed", "refused", "nobody_available"]
    at: datetime
    signature: Signature | None = None
    """Needed when `kind` is `signed`."""
    reason: str = ""
    """The operator's reason for refusing, or what was tried to find somebody."""
    supervisor: str = ""
    """Which supervisor was told."""
    supervisor_told: datetime | None = None


class SealWords(_Frozen):
    """What the document itself says of its seal; known before it is sealed."""

    sealed_by: str
    certificate_sha256: str
    """Fingerprint of the department's certificate, 64 hex digits."""
    log_head: str | None = None
    """Hash of the event log's last entry before the seal."""


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
    acknowledgement: Acknowledgement | None = None
    inspector_signature: Signature | None = None
    seal: SealWords | None = None
    """Only in a record that is no draft."""


class Change(_Frozen):
    """One thing that an amendment changes."""

    where: str
    """The part of the report, such as `violation 3, correct by`."""
    was: str
    now: str


class Amendment(_Frozen):
    """A document of its own that changes a sealed report in the open. The report itself stays as it is."""

    schema_: Literal["probeside/amendment/1"] = "probeside/amendment/1"
    number: str
    """Its own number, such as `TM-0007-A1`."""
    draft: bool
    made: datetime
    amends_number: str
    amends_sha256: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
    """SHA-256 of the sealed document that it changes: the report, or an earlier amendment."""
    department: Department
    establishment: Establishment
    changes: Annotated[tuple[Change, ...], Field(min_length=1)]
    why: str
    inspector: str
    approved_by: str
    approved: datetime
    operator_told: datetime
    operator_told_who: str
    operator_told_how: str
    acknowledgement: Acknowledgement | None = None
    inspector_signature: Signature | None = None
    seal: SealWords | None = None

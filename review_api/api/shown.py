"""What the service shows: the bodies of its answers."""

from __future__ import annotations

from datetime import datetime, tzinfo
from typing import Literal

from pydantic import Field

from review_api.api.base import DecisionState, Shown
from review_api.api.changes import Arrow, Box, Cover
from shared.rules.model import Mark

State = Literal["received", "working", "ready", "failed", "closing", "closed"]
"""`closing`: signed or refused, its seal being made; nothing can be changed any more."""


class Progress(Shown):
    """How far the work on an inspection is."""

    state: State
    step: str
    """What is being done, in words."""
    part: float
    """Of the whole work, 0 to 1."""
    note: str = ""
    revision: int


class Doubt(Shown):
    code: str
    why: str
    span: tuple[int, int] | None = None
    alternatives: tuple[str, ...] = ()
    start: float | None = None
    end: float | None = None


class Word(Shown):
    text: str
    start: float
    end: float
    probability: float


class Corrected(Shown):
    """Who wrote what was really said, and when."""

    who: str
    at: datetime


class Utterance(Shown):
    index: int
    text: str
    heard: str | None = None
    start: float | None = None
    end: float | None = None
    at: datetime | None = None
    recording: str | None = None
    words: tuple[Word, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    corrected: Corrected | None = None
    """Its words are a person's; `heard` has what was heard."""


class Stretch(Shown):
    """Voice without words: something was said and not understood."""

    recording: str
    start: float
    end: float
    text: str = ""
    """What the inspector heard there."""
    settled: bool = False


class Removed(Shown):
    text: str
    start: float
    end: float
    why: str


class Recording(Shown):
    sha256: str
    name: str
    media_type: str
    duration_s: float
    started: datetime
    started_from: str
    device: str | None = None
    warnings: tuple[str, ...] = ()
    removed: tuple[Removed, ...] = ()


class Photo(Shown):
    sha256: str
    name: str
    width: int
    height: int
    taken: datetime
    taken_from: str
    sharpness: float
    exposure: str
    has_place: bool
    device: str | None = None
    warnings: tuple[str, ...] = ()
    caption: str = ""
    alternative_text: str = ""
    covers: tuple[Cover, ...] = ()
    drawn: tuple[Box | Arrow, ...] = ()
    findings: tuple[str, ...] = ()
    """The findings it is attached to."""


class Check(Shown):
    verdict: str
    section: str | None = None
    operator: str | None = None
    limit: float | None = None
    unit: str | None = None
    margin: float | None = None
    missing: tuple[str, ...] = ()
    why: str = ""


class Decision(Shown):
    state: DecisionState = "proposed"
    changes: dict[str, object] = Field(default_factory=dict)
    """The fields that the inspector changed, as they are now."""
    reason: str | None = None
    choice: float | None = None
    at: datetime | None = None
    who: str | None = None
    proposal_changed: bool = False
    """The program reads it differently since; the decision stands."""


class Evidence(Shown):
    utterance: int | None = None
    span: tuple[int, int] | None = None
    reading: str | None = None
    photo: str | None = None
    answer: str | None = None
    """The question whose answer stands in the finding."""


class Reading(Shown):
    """A reading as it stands now; `proposed` has the program's own values of the fields that differ."""

    id: str
    kind: str
    value: float
    unit: str
    said: str
    stage: str
    item: str | None = None
    place: str | None = None
    agent: str | None = None
    clock: str | None = None
    utterance: int | None = None
    span: tuple[int, int] | None = None
    recording: str | None = None
    start: float | None = None
    end: float | None = None
    at: datetime | None = None
    doubts: tuple[Doubt, ...] = ()
    alternatives: tuple[float, ...] = ()
    choices: tuple[float, ...] = ()
    """The values to choose from; not empty only while the reading is doubted and open."""
    check: Check | None = None
    decision: Decision = Decision()
    proposed: dict[str, object] = Field(default_factory=dict)
    trace: tuple[dict[str, object], ...] = ()


Part = Literal["who", "what", "where", "when", "item", "correction"]
"""What of a finding an answer may fill."""


class Question(Shown):
    """Something to be asked, in plain words."""

    id: str
    text: str
    finding: str | None = None
    evidence: tuple[Evidence, ...] = ()
    provisions: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    answer: str | None = None
    fills: Part | None = None
    """The part of the finding that the answer fills; None: it is printed beside the question."""
    stands: bool = False
    """The answer stands in that part. Not where a later edit took its place."""


class AttachedPhoto(Shown):
    sha256: str
    by: Literal["program", "person"]


class Finding(Shown):
    """A finding as it stands now; `proposed` has the program's own values of the fields that differ."""

    id: str
    provision: str
    title: str = ""
    class_: str = Field(alias="class")
    class_choices: tuple[str, ...] = ()
    """The classes to choose from, where the section has several and nobody chose; `class` is the mildest."""
    form_item: int | None = None
    who: str | None = None
    what: str
    where: str | None = None
    when: datetime | None = None
    why: str
    reason: str = ""
    """The public-health reason of the provision."""
    usual_correction: str = ""
    item: str | None = None
    corrected_on_site: bool = False
    correction: str | None = None
    correct_by: datetime | None = None
    repeat: bool = False
    by_hand: bool = False
    confidence: float = 1.0
    alternatives: tuple[str, ...] = ()
    evidence: tuple[Evidence, ...] = ()
    readings: tuple[str, ...] = ()
    photos: tuple[AttachedPhoto, ...] = ()
    photos_around: tuple[str, ...] = ()
    """Photos taken within two minutes that are not attached."""
    questions: tuple[Question, ...] = ()
    lacks: tuple[str, ...] = ()
    """What this finding needs and does not have, in plain words."""
    recording: str | None = None
    start: float | None = None
    end: float | None = None
    """The seconds it rests on."""
    decision: Decision = Decision()
    proposed: dict[str, object] = Field(default_factory=dict)
    trace: tuple[dict[str, object], ...] = ()


class Withdrawn(Shown):
    reading: Reading
    why: str
    superseded_by: str | None = None


class ItemMark(Shown):
    """One line of the check sheet."""

    number: int
    group: str
    heading: str
    text: str
    allowed: list[Mark]
    mark: Mark | None = None
    origin: Literal["person", "finding", "reading", "remark"] | None = None
    """Who or what set it; `remark`: proposed from a compliant remark and not yet accepted."""
    accepted: bool = False
    corrected_on_site: bool = False
    repeat: bool = False
    evidence: tuple[Evidence, ...] = ()
    findings: tuple[str, ...] = ()


class Figure(Shown):
    """A drawing made from readings, with what it shows in words."""

    title: str
    svg: str
    description: str
    readings: tuple[str, ...] = ()


class Missing(Shown):
    """One thing that is missing before the inspection can be closed."""

    code: Literal["undecided", "question", "mark", "stretch", "fact", "photo", "gap"]
    text: str
    subject: str | None = None


class Undo(Shown):
    """Whether there is something to take back, or to do again, and what."""

    available: bool = False
    what: str | None = None


class Facts(Shown):
    establishment: str | None = None
    address: str | None = None
    permit: str | None = None
    risk_category: int | None = None
    person_in_charge: str | None = None
    inspector: str | None = None
    purpose: str | None = None
    time_zone: str | None = None
    time_in: datetime | None = None
    time_out: datetime | None = None
    elevation_m: float | None = None
    thermometer: str | None = None
    thermometer_accuracy_degf: float | None = None
    revisit: datetime | None = None


class Report(Shown):
    id: int
    kind: Literal["draft", "sealed", "amendment"]
    made: datetime
    revision: int
    sha256: str
    """Of the PDF."""

    @classmethod
    def of(cls, row: object, zone: tzinfo) -> Report:
        """What is stored of one, its time on the clock of the place."""
        report = cls.model_validate(row)
        report.made = report.made.astimezone(zone)
        return report


class HandOver(Shown):
    """How a sealed document reached the operator."""

    report_id: int
    at: datetime
    how: str
    to_whom: str
    note: str = ""

    @classmethod
    def of(cls, row: object, zone: tzinfo) -> HandOver:
        """What is stored of one, its time on the clock of the place."""
        told = cls.model_validate(row)
        told.at = told.at.astimezone(zone)
        return told


class Sealed(Shown):
    """A document that was just sealed."""

    report: Report
    number: str
    revision: int
    warnings: tuple[str, ...] = ()
    """What the department must know, such as that a new sealing key was made and must be kept."""


class SealCheck(Shown):
    """Whether the sealed documents, the log and the database tell the same story."""

    whole: bool
    disagreements: tuple[str, ...] = ()
    documents: tuple[str, ...] = ()
    """Their numbers."""


class Desk(Shown):
    """One inspection, whole."""

    id: int
    number: str
    state: State
    revision: int
    made: datetime
    rules: str
    rules_title: str
    progress: Progress
    problems: tuple[str, ...] = ()
    facts: Facts
    recordings: tuple[Recording, ...] = ()
    photos: tuple[Photo, ...] = ()
    utterances: tuple[Utterance, ...] = ()
    not_understood: tuple[Stretch, ...] = ()
    readings: tuple[Reading, ...] = ()
    withdrawn: tuple[Withdrawn, ...] = ()
    findings: tuple[Finding, ...] = ()
    questions: tuple[Question, ...] = ()
    """All open and answered ones, those of findings too."""
    marks: tuple[ItemMark, ...] = ()
    figures: tuple[Figure, ...] = ()
    education: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    missing: tuple[Missing, ...] = ()
    undo: Undo = Undo()
    redo: Undo = Undo()
    reports: tuple[Report, ...] = ()
    hand_overs: tuple[HandOver, ...] = ()


class Accepted(Shown):
    """A change that was stored."""

    revision: int
    did: str


class Added(Accepted):
    """A finding that was added by hand."""

    subject: str


class Listed(Shown):
    """One line of the list of inspections."""

    id: int
    number: str
    establishment: str | None = None
    visited: datetime | None = None
    state: State
    part: float
    findings: int
    undecided: int
    problems: int
    due: str | None = None
    """What falls due first, and when on the place's clock, in words."""
    due_at: datetime | None = None


class Listing(Shown):
    inspections: list[Listed]
    total: int


class Started(Shown):
    """An inspection that was taken in; its work has begun."""

    id: int
    number: str
    known: bool = False
    """The same files were handed in before; this is that inspection."""

"""What a person changes: the bodies of PUT and POST."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Literal

from pydantic import AwareDatetime, Field

from review_api.api.base import Area, Change, Given, Line, Sha256, Text
from review_api.record import Stroke
from shared.rules.model import Mark
from shared.types import Agent, Kind, Stage

Unit = Literal[
    "degF", "degC", "ppm", "pH", "inch", "foot", "foot_candle", "lux", "minute", "hour", "day", "psi", "aw",
]  # fmt: skip
Subject = Annotated[str, Field(pattern=r"^[rfh][0-9]{1,6}$")]
"""A reading (r1), a proposed finding (f1) or one added by hand (h1)."""


class ReadingChanges(Given):
    """Fields of a reading as the inspector wants them; a field that is left out stays."""

    kind: Kind | None = None
    value: float | None = Field(default=None, allow_inf_nan=False)
    unit: Unit | None = None
    stage: Stage | None = None
    item: Line | None = None
    place: Line | None = None
    agent: Agent | None = None
    clock: Annotated[str, Field(pattern=r"^([01][0-9]|2[0-3]):[0-5][0-9]$")] | None = None


class FindingChanges(Given):
    """Fields of a finding as the inspector wants them; a field that is left out stays."""

    provision: Line | None = None
    class_: Literal["P", "Pf", "C"] | None = Field(default=None, alias="class")
    form_item: int | None = Field(default=None, ge=1, le=200)
    who: Line | None = None
    what: Text | None = None
    where: Line | None = None
    when: AwareDatetime | None = None
    why: Text | None = None
    item: Line | None = None
    corrected_on_site: bool | None = None
    correction: Text | None = None
    correct_by: AwareDatetime | None = None
    repeat: bool | None = None


class DecisionCreate(Change):
    """A decision on one reading or finding."""

    subject: Subject
    action: Literal["confirm", "edit", "reject", "reopen"]
    changes: dict[str, object] = Field(default_factory=dict, max_length=20)
    """For `edit`: the fields of `ReadingChanges` or `FindingChanges`, as the subject is."""
    reason: Text | None = None
    """For `reject`: why."""
    choice: float | None = Field(default=None, allow_inf_nan=False)
    """The value chosen where the reading is doubted."""
    choices: dict[str, float] = Field(default_factory=dict, max_length=200)
    """The same for doubted readings that a finding rests on: reading id to value."""


class FindingCreate(Change):
    """A finding that the inspector adds by hand."""

    provision: Annotated[str, Field(min_length=1, max_length=60)]
    what: Annotated[str, Field(min_length=1, max_length=10_000)]
    class_: Literal["P", "Pf", "C"] | None = Field(default=None, alias="class")
    """None: the section's own; where it has several, the least strict, and the desk asks."""
    who: Line | None = None
    where: Line | None = None
    when: AwareDatetime | None = None
    why: Text = ""
    item: Line | None = None
    corrected_on_site: bool = False
    correction: Text | None = None
    repeat: bool = False
    photos: list[Sha256] = Field(default_factory=list, max_length=100)
    key: Annotated[str, Field(pattern=r"^[A-Za-z0-9._:-]{1,100}$")] | None = None
    """Made by the client, anew for each finding: sent again with the same, it is the same finding."""


class AnswerUpdate(Change):
    """The answer to an open question; an empty one takes the answer back."""

    answer: Text


class MarkUpdate(Change):
    """A mark on the check sheet; None takes the person's mark back."""

    mark: Mark | None


class MarksAccept(Change):
    """All marks that are proposed from compliant remarks, taken over at once."""

    items: list[int] | None = Field(default=None, max_length=200)
    """Only these; None: all that are proposed."""


class Cover(Given):
    """A rectangle that is blacked out on the copy that leaves the office."""

    kind: Literal["cover"] = "cover"
    x: Area
    y: Area
    width: Area
    height: Area


class Box(Given):
    """A rectangle drawn around something."""

    kind: Literal["box"] = "box"
    x: Area
    y: Area
    width: Area
    height: Area


class Arrow(Given):
    """An arrow; its head is at `to_x`, `to_y`."""

    kind: Literal["arrow"] = "arrow"
    x: Area
    y: Area
    to_x: Area
    to_y: Area


Drawn = Annotated[Box | Arrow, Field(discriminator="kind")]


class PhotoUpdate(Change):
    """What the inspector says of a photo and draws on its copy; the original is never altered."""

    caption: Line = ""
    alternative_text: Text = ""
    covers: list[Cover] = Field(default_factory=list, max_length=50)
    drawn: list[Drawn] = Field(default_factory=list, max_length=50)


class FactsUpdate(Change):
    """Facts of the visit; a field that is left out stays, null clears it."""

    establishment: Line | None = None
    address: Line | None = None
    permit: Line | None = None
    risk_category: int | None = Field(default=None, ge=1, le=5)
    person_in_charge: Line | None = None
    inspector: Line | None = None
    purpose: Line | None = None
    time_in: AwareDatetime | None = None
    time_out: AwareDatetime | None = None
    revisit: datetime | None = None


class StretchUpdate(Change):
    """What the inspector heard in a stretch that the program did not understand; empty text takes it back."""

    start: float = Field(ge=0, allow_inf_nan=False)
    text: Text
    nothing_said: bool = False


class WordsUpdate(Change):
    """What was said in a sentence that was misheard; empty text takes the correction back."""

    text: Text


class NoteUpdate(Change):
    """Lines for the report that the inspector types: what was discussed, what the operator said."""

    education: list[Text] | None = Field(default=None, max_length=100)
    remarks: list[Text] | None = Field(default=None, max_length=100)


class UndoCreate(Change):
    """Takes back the last change of this inspection that was not taken back yet."""


class RedoCreate(Change):
    """Does again what was taken back last."""


class ReportCreate(Change):
    """A draft report from what is decided now."""


class VocabularyCreate(Given):
    """A word of the inspector's own, or how a word was misheard."""

    meant: Annotated[str, Field(min_length=1, max_length=80)]
    heard: Annotated[str, Field(min_length=1, max_length=80)] | None = None
    kind: Literal["word", "food", "place", "equipment", "person"] = "word"


Role = Literal["person in charge", "operator", "inspector", "supervisor", "other"]


class SignatureGiven(Given):
    """A name under the report: strokes written on glass, or the name typed."""

    name: Annotated[str, Field(min_length=1, max_length=200)]
    role: Role = "person in charge"
    strokes: tuple[Stroke, ...] = Field(default=(), max_length=500)
    aspect: float = Field(default=3.0, gt=0.1, lt=20, allow_inf_nan=False)


class ClosingCreate(Change):
    """The end of the review: how the operator received the report, and why it is closed with things open."""

    kind: Literal["signed", "refused", "nobody_available"]
    signature: SignatureGiven | None = None
    """The operator's; needed for `signed`."""
    inspector_signature: SignatureGiven
    reason: Text = ""
    """For `refused`: the operator's reason. For `nobody_available`: what was tried."""
    supervisor: Line = ""
    supervisor_told: AwareDatetime | None = None
    left_open: Text = ""
    """Why it is closed while things are missing; needed when something is."""


class HandOverCreate(Given):
    """How a sealed document was handed over."""

    how: Literal["printed", "file", "e-mail", "mail", "in person"]
    to_whom: Annotated[str, Field(min_length=1, max_length=200)]
    at: AwareDatetime | None = None
    """None: now."""
    note: Text = ""
    report: int | None = Field(default=None, ge=1, le=2**31 - 1)
    """None: the newest sealed document."""


class DueDone(Given):
    """That a violation was corrected, or the revisit made; `done` false: not after all."""

    what: Literal["correct by", "revisit"]
    subject: Annotated[str, Field(min_length=1, max_length=100)]
    """As `Due` names it: the violation, or `visit`."""
    done: bool = True
    note: Text = ""


class AmendedPart(Given):
    """One thing that an amendment changes."""

    where: Annotated[str, Field(min_length=1, max_length=500)]
    was: Text
    now: Text


class AmendmentCreate(Change):
    """A document of its own that changes a sealed report in the open."""

    changes: list[AmendedPart] = Field(min_length=1, max_length=100)
    why: Annotated[str, Field(min_length=1, max_length=10_000)]
    approved_by: Annotated[str, Field(min_length=1, max_length=200)]
    approved: AwareDatetime
    operator_told: AwareDatetime
    operator_told_who: Annotated[str, Field(min_length=1, max_length=200)]
    operator_told_how: Annotated[str, Field(min_length=1, max_length=500)]
    inspector_signature: SignatureGiven

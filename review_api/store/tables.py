"""The tables. Proposals can be computed again at any time; a person's choices are rows of their own.

Two rules keep them apart: the program writes `proposal`, `utterance`, `recording` and `photo`; only a
person's change writes `choice`, always together with the event that says so. Times are UTC text.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import JSON, Column, Index, String, UniqueConstraint
from sqlalchemy.types import TypeDecorator
from sqlmodel import Field, SQLModel

Json = dict[str, Any]


class Moment(TypeDecorator[datetime]):
    """A time with its offset, kept as UTC text so that it sorts on every database."""

    impl = String(32)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: object) -> str | None:  # noqa: ARG002
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"the time {value} has no offset")
        return value.astimezone(UTC).isoformat(timespec="microseconds")

    def process_result_value(self, value: str | None, dialect: object) -> datetime | None:  # noqa: ARG002
        return None if value is None else datetime.fromisoformat(value)


def now() -> datetime:
    return datetime.now(UTC)


class Inspection(SQLModel, table=True):
    """One inspection. What the list shows of it is kept here, so that the list reads one table."""

    id: int | None = Field(default=None, primary_key=True)
    number: str = Field(unique=True)
    content: str = Field(index=True, unique=True)
    """SHA-256 over the names and bytes handed in: the same folder again is the same inspection."""
    made: datetime = Field(default_factory=now, sa_column=Column(Moment, nullable=False))
    rules: str
    state: str = Field(default="received", index=True)
    generation: int = 1
    """Counts the runs of the pipeline."""
    revision: int = 0
    """Sequence of its last event."""
    facts: Json = Field(default_factory=dict, sa_column=Column(JSON, nullable=False))
    """As read from `inspection.toml`."""
    problems: list[str] = Field(default_factory=list, sa_column=Column(JSON, nullable=False))
    step: str = "waiting"
    part: float = 0.0
    note: str = ""
    establishment: str | None = None
    visited: datetime | None = Field(default=None, sa_column=Column(Moment, index=True))
    findings: int = 0
    undecided: int = 0

    @property
    def key(self) -> int:
        """Its id, once it is stored."""
        assert self.id is not None, "this inspection is not stored yet"
        return self.id


class Recording(SQLModel, table=True):
    """A recording of an inspection, and what was heard in it."""

    inspection_id: int = Field(primary_key=True, foreign_key="inspection.id")
    sha256: str = Field(primary_key=True, index=True)
    position: int
    content: Json = Field(sa_column=Column(JSON, nullable=False))
    """`shared.types.Recording`"""
    heard: list[Json] | None = Field(default=None, sa_column=Column(JSON(none_as_null=True), nullable=True))
    """Its utterances as the speech stage gave them; None: not transcribed yet."""
    not_understood: list[Json] = Field(default_factory=list, sa_column=Column(JSON, nullable=False))
    removed: list[Json] = Field(default_factory=list, sa_column=Column(JSON, nullable=False))


class Photo(SQLModel, table=True):
    """A photo of an inspection."""

    inspection_id: int = Field(primary_key=True, foreign_key="inspection.id")
    sha256: str = Field(primary_key=True, index=True)
    position: int
    content: Json = Field(sa_column=Column(JSON, nullable=False))
    """`shared.types.Photo`"""


class Utterance(SQLModel, table=True):
    """One utterance, in the order of the visit."""

    inspection_id: int = Field(primary_key=True, foreign_key="inspection.id")
    position: int = Field(primary_key=True)
    recording: str | None = None
    content: Json = Field(sa_column=Column(JSON, nullable=False))
    """`shared.types.Utterance`"""


class Proposal(SQLModel, table=True):
    """One thing that the program proposes: a reading, withdrawn reading, finding, question or compliance.

    `subject` is its name for good: a later run of the pipeline that finds the same thing keeps it.
    """

    inspection_id: int = Field(primary_key=True, foreign_key="inspection.id")
    kind: str = Field(primary_key=True)
    subject: str = Field(primary_key=True)
    position: int
    anchor: Json = Field(default_factory=dict, sa_column=Column(JSON, nullable=False))
    """What tells it again in a later run: recording, seconds, section; `gone` once a run did not find it."""
    content: Json = Field(sa_column=Column(JSON, nullable=False))

    def is_shown(self, choices: Mapping[str, Mapping[str, Json]]) -> bool:
        """Whether it is proposed now, or is gone but was decided. `choices`: by kind, then subject."""
        decided_by = {"reading": "decision", "finding": "decision", "question": "answer"}.get(self.kind, "")
        return "gone" not in self.anchor or self.subject in choices.get(decided_by, {})


class Choice(SQLModel, table=True):
    """What a person chose for one subject: a decision, an answer, a mark, a caption, a fact…"""

    inspection_id: int = Field(primary_key=True, foreign_key="inspection.id")
    kind: str = Field(primary_key=True)
    subject: str = Field(primary_key=True)
    value: Json = Field(sa_column=Column(JSON, nullable=False))


class Seen(SQLModel, table=True):
    """At which revision a subject was last changed, kept when its choice is taken back: tells conflicts."""

    inspection_id: int = Field(primary_key=True, foreign_key="inspection.id")
    kind: str = Field(primary_key=True)
    subject: str = Field(primary_key=True)
    revision: int


class EventRow(SQLModel, table=True):
    """The event log, one hash chain for each inspection. The database refuses to change its rows."""

    __tablename__ = "event"
    __table_args__ = (UniqueConstraint("inspection_id", "hash"),)

    inspection_id: int = Field(primary_key=True, foreign_key="inspection.id")
    sequence: int = Field(primary_key=True)
    event: Json = Field(sa_column=Column(JSON, nullable=False))
    previous: str
    hash: str


class Report(SQLModel, table=True):
    """A report that was made; its files lie in the data folder under the SHA-256 of the PDF."""

    id: int | None = Field(default=None, primary_key=True)
    inspection_id: int = Field(foreign_key="inspection.id", index=True)
    kind: str
    made: datetime = Field(default_factory=now, sa_column=Column(Moment, nullable=False))
    revision: int
    sha256: str
    record: Json = Field(sa_column=Column(JSON, nullable=False))


class Due(SQLModel, table=True):
    """Something that falls due: a report to hand over, a correction, a revisit."""

    __table_args__ = (Index("due_open_by_time", "done", "at"),)

    inspection_id: int = Field(primary_key=True, foreign_key="inspection.id")
    what: str = Field(primary_key=True)
    subject: str = Field(primary_key=True)
    text: str
    at: datetime = Field(sa_column=Column(Moment, nullable=False))
    done: bool = False


class Word(SQLModel, table=True):
    """The personal vocabulary: words of the trade, and how they were misheard."""

    __tablename__ = "vocabulary"
    __table_args__ = (UniqueConstraint("meant", "heard"),)

    id: int | None = Field(default=None, primary_key=True)
    meant: str
    heard: str = ""
    """Empty: not misheard, only to be known."""
    kind: str = "word"
    made: datetime = Field(default_factory=now, sa_column=Column(Moment, nullable=False))


class Sealing(SQLModel, table=True):
    """A document on its way to its seal: stored before it is made, so that a kill in between is made good.

    The record here is the one that is sealed; `done` once the file is in its place and the log tells of it.
    """

    inspection_id: int = Field(primary_key=True, foreign_key="inspection.id")
    number: str = Field(primary_key=True)
    kind: str
    """`sealed`: the report; `amendment`."""
    record: Json = Field(sa_column=Column(JSON, nullable=False))
    amends: int | None = Field(default=None, foreign_key="report.id")
    log_head: str
    who: str
    done: bool = False


class HandOver(SQLModel, table=True):
    """How a sealed document reached the operator."""

    __tablename__ = "hand_over"

    id: int | None = Field(default=None, primary_key=True)
    inspection_id: int = Field(foreign_key="inspection.id", index=True)
    report_id: int = Field(foreign_key="report.id")
    at: datetime = Field(sa_column=Column(Moment, nullable=False))
    how: str
    to_whom: str
    note: str = ""

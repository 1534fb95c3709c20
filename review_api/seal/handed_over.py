"""The record of a hand-over: what was given to whom, how and when."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any, Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, StringConstraints

from review_api.log import Event

Way = Literal["printed", "file", "e-mail", "post"]
Words = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=500)]

HANDED_OVER = "report handed over"
"""What the log calls it."""


class HandedOver(BaseModel):
    """One hand-over of a sealed document. There can be several: a print on site, an e-mail to the owner."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    number: Words
    sha256: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
    """Of the sealed PDF that was given."""
    how: Way
    to_whom: Words
    at: AwareDatetime
    by: Words
    """Who gave it."""
    note: Annotated[str, StringConstraints(strip_whitespace=True, max_length=2000)] = ""

    def event(self, *, inspection: str, recorded: datetime) -> Event:
        """The log's entry about it."""
        about: dict[str, Any] = self.model_dump(mode="json")
        return Event(at=recorded, who=self.by, did=HANDED_OVER, inspection=inspection, about=about)

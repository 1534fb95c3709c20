"""What all models of the API share."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

Sha256 = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]
"""SHA-256 of an original's bytes: its name everywhere."""

Line = Annotated[str, StringConstraints(strip_whitespace=True, max_length=500)]
Text = Annotated[str, StringConstraints(strip_whitespace=True, max_length=10_000)]

Area = Annotated[float, Field(ge=0, le=1)]
"""A place in a picture as a part of its width or height, from the upper left."""

DecisionState = Literal["proposed", "confirmed", "edited", "rejected"]


class Given(BaseModel):
    """What a client sends: nothing unknown in it."""

    model_config = ConfigDict(extra="forbid")


class Shown(BaseModel):
    """What the service answers."""

    model_config = ConfigDict(from_attributes=True, populate_by_name=True, serialize_by_alias=True)


class Change(Given):
    """A change to an inspection."""

    revision: int = Field(ge=0, le=2**53)
    """The revision of the inspection that the person was looking at."""

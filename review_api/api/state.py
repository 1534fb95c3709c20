"""What the routes work with, handed to them as typed dependencies."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Annotated, cast

from fastapi import Depends, Path, Query, Request

from capture.originals import Originals
from review_api.data_folder import DataFolder
from review_api.jobs.queue import Jobs
from review_api.settings import Settings
from review_api.store.database import Database


@dataclass
class State:
    """The running service."""

    folder: DataFolder
    database: Database
    settings: Settings
    jobs: Jobs

    @cached_property
    def originals(self) -> Originals:
        return Originals(self.folder.originals)


def _state(request: Request) -> State:
    return cast(State, request.app.state.probeside)


Here = Annotated[State, Depends(_state)]
InspectionId = Annotated[int, Path(ge=1, le=2**31 - 1)]
Sha = Annotated[str, Path(pattern=r"^[0-9a-f]{64}$")]
Revision = Annotated[int, Query(ge=0, le=2**53)]

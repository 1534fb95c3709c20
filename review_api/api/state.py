"""What the routes work with, handed to them as typed dependencies."""

from __future__ import annotations

from typing import Annotated, cast

from fastapi import Depends, Path, Query, Request

from review_api.state import State


def _state(request: Request) -> State:
    return cast(State, request.app.state.probeside)


Here = Annotated[State, Depends(_state)]
InspectionId = Annotated[int, Path(ge=1, le=2**31 - 1)]
Sha = Annotated[str, Path(pattern=r"^[0-9a-f]{64}$")]
Revision = Annotated[int, Query(ge=0, le=2**53)]

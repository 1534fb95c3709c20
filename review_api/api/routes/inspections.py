"""The list, taking in, the whole desk, progress, and running the pipeline again."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator
from datetime import tzinfo
from typing import Annotated

from fastapi import APIRouter, File, Form, Query, UploadFile
from fastapi.responses import Response, StreamingResponse
from starlette.concurrency import run_in_threadpool

from review_api.api.changing import shown
from review_api.api.problems import ANSWERS
from review_api.api.shown import Desk, Listed, Listing, Progress, Started
from review_api.api.state import Here, InspectionId
from review_api.desk.whole import progress as progress_of
from review_api.handed_in import receive
from review_api.log import write_lines
from review_api.place_time import local, zones
from review_api.state import State
from review_api.store import dues, events, inspections
from review_api.store.refusals import NotValid
from review_api.store.tables import Due, Inspection
from shared import rules as law
from shared.errors import InputError

router = APIRouter(prefix="/api/inspections", tags=["inspections"], responses=ANSWERS)

RulesName = Annotated[str, Query(max_length=100, pattern=r"^[a-z0-9_]+$")]


@router.get("")
def listing(
    here: Here,
    offset: Annotated[int, Query(ge=0, le=10_000_000)] = 0,
    limit: Annotated[int, Query(ge=1, le=500)] = 100,
) -> Listing:
    """All inspections, newest first."""
    with here.database.reading() as session:
        rows, total = inspections.listed(session, offset=offset, limit=limit)
        due = dues.first_of(session, [row.key for row in rows])
        zone = zones(session, rows)
        lines = [_listed(row, zone[row.key], due.get(row.key)) for row in rows]
        return Listing(inspections=lines, total=total)


_COLUMNS = ("id", "number", "establishment", "state", "part", "findings", "undecided")


def _listed(row: Inspection, zone: tzinfo, due: Due | None) -> Listed:
    """Its times with the offset of the place: the store keeps moments, not clocks."""
    at = local(due.at, zone) if due is not None else None
    return Listed.model_validate(
        {
            **{name: getattr(row, name) for name in _COLUMNS},
            "visited": local(row.visited, zone) if row.visited is not None else None,
            "problems": len(row.problems),
            "due": f"{due.what} {at:%Y-%m-%d %H:%M}" if due is not None and at is not None else None,
            "due_at": at,
        }
    )


@router.post("", status_code=202)
def take_in(
    here: Here,
    files: Annotated[
        list[UploadFile], File(description="recordings, photos, and inspection.toml if there is one")
    ],
    modified: Annotated[
        str, Form(max_length=2_000_000, description="JSON: file name to milliseconds since 1970")
    ] = "{}",
    rules: Annotated[str | None, Form(max_length=100, pattern=r"^[a-z0-9_]+$")] = None,
) -> Started:
    """Takes in the files of one inspection; the work on them begins at once and goes on without the page."""
    if rules is not None:
        _refuse_unknown_rules(rules)
    folder = receive(files, _times(modified), inbox=here.folder.inbox)
    inspection, known = here.jobs.hand_in(folder, rules=rules)
    return Started(id=inspection.key, number=inspection.number, known=known)


@router.get("/{inspection_id}", response_model=Desk)
def whole(here: Here, inspection_id: InspectionId) -> Response:
    """One inspection, whole."""
    with here.database.reading() as session:
        desk = shown(inspections.whole(session, inspection_id))
    # Written here: the framework would check the whole desk a second time.
    return Response(desk.model_dump_json(), media_type="application/json")


@router.get("/{inspection_id}/progress", response_class=StreamingResponse)
async def progress(here: Here, inspection_id: InspectionId) -> StreamingResponse:
    """How the work goes on, as server-sent events, until it is done."""

    def now() -> Progress:
        with here.database.reading() as session:
            return progress_of(inspections.get(session, inspection_id))

    first = await run_in_threadpool(now)

    async def lines() -> AsyncIterator[str]:
        shown, last = first, ""
        for beat in range(100_000):
            text = shown.model_dump_json()
            if text != last:
                yield f"event: progress\ndata: {text}\n\n"
                last = text
            elif beat % 30 == 0:
                yield ": still here\n\n"
            if shown.state not in ("received", "working"):
                return
            await asyncio.sleep(0.5)
            shown = await run_in_threadpool(now)

    return StreamingResponse(lines(), media_type="text/event-stream")


@router.post("/{inspection_id}/again", status_code=202)
def again(here: Here, inspection_id: InspectionId, rules: RulesName | None = None) -> Started:
    """Runs the pipeline again, with other rules if named; what was decided stays."""
    if rules is not None:
        _refuse_unknown_rules(rules)
    else:
        rules = _instead(here, inspection_id)
    inspection = here.jobs.again(inspection_id, rules=rules)
    return Started(id=inspection.key, number=inspection.number, known=True)


@router.get("/{inspection_id}/log", response_class=StreamingResponse)
def log(here: Here, inspection_id: InspectionId) -> StreamingResponse:
    """The event log as JSON Lines, to be kept and verified without this program's database."""
    with here.database.reading() as session:
        inspection = inspections.get(session, inspection_id)
        lines = list(write_lines(events.entries(session, inspection)))
    return StreamingResponse(
        iter(lines),
        media_type="application/jsonl",
        headers={"Content-Disposition": f'attachment; filename="{inspection.number}-log.jsonl"'},
    )


def _instead(here: State, inspection_id: int) -> str | None:
    """The department's rules, where those of the inspection cannot be used any more; None: they can."""
    with here.database.reading() as session:
        named = inspections.get(session, inspection_id).rules
    try:
        law.load(named or here.settings.rules)
    except InputError:
        return here.settings.rules
    return None


def _refuse_unknown_rules(name: str) -> None:
    if name not in law.names():
        raise NotValid(f"there are no rules {name}; there are {', '.join(law.names())}", where="rules")


def _times(modified: str) -> dict[str, float]:
    """Seconds since 1970 by file name. Raises NotValid."""
    try:
        times = json.loads(modified)
        return {str(name): float(at) / 1000 for name, at in times.items()}
    except (ValueError, AttributeError, TypeError, RecursionError) as error:
        raise NotValid("must be JSON: file name to milliseconds since 1970", where="modified") from error

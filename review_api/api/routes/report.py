"""The draft report and its files."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import FileResponse

from review_api import reporting
from review_api.api import shown
from review_api.api.changes import ReportCreate
from review_api.api.problems import ANSWERS
from review_api.api.state import Here, InspectionId
from review_api.place_time import zones
from review_api.reporting import Format
from review_api.store import inspections

router = APIRouter(prefix="/api/inspections/{inspection_id}", tags=["report"], responses=ANSWERS)

_TYPES = {"pdf": "application/pdf", "html": "text/html; charset=utf-8", "json": "application/json"}
_OWN_POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'self'"
"""The report as a page loads nothing and runs nothing."""


@router.post("/report", status_code=201)
def draft(here: Here, inspection_id: InspectionId, _body: ReportCreate) -> shown.Report:
    """A draft report from what is decided now."""
    row = reporting.draft(here, inspection_id)
    with here.database.reading() as session:
        zone = zones(session, [inspections.get(session, inspection_id)])[inspection_id]
    return shown.Report.of(row, zone)


@router.get("/report.{format}", response_class=FileResponse)
def file(
    here: Here,
    inspection_id: InspectionId,
    format: Format,
    report: Annotated[int | None, Query(ge=1, le=2**31 - 1)] = None,
) -> FileResponse:
    """The newest report, or the one named, as PDF, HTML or JSON."""
    with here.database.reading() as session:
        row = reporting.newest(session, inspection_id, report)
    headers = {"Cache-Control": "no-cache"}
    if format == "html":
        headers["Content-Security-Policy"] = _OWN_POLICY
    return FileResponse(
        reporting.path_of(here.folder, row, format),
        media_type=_TYPES[format],
        filename=f"inspection-{row.record['number']}-{row.kind}.{format}",
        content_disposition_type="inline",
        headers=headers,
    )

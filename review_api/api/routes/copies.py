"""What goes to the operator besides the report: the e-mail file and the courtesy copy in another language."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated, Literal

from fastapi import APIRouter, Query
from fastapi.responses import Response
from sqlmodel import Session, col, select

from review_api import reporting
from review_api.api.problems import ANSWERS
from review_api.api.state import Here, InspectionId
from review_api.record import Amendment, Record
from review_api.report.courtesy import courtesy_html, courtesy_pdf
from review_api.report.mail import mail
from review_api.store import inspections
from review_api.store.refusals import NotFound
from review_api.store.tables import Report

router = APIRouter(prefix="/api/inspections/{inspection_id}", tags=["report"], responses=ANSWERS)

ReportId = Annotated[int | None, Query(ge=1, le=2**31 - 1)]
Language = Annotated[str, Query(pattern=r"^[a-z]{2,3}$")]
To = Annotated[list[str], Query(max_length=20)]

_OWN_POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'self'"


@router.get("/mail.eml", response_class=Response)
def message(
    here: Here,
    inspection_id: InspectionId,
    to: To,
    report: ReportId = None,
    courtesy: Language | None = None,
) -> Response:
    """The newest sealed document, or the one named, as an unsent e-mail for the user's own mail program."""
    with here.database.reading() as session:
        row = _sealed(session, inspection_id, report)
    model: type[Record | Amendment] = Record if row.kind == "sealed" else Amendment
    record = model.model_validate(row.record).model_copy(update={"draft": False})
    copy = courtesy_pdf(record, language=courtesy) if courtesy and isinstance(record, Record) else None
    content = mail(
        reporting.path_of(here.folder, row, "pdf").read_bytes(),
        number=record.number,
        kind="inspection report" if isinstance(record, Record) else "amendment",
        establishment=record.establishment.name or "",
        department=record.department.name,
        to=to,
        at=datetime.now(UTC),
        appeal=record.department.appeal,
        contact=record.department.contact,
        courtesy=copy,
    )
    name = f'attachment; filename="{record.number}.eml"'
    return Response(content, media_type="message/rfc822", headers={"Content-Disposition": name})


@router.get("/courtesy.{format}", response_class=Response)
def courtesy(
    here: Here,
    inspection_id: InspectionId,
    format: Literal["pdf", "html"],
    language: Language = "es",
    report: ReportId = None,
) -> Response:
    """A one-page copy of the newest report, or the one named, from the phrase tables of that language."""
    with here.database.reading() as session:
        row = reporting.newest(session, inspection_id, report)
        if row.kind == "amendment":
            row = _sealed(session, inspection_id, None, kind="sealed")
    record = Record.model_validate(row.record).model_copy(update={"draft": row.kind == "draft"})
    if format == "pdf":
        return Response(courtesy_pdf(record, language=language), media_type="application/pdf")
    page = courtesy_html(record, language=language)
    return Response(
        page, media_type="text/html; charset=utf-8", headers={"Content-Security-Policy": _OWN_POLICY}
    )


def _sealed(
    session: Session, inspection_id: int, report_id: int | None, *, kind: str | None = None
) -> Report:
    """The sealed document asked for, else the newest. Raises NotFound."""
    inspections.get(session, inspection_id)
    wanted = select(Report).where(Report.inspection_id == inspection_id, Report.kind != "draft")
    if report_id is not None:
        wanted = wanted.where(Report.id == report_id)
    if kind is not None:
        wanted = wanted.where(Report.kind == kind)
    row = session.exec(wanted.order_by(col(Report.id).desc())).first()
    if row is None:
        raise NotFound("there is no such sealed document; sign and seal it first")
    return row

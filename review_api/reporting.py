"""Making a report of an inspection: rendered from its record, kept under the hash of its PDF, logged."""

from __future__ import annotations

import hashlib
from datetime import datetime
from pathlib import Path
from typing import Literal

from sqlmodel import Session, col, select

from review_api.api.changing import look
from review_api.api.shown import Desk
from review_api.data_folder import DataFolder
from review_api.derived import kept
from review_api.photo_copy import copy_for
from review_api.record import Record
from review_api.record_of import record
from review_api.report import Rendered, render
from review_api.report.pictures import LONGEST_PX, PhotoFile
from review_api.state import State
from review_api.store import events, inspections
from review_api.store.refusals import NotFound
from review_api.store.tables import Report, now

Format = Literal["pdf", "html", "json"]


def draft(here: State, inspection_id: int, *, made: datetime | None = None) -> Report:
    """A draft report from what is decided now. The same decisions give the same report, found again.

    Raises NotFound, InputError.
    """
    with here.database.reading() as session:
        seen = look(inspections.whole(session, inspection_id))
    content = record(seen.desk, seen.rules, department=here.settings.department, made=made or now())
    rendered = render(content, photo_files(here, seen.desk, content))
    sha256 = keep(here.folder.reports, rendered)
    with here.database.writing() as session:
        inspection = inspections.get(session, inspection_id)
        row = Report(
            inspection_id=inspection_id,
            kind="draft",
            revision=seen.desk.revision,
            sha256=sha256,
            record=content.model_dump(mode="json"),
        )
        session.add(row)
        events.append(session, inspection, "draft report made", who=seen.who, about={"sha256": sha256})
    return row


def photo_files(here: State, desk: Desk, content: Record) -> dict[str, PhotoFile]:
    """The finished copies of the photos that the record shows, by their SHA-256."""
    photos = {photo.sha256: photo for photo in desk.photos}
    return {
        item.sha256: copy_for(
            photos[item.sha256], originals=here.originals, derived=here.folder.derived, longest_px=LONGEST_PX
        ).read_bytes()
        for item in content.photos
    }


def sealed_folder(folder: DataFolder) -> Path:
    """Where the sealed documents lie, each under its number."""
    return folder.reports / "sealed"


def path_of(folder: DataFolder, row: Report, kind: Format) -> Path:
    """Where a report lies in one of its formats."""
    if row.kind == "draft":
        return folder.reports / f"{row.sha256}.{kind}"
    return sealed_folder(folder) / f"{row.record['number']}.{kind}"


def keep(folder: Path, rendered: Rendered) -> str:
    """The SHA-256 of the PDF, under which the three formats now lie in `folder`."""
    sha256 = hashlib.sha256(rendered.pdf).hexdigest()
    formats: dict[Format, bytes] = {"html": rendered.html, "json": rendered.json, "pdf": rendered.pdf}
    for name, content in formats.items():
        kept(folder / f"{sha256}.{name}", lambda content=content: content)  # type: ignore[misc]
    return sha256


def newest(session: Session, inspection_id: int, report_id: int | None) -> Report:
    """The report asked for, else the newest. Raises NotFound."""
    inspections.get(session, inspection_id)
    wanted = select(Report).where(Report.inspection_id == inspection_id)
    if report_id is not None:
        wanted = wanted.where(Report.id == report_id)
    row = session.exec(wanted.order_by(col(Report.id).desc())).first()
    if row is None:
        raise NotFound("there is no such report yet; make a draft first")
    return row

"""Signing, sealing, amending, handing over, and checking that a seal still holds."""

from __future__ import annotations

from cryptography.hazmat.primitives.serialization import Encoding
from fastapi import APIRouter
from fastapi.responses import Response

from review_api import closing
from review_api.api import changes as given
from review_api.api import shown
from review_api.api.problems import ANSWERS, answers
from review_api.api.state import Here, InspectionId
from review_api.place_time import zones
from review_api.state import State
from review_api.store import inspections
from review_api.store.refusals import NotFound
from review_api.store.tables import Report

router = APIRouter(prefix="/api", tags=["closing"], responses=ANSWERS)

NOT_SEALED = answers(503)


@router.post("/inspections/{inspection_id}/closing", status_code=201, responses=NOT_SEALED)
def close(here: Here, inspection_id: InspectionId, body: given.ClosingCreate) -> shown.Sealed:
    """Signs or records the refusal, seals the report, starts its clocks. Nothing can be edited afterwards."""
    return _sealed(here, inspection_id, *closing.close_now(here, inspection_id, body))


@router.post("/inspections/{inspection_id}/amendments", status_code=201, responses=NOT_SEALED)
def amend(here: Here, inspection_id: InspectionId, body: given.AmendmentCreate) -> shown.Sealed:
    """Seals an amendment of the newest sealed document of this inspection."""
    return _sealed(here, inspection_id, *closing.amend_now(here, inspection_id, body))


@router.post("/inspections/{inspection_id}/hand-overs", status_code=201)
def hand_over(here: Here, inspection_id: InspectionId, body: given.HandOverCreate) -> shown.HandOver:
    """Takes down how a sealed document was handed over, to whom and when."""
    return shown.HandOver.model_validate(closing.hand_over_to(here, inspection_id, body))


@router.put("/inspections/{inspection_id}/dues")
def due_done(here: Here, inspection_id: InspectionId, body: given.DueDone) -> shown.Accepted:
    """Takes down that a violation was corrected, or the revisit made, and stops its clock."""
    return closing.settle_due(here, inspection_id, body)


@router.get("/inspections/{inspection_id}/seal")
def seal(here: Here, inspection_id: InspectionId) -> shown.SealCheck:
    """Whether the sealed files, the log and the database agree."""
    numbers, faults = closing.check(here, inspection_id)
    return shown.SealCheck(whole=bool(numbers) and not faults, disagreements=faults, documents=numbers)


@router.get("/certificate.pem", response_class=Response)
def certificate(here: Here) -> Response:
    """The department's certificate: all that `probeside verify` needs. It comes with the first seal."""
    found = closing.certificate_of(here)
    if found is None:
        raise NotFound(
            "nothing was sealed in this data folder yet; the certificate is made with the first seal"
        )
    return Response(
        found.public_bytes(Encoding.PEM),
        media_type="application/x-pem-file",
        headers={"Content-Disposition": 'attachment; filename="certificate.pem"'},
    )


def _sealed(here: State, inspection_id: int, report: Report, warnings: tuple[str, ...]) -> shown.Sealed:
    with here.database.reading() as session:
        inspection = inspections.get(session, inspection_id)
        revision, zone = inspection.revision, zones(session, [inspection])[inspection.key]
    return shown.Sealed(
        report=shown.Report.of(report, zone),
        number=str(report.record["number"]),
        revision=revision,
        warnings=warnings,
    )

"""Signing, sealing, amending, handing over, and checking that a seal still holds."""

from __future__ import annotations

from cryptography.hazmat.primitives.serialization import Encoding
from fastapi import APIRouter
from fastapi.responses import Response

from review_api import closing
from review_api.api import changes as given
from review_api.api import shown
from review_api.api.problems import ANSWERS
from review_api.api.state import Here, InspectionId
from review_api.state import State
from review_api.store import inspections

router = APIRouter(prefix="/api", tags=["closing"], responses=ANSWERS)


@router.post("/inspections/{inspection_id}/closing", status_code=201)
def close(here: Here, inspection_id: InspectionId, body: given.ClosingCreate) -> shown.Sealed:
    """Signs or records the refusal, seals the report, starts its clocks. Nothing can be edited afterwards."""
    return _sealed(here, inspection_id, closing.begin(here, inspection_id, body))


@router.post("/inspections/{inspection_id}/amendments", status_code=201)
def amend(here: Here, inspection_id: InspectionId, body: given.AmendmentCreate) -> shown.Sealed:
    """Seals an amendment of the newest sealed document of this inspection."""
    return _sealed(here, inspection_id, closing.begin_amendment(here, inspection_id, body))


@router.post("/inspections/{inspection_id}/hand-overs", status_code=201)
def hand_over(here: Here, inspection_id: InspectionId, body: given.HandOverCreate) -> shown.HandOver:
    """Takes down how a sealed document was handed over, to whom and when."""
    return shown.HandOver.model_validate(closing.hand_over_to(here, inspection_id, body))


@router.get("/inspections/{inspection_id}/seal")
def seal(here: Here, inspection_id: InspectionId) -> shown.SealCheck:
    """Whether the sealed files, the log and the database agree."""
    numbers, faults = closing.check(here, inspection_id)
    return shown.SealCheck(whole=bool(numbers) and not faults, disagreements=faults, documents=numbers)


@router.get("/certificate.pem", response_class=Response)
def certificate(here: Here) -> Response:
    """The department's certificate: all that `probeside verify` needs."""
    pem = closing.key_of(here, []).certificate.public_bytes(Encoding.PEM)
    return Response(
        pem,
        media_type="application/x-pem-file",
        headers={"Content-Disposition": 'attachment; filename="certificate.pem"'},
    )


def _sealed(here: State, inspection_id: int, number: str) -> shown.Sealed:
    report, warnings = closing.finish(here, inspection_id, number)
    with here.database.reading() as session:
        revision = inspections.get(session, inspection_id).revision
    return shown.Sealed(
        report=shown.Report.model_validate(report), number=number, revision=revision, warnings=warnings
    )

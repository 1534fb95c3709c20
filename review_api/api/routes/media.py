"""Sound and pictures, as a browser takes them."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import APIRouter, Query
from fastapi.responses import FileResponse, Response

from capture import audio as sound
from review_api.api.looked_up import Peaks
from review_api.api.problems import ANSWERS
from review_api.api.shown import Photo
from review_api.api.state import Here, Sha
from review_api.peaks import peaks as drawn
from review_api.photo_copy import SIZES, copy_for
from review_api.playable import playable
from review_api.store import choices, inspections
from review_api.store.refusals import NotValid

router = APIRouter(prefix="/api", tags=["media"], responses=ANSWERS)

_FOR_GOOD = {"Cache-Control": "private, max-age=31536000, immutable"}
"""What goes by the hash of its bytes never changes."""

_LONGEST_CLIP_S = 600.0


@router.get("/recordings/{sha256}/audio", response_class=FileResponse)
def audio(here: Here, sha256: Sha) -> FileResponse:
    """The whole recording in a form that browsers play; answers byte ranges."""
    with here.database.reading() as session:
        row = inspections.recording_of(session, sha256)
    path, media_type = playable(
        here.originals.path(sha256), row.content["media_type"], kept_in=here.folder.derived / "sound"
    )
    return FileResponse(path, media_type=media_type, headers=_FOR_GOOD)


@router.get("/recordings/{sha256}/clip", response_class=Response)
def clip(
    here: Here,
    sha256: Sha,
    start: Annotated[float, Query(ge=0, le=1e6, allow_inf_nan=False)],
    end: Annotated[float, Query(ge=0, le=1e6, allow_inf_nan=False)],
) -> Response:
    """Exactly these seconds, as WAV."""
    if not start < end <= start + _LONGEST_CLIP_S:
        raise NotValid(f"end must lie after start, by {_LONGEST_CLIP_S:g} s at most", where="end")
    with here.database.reading() as session:
        inspections.recording_of(session, sha256)
    content = sound.clip(here.originals.path(sha256), start, end)
    return Response(content, media_type="audio/wav", headers=_FOR_GOOD)


@router.get("/recordings/{sha256}/peaks")
def peaks(here: Here, sha256: Sha, response: Response) -> Peaks:
    """The loudness of the recording through time, to draw its wave."""
    with here.database.reading() as session:
        duration = inspections.recording_of(session, sha256).content["duration_s"]
    response.headers.update(_FOR_GOOD)
    return drawn(here.originals.path(sha256), duration, kept_in=here.folder.derived / "peaks")


@router.get("/photos/{sha256}", response_class=FileResponse)
def photo(
    here: Here,
    sha256: Sha,
    size: Literal["thumb", "page", "full"] = "page",
    inspection: Annotated[int | None, Query(ge=1, le=2**31 - 1)] = None,
) -> FileResponse:
    """A copy without place; with `inspection`, as it will leave: covered and drawn on as chosen there."""
    with here.database.reading() as session:
        row = inspections.photo_of(session, sha256)
        chosen = {}
        if inspection is not None:
            chosen = choices.get(session, inspections.get(session, inspection), "photo", sha256) or {}
    wanted = Photo.model_validate({**row.content, **chosen})
    path = copy_for(wanted, originals=here.originals, derived=here.folder.derived, longest_px=SIZES[size])
    headers = _FOR_GOOD if inspection is None else {"Cache-Control": "no-cache"}
    return FileResponse(path, media_type="image/jpeg", headers=headers)

"""Everything a person changes at the desk. Each route says what is to be set; `changing.change` stores it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

from fastapi import APIRouter, Path

from review_api import decisions
from review_api.api import changes as given
from review_api.api.changing import Seen, change, follow, look
from review_api.api.problems import ANSWERS
from review_api.api.shown import Accepted, Added
from review_api.api.state import Here, InspectionId, Revision, Sha
from review_api.decisions import Decided
from review_api.place_time import local, zone_of_rows
from review_api.store import choices, inspections
from review_api.store.choices import Setting
from review_api.store.refusals import NotFound, NotValid

router = APIRouter(prefix="/api/inspections/{inspection_id}", tags=["changes"], responses=ANSWERS)

FindingId = Annotated[str, Path(pattern=r"^[fh][0-9]{1,6}$")]
QuestionId = Annotated[str, Path(pattern=r"^(q[0-9]{1,6}|[fh][0-9]{1,6}\.[0-9a-f]{6})$")]
UtteranceIndex = Annotated[int, Path(ge=0, le=1_000_000)]
ItemNumber = Annotated[int, Path(ge=1, le=200)]


@router.post("/decisions")
def decide(here: Here, inspection_id: InspectionId, body: given.DecisionCreate) -> Accepted:
    """Confirms, edits, rejects or reopens a reading or finding."""

    def build(seen: Seen) -> Decided:
        return decisions.decide(body, seen.rows, seen.desk, seen.rules, who=seen.who)

    return change(here, inspection_id, body.revision, build)


@router.post("/findings", status_code=201)
def add_finding(here: Here, inspection_id: InspectionId, body: given.FindingCreate) -> Added:
    """Adds a finding by hand; it counts as confirmed."""
    subject = ""

    def build(seen: Seen) -> Decided:
        nonlocal subject
        for photo in body.photos:
            seen.refuse_unknown_photo(photo)
        subject, decided = decisions.add(body, seen.rows, seen.rules, who=seen.who)
        return decided

    accepted = change(here, inspection_id, body.revision, build)
    return Added(revision=accepted.revision, did=accepted.did, subject=subject)


@router.post("/undo")
def undo(here: Here, inspection_id: InspectionId, body: given.UndoCreate) -> Accepted:
    """Takes back the last change that stands."""
    return _step(here, inspection_id, body.revision, choices.undo)


@router.post("/redo")
def redo(here: Here, inspection_id: InspectionId, body: given.RedoCreate) -> Accepted:
    """Does again what was taken back last, as long as nothing else was changed since."""
    return _step(here, inspection_id, body.revision, choices.redo)


def _step(here: Here, inspection_id: int, revision: int, step: Callable[..., tuple[int, str]]) -> Accepted:
    with here.database.writing() as session:
        rows = inspections.whole(session, inspection_id)
        seen = look(rows)
        new, did = step(session, rows.inspection, who=seen.who, revision=revision)
        new = follow(session, rows.inspection, new, seen.rules)
    return Accepted(revision=new, did=did)


@router.put("/findings/{finding_id}/photos/{sha256}")
def attach(
    here: Here, inspection_id: InspectionId, finding_id: FindingId, sha256: Sha, revision: Revision
) -> Accepted:
    """Attaches a photo to a finding."""
    return _attach(here, inspection_id, finding_id, sha256, revision, attached=True)


@router.delete("/findings/{finding_id}/photos/{sha256}")
def detach(
    here: Here, inspection_id: InspectionId, finding_id: FindingId, sha256: Sha, revision: Revision
) -> Accepted:
    """Detaches a photo from a finding; the photo itself stays with the inspection."""
    return _attach(here, inspection_id, finding_id, sha256, revision, attached=False)


def _attach(
    here: Here, inspection_id: int, finding_id: str, sha256: str, revision: int, *, attached: bool
) -> Accepted:
    def build(seen: Seen) -> Decided:
        seen.refuse_unknown_finding(finding_id)
        seen.refuse_unknown_photo(sha256)
        setting = Setting("attached", f"{finding_id}/{sha256}", {"attached": attached})
        return Decided((setting,), f"photo {'attached to' if attached else 'detached from'} {finding_id}")

    return change(here, inspection_id, revision, build)


@router.put("/questions/{question_id}")
def answer(
    here: Here, inspection_id: InspectionId, question_id: QuestionId, body: given.AnswerUpdate
) -> Accepted:
    """Answers an open question; the finding says it at once. An empty answer takes it back."""

    def build(seen: Seen) -> Decided:
        return decisions.answer(question_id, body.answer, seen.rows, seen.desk, seen.rules, who=seen.who)

    return change(here, inspection_id, body.revision, build)


@router.put("/marks/{number}")
def mark(here: Here, inspection_id: InspectionId, number: ItemNumber, body: given.MarkUpdate) -> Accepted:
    """Marks an item of the check sheet by hand."""

    def build(seen: Seen) -> Decided:
        line = next((line for line in seen.desk.marks if line.number == number), None)
        if line is None:
            raise NotFound(f"the form of these rules has no item {number}")
        if body.mark is not None and body.mark not in line.allowed:
            raise NotValid(f"item {number} can be marked {', '.join(line.allowed)}", where="mark")
        if body.mark not in (None, "OUT") and line.findings:
            raise NotValid(
                f"item {number} is OUT because of {', '.join(line.findings)}; reject that first",
                where="mark",
            )
        value = {"mark": body.mark} if body.mark else None
        return Decided(
            (Setting("mark", str(number), value),), f"item {number} marked {body.mark or 'nothing'}"
        )

    return change(here, inspection_id, body.revision, build)


@router.post("/marks/accept")
def accept_marks(here: Here, inspection_id: InspectionId, body: given.MarksAccept) -> Accepted:
    """Takes over the marks that compliant remarks propose."""

    def build(seen: Seen) -> Decided:
        wanted = [
            line
            for line in seen.desk.marks
            if line.mark and not line.accepted and (body.items is None or line.number in body.items)
        ]
        settings = tuple(Setting("mark", str(line.number), {"mark": line.mark}) for line in wanted)
        return Decided(settings, f"{len(settings)} proposed marks accepted")

    return change(here, inspection_id, body.revision, build)


@router.put("/photos/{sha256}")
def photo(here: Here, inspection_id: InspectionId, sha256: Sha, body: given.PhotoUpdate) -> Accepted:
    """Sets caption and alternative text, and what is covered and drawn on the copy that leaves."""

    def build(seen: Seen) -> Decided:
        seen.refuse_unknown_photo(sha256)
        value = body.model_dump(mode="json", exclude={"revision"})
        return Decided((Setting("photo", sha256, value),), f"photo {sha256[:12]} described")

    return change(here, inspection_id, body.revision, build)


@router.put("/facts")
def facts(here: Here, inspection_id: InspectionId, body: given.FactsUpdate) -> Accepted:
    """Sets facts of the visit; what is left out stays."""

    def build(seen: Seen) -> Decided:
        zone = zone_of_rows(seen.rows)
        wanted = body.model_dump(mode="json", exclude={"revision"}, exclude_unset=True)
        for name in ("time_in", "time_out", "revisit"):
            if (at := getattr(body, name)) is not None:
                wanted[name] = local(at, zone).isoformat()
        before = seen.rows.choices.get("facts", {}).get("visit", {})
        return Decided((Setting("facts", "visit", {**before, **wanted}),), "facts of the visit changed")

    return change(here, inspection_id, body.revision, build)


@router.put("/stretches/{sha256}")
def stretch(here: Here, inspection_id: InspectionId, sha256: Sha, body: given.StretchUpdate) -> Accepted:
    """Says what was heard in a stretch that the program did not understand."""

    def build(seen: Seen) -> Decided:
        if not any(
            part.recording == sha256 and abs(part.start - body.start) < 0.005
            for part in seen.desk.not_understood
        ):
            raise NotFound(f"there is no stretch without words at {body.start} s of that recording")
        settled = body.text or body.nothing_said
        value = {"text": body.text, "nothing_said": body.nothing_said} if settled else None
        return Decided(
            (Setting("stretch", f"{sha256}@{body.start:.2f}", value),),
            f"stretch at {body.start:.1f} s listened to",
        )

    return change(here, inspection_id, body.revision, build)


@router.put("/utterances/{index}")
def words(
    here: Here, inspection_id: InspectionId, index: UtteranceIndex, body: given.WordsUpdate
) -> Accepted:
    """Says what was really said in a sentence; the visit is understood anew, and what was decided stays."""

    def build(seen: Seen) -> Decided:
        return decisions.words(index, body.text, seen.rows, seen.desk, who=seen.who)

    return change(here, inspection_id, body.revision, build)


@router.put("/notes")
def notes(here: Here, inspection_id: InspectionId, body: given.NoteUpdate) -> Accepted:
    """Sets the lines for the report that the inspector types."""

    def build(seen: Seen) -> Decided:
        before = seen.rows.choices.get("notes", {}).get("report", {})
        wanted = body.model_dump(exclude={"revision"}, exclude_none=True)
        return Decided((Setting("notes", "report", {**before, **wanted}),), "notes for the report changed")

    return change(here, inspection_id, body.revision, build)

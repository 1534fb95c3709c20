"""What each step of the pipeline does. A step that computes gives JSON; a step that stores takes it.

A computing step may run twice after a kill, so it only writes what is named by its input (originals by their
SHA-256). A storing step runs in one transaction with its checkpoint, so it is done once or not at all.
"""

from __future__ import annotations

import shutil
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

from sqlmodel import Session, col, delete

from capture.facts import FILE_NAME
from capture.heard import what_to_tell
from capture.intake import take_in
from review_api.api import shown
from review_api.clocks import HAND_OVER
from review_api.deadlines import hand_over
from review_api.jobs.workshop import Workshop
from review_api.office import office_for
from review_api.peaks import peaks
from review_api.photo_copy import SIZES, copy_for
from review_api.place_time import zone_of
from review_api.playable import playable
from review_api.store import dues, events, inspections, vocabulary
from review_api.store.summary import facts_of, recount
from review_api.store.tables import Photo, Recording, now
from review_api.store.values import from_json, to_json
from review_api.understanding import Understood, keep, understand
from shared import rules, types
from shared.errors import InputError, ProbesideError

Json = dict[str, Any]

AFTER_INTAKE, AFTER_SPEECH = 0.1, 0.95
"""Parts of the whole work, as they usually take time."""


# ---------------------------------------------------------------- intake


def intake(workshop: Workshop, inspection_id: int) -> Json | None:
    """What was handed in, looked at; None when it was taken in before."""
    tell = workshop.teller(inspection_id, "looking at the files")
    tell(0.0)
    folder = _inbox(workshop, inspection_id)
    if not folder.is_dir():
        return None
    try:
        found = take_in(folder, originals=workshop.originals, progress=lambda note: tell(0.02, str(note)))
    except InputError as error:
        return {"failed": str(error).replace(f"{folder}:", "what was handed in")}
    facts, problem = _with_rules_there_are(found.facts)
    return {
        "facts": to_json(facts),
        "rules": facts.rules or workshop.settings.rules,
        "recordings": [to_json(item) for item in found.recordings],
        "photos": [to_json(item) for item in found.photos],
        "problems": [*found.problems, *problem],
    }


def _with_rules_there_are(facts: types.Facts) -> tuple[types.Facts, tuple[str, ...]]:
    """The facts, their rules left out where they cannot be used; and the sentence that says so."""
    if facts.rules is None:
        return facts, ()
    try:
        rules.load(facts.rules)
    except ProbesideError as error:
        return replace(facts, rules=None), (f"{FILE_NAME}: visit.rules: {error}; the entry was left out",)
    return facts, ()


def store_intake(session: Session, inspection_id: int, found: Json) -> None:
    """Keeps the facts, recordings and photos."""
    inspection = inspections.get(session, inspection_id)
    inspection.facts = found["facts"]
    inspection.problems = found["problems"]
    inspection.rules = inspection.rules or found["rules"]
    session.exec(delete(Recording).where(col(Recording.inspection_id) == inspection_id))
    session.exec(delete(Photo).where(col(Photo.inspection_id) == inspection_id))
    for position, content in enumerate(found["recordings"]):
        session.add(
            Recording(
                inspection_id=inspection_id, sha256=content["sha256"], position=position, content=content
            )
        )
    for position, content in enumerate(found["photos"]):
        session.add(
            Photo(inspection_id=inspection_id, sha256=content["sha256"], position=position, content=content)
        )
    if found["recordings"]:
        inspection.visited = from_json(types.Recording, found["recordings"][0]).started
    about = {
        "recordings": [content["sha256"] for content in found["recordings"]],
        "photos": [content["sha256"] for content in found["photos"]],
        "problems": len(found["problems"]),
    }
    events.append(session, inspection, "taken in", who=events.PROGRAM, about=about)
    recount(session, inspection)


def prepare(workshop: Workshop, inspection_id: int) -> None:
    """Makes the sound to be played, its wave and the small photos, so that the page need not wait for them.

    What cannot be made is left to the page, which says so where it is asked for.
    """
    tell = workshop.teller(inspection_id, "preparing sound and photos for the desk")
    with workshop.database.reading() as session:
        recordings = [row.content for row in inspections.recordings(session, inspection_id)]
        photos = [
            shown.Photo.model_validate(row.content) for row in inspections.photos(session, inspection_id)
        ]
    derived, number = workshop.folder.derived, len(recordings) + len(photos)
    for at, content in enumerate(recordings):
        tell(AFTER_INTAKE / 2 * (1 + at / number), content["name"])
        with suppress(InputError):
            original = workshop.originals.path(content["sha256"])
            playable(original, content["media_type"], kept_in=derived / "sound")
            peaks(original, content["duration_s"], kept_in=derived / "peaks")
    for at, photo in enumerate(photos, start=len(recordings)):
        tell(AFTER_INTAKE / 2 * (1 + at / number), photo.name)
        with suppress(InputError):
            copy_for(photo, originals=workshop.originals, derived=derived, longest_px=SIZES["thumb"])


def clear_inbox(workshop: Workshop, inspection_id: int) -> None:
    """Takes the files out of the inbox: each is kept as an original now."""
    shutil.rmtree(_inbox(workshop, inspection_id), ignore_errors=True)


def _inbox(workshop: Workshop, inspection_id: int) -> Path:
    with workshop.database.reading() as session:
        return workshop.folder.inbox / inspections.get(session, inspection_id).content


# ---------------------------------------------------------------- speech


def to_hear(workshop: Workshop, inspection_id: int, *, again: bool) -> list[str]:
    """The recordings that are to be transcribed, in the order of the visit."""
    with workshop.database.reading() as session:
        rows = inspections.recordings(session, inspection_id)
        return [row.sha256 for row in rows if again or row.heard is None]


def transcribe(workshop: Workshop, inspection_id: int, sha256: str, *, at: int, of: int) -> Json:
    """What was heard in one recording."""
    from capture.speech import Progress
    from capture.speech import transcribe as listen

    with workshop.database.reading() as session:
        inspection = inspections.get(session, inspection_id)
        row = session.get_one(Recording, (inspection_id, sha256))
        words = [*facts_of(session, inspection).get("words", ())]
        words += [word.meant for word in vocabulary.all_words(session)]
    name, duration = row.content["name"], max(row.content["duration_s"], 0.001)
    tell = workshop.teller(inspection_id, f"listening to {name}")
    share = (AFTER_SPEECH - AFTER_INTAKE) / of

    def progress(now: Progress) -> None:
        left = f"about {now.left_s:.0f} s left" if now.left_s is not None else ""
        tell(AFTER_INTAKE + share * (at + min(1.0, now.done_s / duration)), left)

    tell(AFTER_INTAKE + share * at)
    try:
        heard = listen(
            workshop.originals.path(sha256),
            model=workshop.model,
            words=words,
            progress=progress,
            checkpoints=workshop.folder.derived / "heard",
        )
    except InputError as error:
        return {"failed": f"{name}: {_without_path(error)}"}
    problem = what_to_tell(from_json(types.Recording, row.content), heard)
    return {"transcript": to_json(heard), "problem": problem}


def store_transcript(session: Session, inspection_id: int, sha256: str, found: Json) -> None:
    """Keeps what was heard, or the sentence that says why nothing was."""
    inspection = inspections.get(session, inspection_id)
    row = session.get_one(Recording, (inspection_id, sha256))
    problem = found.get("failed") or found.get("problem")
    if problem and problem not in inspection.problems:
        inspection.problems = [*inspection.problems, problem]
    heard = found.get("transcript") or {"utterances": [], "not_understood": [], "removed": []}
    row.heard, row.removed = heard["utterances"], heard["removed"]
    row.not_understood = heard["not_understood"]
    session.add(row)
    about = {"recording": sha256, "utterances": len(row.heard or ())}
    events.append(session, inspection, "recording transcribed", who=events.PROGRAM, about=about)


def _without_path(error: InputError) -> str:
    """The sentence after the name of the original, which means nothing to the person."""
    return str(error).partition(": ")[2] or str(error)


# ---------------------------------------------------------------- extraction


def extract(workshop: Workshop, inspection_id: int) -> Json:
    """What all that was said means."""
    workshop.teller(inspection_id, "reading the words")(AFTER_SPEECH)
    with workshop.database.reading() as session:
        inspection = inspections.get(session, inspection_id)
        found = understand(session, inspection, rules.load(inspection.rules))
        facts = from_json(types.Facts, inspection.facts)
        zone = zone_of(inspection.facts, (item.at for item in found.said if item.at is not None))
    ended = facts.time_out or max((item.at for item in found.said if item.at is not None), default=now())
    due = hand_over(ended, office=office_for(workshop.settings, zone)).due
    return {
        "said": [to_json(utterance) for utterance in found.said],
        "extraction": to_json(found.extraction),
        "unplaced": list(found.unplaced),
        "hand_over": due.isoformat(),
    }


def store_extraction(session: Session, inspection_id: int, found: Json) -> None:
    """Keeps utterances and proposals; what was decided stays."""
    inspection = inspections.get(session, inspection_id)
    extraction = from_json(types.Extraction, found["extraction"])
    said = tuple(from_json(types.Utterance, plain) for plain in found["said"])
    keep(session, inspection, Understood(said, extraction, tuple(found.get("unplaced", ()))))
    at = datetime.fromisoformat(found["hand_over"])
    dues.put(session, inspection, HAND_OVER, inspection.number, "the report", at)
    inspection.state, inspection.step, inspection.part, inspection.note = "ready", "done", 1.0, ""
    inspection.problems = _without_stops(inspection.problems)
    about = {
        "rules": extraction.rules,
        "readings": len(extraction.readings),
        "findings": len(extraction.findings),
        "generation": inspection.generation,
    }
    events.append(session, inspection, "proposals made", who=events.PROGRAM, about=about)


_STOPPED = "the work stopped: "


def store_failure(session: Session, inspection_id: int, why: str) -> None:
    """Says why the work ended; what was done before stays, and it can be run again."""
    inspection = inspections.get(session, inspection_id)
    inspection.state, inspection.step, inspection.note = "failed", "stopped", why
    inspection.problems = [*_without_stops(inspection.problems), f"{_STOPPED}{why}"]
    events.append(session, inspection, "work stopped", who=events.PROGRAM, about={"why": why})


def _without_stops(problems: list[str]) -> list[str]:
    """The problems that remain when the work has gone on."""
    return [problem for problem in problems if not problem.startswith(_STOPPED)]

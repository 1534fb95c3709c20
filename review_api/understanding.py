"""What is understood of an inspection's words as they stand now: heard, mended, and corrected by a person.

The pipeline and the desk both come here: when a person corrects a sentence, the whole visit is understood
anew, as a place or a food named there may carry far.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session

from capture.clock import one_line
from review_api import wording
from review_api.mending import mend
from review_api.store import choices, events, inspections, proposals, vocabulary
from review_api.store.refusals import Conflict
from review_api.store.tables import Inspection, Recording
from review_api.store.values import from_json
from shared import types
from shared.rules.model import Rules
from shared.types import Extraction, Utterance

_UNPLACED = "your correction “"
"""How a problem begins that tells of a correction without its sentence."""


@dataclass(frozen=True, slots=True)
class Understood:
    """The words as they stand, what they mean, and which corrections found no sentence any more."""

    said: tuple[Utterance, ...]
    extraction: Extraction
    unplaced: tuple[str, ...]


def understand(
    session: Session, inspection: Inspection, law: Rules, *, kept_until: datetime | None = None
) -> Understood:
    """Reads the store, writes nothing. `kept_until`: words of the vocabulary kept later do not count."""
    from extract import extract

    said, unplaced = _said(session, inspection, kept_until)
    found = extract(
        said,
        rules=law,
        facts=from_json(types.Facts, inspection.facts),
        photos=tuple(
            from_json(types.Photo, row.content) for row in inspections.photos(session, inspection.key)
        ),
    )
    return Understood(said, found, unplaced)


def keep(session: Session, inspection: Inspection, found: Understood) -> None:
    """Stores words and proposals; what was decided stays."""
    proposals.save_utterances(session, inspection, found.said)
    proposals.save_extraction(session, inspection, found.extraction, found.said)
    others = [problem for problem in inspection.problems if not problem.startswith(_UNPLACED)]
    inspection.problems = [*others, *found.unplaced]


def again(session: Session, inspection: Inspection, law: Rules) -> None:
    """The visit understood anew, in the transaction of the change that asks for it.

    The other sentences stay as the pipeline's last run left them.

    Raises Conflict while the pipeline works on it, or before it has heard all recordings.
    """
    unheard = any(row.heard is None for row in inspections.recordings(session, inspection.key))
    if unheard or inspection.state in ("received", "working"):
        raise Conflict("the work on this inspection is going on; wait until it is done")
    last = events.last_time(session, inspection, "proposals made")
    found = understand(session, inspection, law, kept_until=last)
    keep(session, inspection, found)
    about = {"readings": len(found.extraction.readings), "findings": len(found.extraction.findings)}
    events.append(session, inspection, "understood anew", who=events.PROGRAM, about=about)


def _said(
    session: Session, inspection: Inspection, kept_until: datetime | None
) -> tuple[tuple[Utterance, ...], tuple[str, ...]]:
    """The words, and which corrections found no place."""
    mended = [
        (word.heard, word.meant)
        for word in vocabulary.all_words(session)
        if word.heard and (kept_until is None or word.made <= kept_until)
    ]
    rows = inspections.recordings(session, inspection.key)
    heard = [(from_json(types.Recording, row.content), _transcript(row)) for row in rows]
    said = [mend(utterance, mended) for utterance in one_line(heard)]
    chosen = choices.of_kind(session, inspection, wording.KIND)
    placed = wording.chosen_for(said, chosen)
    for at, subject in placed.items():
        said[at] = wording.corrected(said[at], chosen[subject]["text"])
    names = {row.sha256: row.content["name"] for row in rows}
    unplaced = tuple(
        f"{_UNPLACED}{value['text']}” at {value['start']:.0f} s of {names.get(value['recording'], 'a file')}"
        " finds no sentence there any more; look at the words there"
        for subject, value in chosen.items()
        if subject not in placed.values()
    )
    return tuple(said), unplaced


def _transcript(row: Recording) -> types.Transcript:
    return types.Transcript(tuple(from_json(types.Utterance, plain) for plain in row.heard or ()))

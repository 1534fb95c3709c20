"""What the program proposes: may be computed again without touching what a person decided."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sqlmodel import Session, col, delete, select

from review_api.store import search
from review_api.store.identity import Anchor, names
from review_api.store.summary import recount
from review_api.store.tables import Inspection, Proposal, Utterance
from review_api.store.values import to_json
from shared import types
from shared.types import Extraction, Reading

LETTERS = {"reading": "r", "withdrawn": "w", "finding": "f", "question": "q", "compliance": "c"}


def save_utterances(session: Session, inspection: Inspection, said: Sequence[types.Utterance]) -> None:
    """Stores `said` in place of the utterances that were there."""
    session.exec(delete(Utterance).where(col(Utterance.inspection_id) == inspection.id))
    for position, utterance in enumerate(said):
        session.add(
            Utterance(
                inspection_id=inspection.key,
                position=position,
                recording=utterance.recording,
                content=to_json(utterance),
            )
        )
    session.flush()


def save_extraction(
    session: Session, inspection: Inspection, extraction: Extraction, said: Sequence[types.Utterance]
) -> None:
    """Stores what is proposed now. The same as before keeps its name.

    What is gone keeps its row, and with it its name: should it come back, so do the answers and photos that
    it was given. It is shown only where it was decided (`is_shown`).
    """
    place = _Places(said, extraction)
    renamed = _save(
        session,
        inspection,
        "reading",
        [(place.of_reading(item), item) for item in extraction.readings],
    )
    _save(
        session,
        inspection,
        "withdrawn",
        [(place.of_reading(item.reading), item) for item in extraction.withdrawn],
        renamed,
    )
    for kind, items in (
        ("finding", extraction.findings),
        ("question", extraction.questions),
        ("compliance", extraction.compliances),
    ):
        _save(session, inspection, kind, [(place.of(item), item) for item in items], renamed)
    search.index(
        session, inspection, "utterance", [(str(at), utterance.text) for at, utterance in enumerate(said)]
    )
    recount(session, inspection)


class _Places:
    """Where in the recordings each proposal rests."""

    def __init__(self, said: Sequence[types.Utterance], extraction: Extraction) -> None:
        self._said = said
        self._readings = {item.id: item for item in extraction.readings}

    def of_reading(self, reading: Reading) -> Anchor:
        recording, start, end = self._seconds(reading.utterance, reading.span)
        if reading.start is not None and reading.end is not None:
            start, end = reading.start, reading.end
        return {
            "recording": recording,
            "start": start,
            "end": end,
            "same": reading.kind,
            "value": [reading.value, reading.span[0]],
        }

    def of(self, item: Any) -> Anchor:
        """Of a finding, question or compliance: the first of its evidence."""
        same = getattr(item, "provision", None) or getattr(item, "form_item", None) or item.text
        value = getattr(item, "item", None)
        for part in item.evidence:
            if part.utterance is not None:
                recording, start, end = self._seconds(part.utterance, part.span)
                return {"recording": recording, "start": start, "end": end, "same": same, "value": value}
            if part.reading is not None and part.reading in self._readings:
                anchor = self.of_reading(self._readings[part.reading])
                return {**anchor, "same": same, "value": value}
        return {"recording": None, "start": 0.0, "end": 0.0, "same": same, "value": value}

    def _seconds(self, at: int, span: tuple[int, int] | None) -> tuple[str | None, float, float]:
        utterance = self._said[at]
        if utterance.start is None or utterance.end is None:
            here = at * 1_000.0 + (span[0] if span else 0) / 100
            return None, here, here  # typed text has no seconds: its line and place in it stand for them
        return utterance.recording, utterance.start, utterance.end


def _save(
    session: Session,
    inspection: Inspection,
    kind: str,
    items: Sequence[tuple[Anchor, Any]],
    renamed: Mapping[str, str] | None = None,
) -> dict[str, str]:
    """The names that were given: the extraction's own name of each item to the lasting one."""
    rows = session.exec(
        select(Proposal).where(Proposal.inspection_id == inspection.id, Proposal.kind == kind)
    ).all()
    earlier = {row.subject: row.anchor for row in rows}
    given = names([anchor for anchor, _ in items], earlier, letter=LETTERS[kind])
    now = {getattr(item, "id", name): name for name, (_, item) in zip(given, items, strict=True)}
    for row in rows:
        if row.subject in given:
            session.delete(row)
        else:
            row.anchor = {**row.anchor, "gone": True}
            row.position += len(items)
            session.add(row)
    session.flush()
    for position, (name, (anchor, item)) in enumerate(zip(given, items, strict=True)):
        content = _renamed(to_json(item), renamed or now, name)
        session.add(
            Proposal(
                inspection_id=inspection.key,
                kind=kind,
                subject=name,
                position=position,
                anchor=dict(anchor),
                content=content,
            )
        )
    session.flush()
    return now


def _renamed(content: dict[str, Any], readings: Mapping[str, str], name: str) -> dict[str, Any]:
    """The content with lasting names in place of the extraction's own."""
    if "id" in content:
        content["id"] = name
    for part in content.get("evidence", ()):
        if part.get("reading"):
            part["reading"] = readings.get(part["reading"], part["reading"])
    if content.get("superseded_by"):
        content["superseded_by"] = readings.get(content["superseded_by"], content["superseded_by"])
    return content

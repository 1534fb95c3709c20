"""All of one inspection in one value."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from review_api import wording
from review_api.api.shown import (
    Corrected,
    Desk,
    Facts,
    Finding,
    HandOver,
    Photo,
    Progress,
    Question,
    Recording,
    Report,
    Stretch,
    Undo,
    Utterance,
)
from review_api.desk import figures as figures_
from review_api.desk import findings as findings_
from review_api.desk import marks as marks_
from review_api.desk import missing as missing_
from review_api.desk import questions as questions_
from review_api.desk import readings as readings_
from review_api.place_time import local, zone_of_rows
from review_api.store.inspections import Rows
from review_api.store.tables import Inspection
from shared.rules.model import Rules


def desk(rows: Rows, rules: Rules) -> Desk:
    """The inspection as it stands now: proposals with decisions, and all that surrounds them."""
    inspection, chosen = rows.inspection, rows.choices
    utterances = tuple(
        Utterance.model_validate({**row.content, "index": row.position}) for row in rows.utterances
    )
    words = chosen.get(wording.KIND, {})
    for at, subject in wording.chosen_for(utterances, words).items():
        utterances[at].corrected = Corrected.model_validate(words[subject])
    readings = readings_.readings(rows.proposals.get("reading", ()), chosen.get("decision", {}), utterances)
    photos = _photos(rows)
    findings = findings_.findings(rows, rules, readings=readings, photos=photos, utterances=utterances)
    for photo in photos:
        photo.findings = tuple(_shows(photo, findings))
    notes = chosen.get("notes", {}).get("report", {})
    facts, zone = Facts.model_validate(rows.facts), zone_of_rows(rows)
    whole = Desk(
        id=inspection.id or 0,
        number=inspection.number,
        state=inspection.state,  # type: ignore[arg-type]
        revision=inspection.revision,
        made=local(inspection.made, zone),
        rules=inspection.rules,
        rules_title=rules.title,
        progress=progress(inspection),
        problems=tuple(inspection.problems),
        facts=facts,
        recordings=tuple(
            Recording.model_validate({**row.content, "removed": row.removed}) for row in rows.recordings
        ),
        photos=photos,
        utterances=utterances,
        not_understood=tuple(_stretches(rows)),
        readings=readings,
        withdrawn=readings_.withdrawn(rows.proposals.get("withdrawn", ()), utterances),
        findings=findings,
        questions=_questions(rows, findings),
        marks=marks_.marks(
            rules,
            findings=findings,
            readings=readings,
            compliances=rows.proposals.get("compliance", ()),
            chosen=chosen.get("mark", {}),
        ),
        figures=tuple(figures_.figures(readings, facts, rules)),
        education=tuple(notes.get("education", ())),
        remarks=tuple(notes.get("remarks", ())),
        undo=Undo(available=rows.undoable is not None, what=rows.undoable),
        redo=Undo(available=rows.redoable is not None, what=rows.redoable),
        reports=tuple(Report.of(row, zone) for row in rows.reports),
        hand_overs=tuple(HandOver.of(row, zone) for row in rows.hand_overs),
    )
    whole.missing = (*missing_.missing(whole), *missing_.contradictions(whole, rules))
    return whole


def progress(inspection: Inspection) -> Progress:
    """How far the work on it is."""
    return Progress(
        state=inspection.state,  # type: ignore[arg-type]
        step=inspection.step,
        part=inspection.part,
        note=inspection.note,
        revision=inspection.revision,
    )


def _photos(rows: Rows) -> tuple[Photo, ...]:
    chosen = rows.choices.get("photo", {})
    return tuple(Photo.model_validate({**row.content, **chosen.get(row.sha256, {})}) for row in rows.photos)


def _shows(photo: Photo, findings: Sequence[Finding]) -> Iterator[str]:
    for finding in findings:
        if any(attached.sha256 == photo.sha256 for attached in finding.photos):
            yield finding.id


def _stretches(rows: Rows) -> Iterator[Stretch]:
    chosen: Mapping[str, Mapping[str, Any]] = rows.choices.get("stretch", {})
    for row in rows.recordings:
        for part in row.not_understood:
            heard = chosen.get(f"{row.sha256}@{part['start']:.2f}")
            yield Stretch(
                recording=row.sha256,
                start=part["start"],
                end=part["end"],
                text=heard["text"] if heard else "",
                settled=heard is not None,
            )


def _questions(rows: Rows, findings: Sequence[Finding]) -> tuple[Question, ...]:
    of_findings = [
        question
        for finding in findings
        if finding.decision.state != "rejected"
        for question in finding.questions
    ]
    general = questions_.general(rows.proposals.get("question", ()), rows.choices.get("answer", {}))
    return (*of_findings, *general)

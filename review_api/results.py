"""What `probeside process` gives: the stable JSON, and a summary that a person reads."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Any

from review_api.api.shown import Desk, Evidence, Finding, Reading
from review_api.store.inspections import Rows
from review_api.store.values import from_json
from shared import types, wire
from shared.units import written

_VERDICTS = {
    "meets": "meets the limit",
    "violates": "VIOLATES the limit",
    "borderline": "borderline",
    "undetermined": "cannot be judged yet",
    "none": "no limit applies",
}
_WIDTH = 100


def results(rows: Rows) -> dict[str, Any]:
    """One object of `process --json`: that of `extract --json`, with recordings, photos and utterances."""
    of = {
        kind: [row.content for row in found if "gone" not in row.anchor]
        for kind, found in rows.proposals.items()
    }
    extraction = types.Extraction(
        rules=rows.inspection.rules,
        readings=tuple(from_json(types.Reading, item) for item in of.get("reading", ())),
        withdrawn=tuple(from_json(types.Withdrawn, item) for item in of.get("withdrawn", ())),
        findings=tuple(from_json(types.Finding, item) for item in of.get("finding", ())),
        questions=tuple(from_json(types.Question, item) for item in of.get("question", ())),
        compliances=tuple(from_json(types.Compliance, item) for item in of.get("compliance", ())),
    )
    return {
        **wire.extraction(extraction),
        "recordings": [
            {
                **wire.recording(from_json(types.Recording, row.content)),
                "not_understood": row.not_understood,
                "removed": row.removed,
            }
            for row in rows.recordings
        ],
        "photos": [wire.photo(from_json(types.Photo, row.content)) for row in rows.photos],
        "utterances": [wire.utterance(from_json(types.Utterance, row.content)) for row in rows.utterances],
        "facts": rows.inspection.facts,
        "problems": list(rows.inspection.problems),
    }


def summary(desk: Desk) -> Iterator[str]:
    """Lines for a person: readings with verdicts, proposed violations with evidence, open questions."""
    facts = desk.facts
    yield f"{facts.establishment or 'Inspection'} · {desk.number} · {desk.rules_title}"
    counts = ((desk.recordings, "recording"), (desk.photos, "photo"), (desk.utterances, "utterance"))
    yield ", ".join(f"{len(items)} {name}{'s' * (len(items) != 1)}" for items, name in counts)
    yield ""
    yield f"READINGS ({len(desk.readings)})"
    for reading in desk.readings:
        yield from _reading(reading)
    for withdrawn in desk.withdrawn:
        yield f"  taken back: {written(withdrawn.reading.value, withdrawn.reading.unit)} (“{withdrawn.why}”)"
    yield ""
    yield f"PROPOSED VIOLATIONS ({len(desk.findings)}): none counts until the inspector confirms it"
    for finding in desk.findings:
        yield from _finding(finding, desk)
    general = [question for question in desk.questions if question.finding is None]
    if general:
        yield ""
        yield "TO BE ASKED"
        yield from (f"  ? {question.text}" for question in general)
    if desk.not_understood:
        yield ""
        yield "NOT UNDERSTOOD, TO BE LISTENED TO"
        names = {recording.sha256: recording.name for recording in desk.recordings}
        for stretch in desk.not_understood:
            yield f"  {names[stretch.recording]} {_clock(stretch.start)} to {_clock(stretch.end)}"
    if desk.problems:
        yield ""
        yield "TO BE LOOKED AT"
        for problem in desk.problems:
            yield from _wrapped(problem, "  ! ")


def _reading(reading: Reading) -> Iterator[str]:
    at = f"{reading.at:%H:%M}" if reading.at else "     "
    of = ", ".join(filter(None, (reading.item, reading.place, reading.agent))) or "?"
    check = reading.check
    verdict = _VERDICTS[check.verdict] if check else ""
    section = f" ({check.section})" if check and check.section and check.verdict != "none" else ""
    stage = reading.stage.replace("_", " ")
    yield f"  {at}  {written(reading.value, reading.unit):>9}  {stage}: {of} · {verdict}{section}"
    if check and check.verdict in ("violates", "borderline", "undetermined"):
        yield from _wrapped(check.why or ", ".join(check.missing), " " * 20)
    for doubt in reading.doubts:
        others = f" Also heard: {'; '.join(doubt.alternatives)}." if doubt.alternatives else ""
        yield from _wrapped(f"{doubt.why.rstrip('.')}.{others}", " " * 18 + "? ")


def _finding(finding: Finding, desk: Desk) -> Iterator[str]:
    marks = "".join(
        (", corrected on site" if finding.corrected_on_site else "", ", repeat" if finding.repeat else "")
    )
    item = f"item {finding.form_item}, " if finding.form_item else ""
    grade = f"{item}{finding.class_}{marks}; confidence {finding.confidence:.0%}"
    yield f"  {finding.provision} {finding.title} [{grade}]"
    yield from _wrapped(finding.what, "      ")
    for text in dict.fromkeys(_evidence(part, desk) for part in finding.evidence):
        yield from _wrapped(text, "      · ")
    for question in finding.questions:
        yield from _wrapped(question.text, "      ? ")


def _evidence(part: Evidence, desk: Desk) -> str:
    if part.photo is not None:
        sha256 = part.photo.removeprefix("sha256:")
        return next((f"photo {photo.name}" for photo in desk.photos if photo.sha256 == sha256), "photo")
    if part.reading is not None:
        reading = next((item for item in desk.readings if item.id == part.reading), None)
        return f"reading {written(reading.value, reading.unit)} “{reading.said}”" if reading else "reading"
    if part.answer is not None:
        asked = next((item for item in desk.questions if item.id == part.answer), None)
        return f"answer “{asked.answer}” to “{asked.text}”" if asked else "answer"
    assert part.utterance is not None
    said = desk.utterances[part.utterance]
    at = f"{said.at:%H:%M:%S} " if said.at else ""
    return f"{at}“{said.text}”"


def _wrapped(text: str, first: str) -> Iterator[str]:
    yield from textwrap.wrap(text, _WIDTH, initial_indent=first, subsequent_indent=" " * len(first))


def _clock(seconds: float) -> str:
    return f"{int(seconds) // 60:02d}:{int(seconds) % 60:02d}"

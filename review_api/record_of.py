"""The record for a report, from the desk: only what was decided, and what the inspector typed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, tzinfo

from review_api import record as r
from review_api.api.shown import Desk, Finding, Photo, Reading
from review_api.desk.figures import figures
from review_api.place_time import local, zone_of_desk
from shared.rules.model import Rules
from shared.units import written

DECIDED = ("confirmed", "edited")

_BOUND = {"<=": "or below", ">=": "or above", "<": "below", ">": "above"}


def record(
    desk: Desk,
    rules: Rules,
    *,
    department: r.Department,
    made: datetime,
    draft: bool = True,
    left_open: tuple[str, ...] = (),
    acknowledgement: r.Acknowledgement | None = None,
    inspector_signature: r.Signature | None = None,
) -> r.Record:
    """The record of the inspection as decided so far; what is still proposed or rejected is not in it.

    All its times are on the clock of the place.
    """
    facts = desk.facts
    zone = zone_of_desk(desk)
    readings = [reading for reading in desk.readings if reading.decision.state in DECIDED]
    findings = [finding for finding in desk.findings if finding.decision.state in DECIDED]
    return r.Record(
        number=desk.number,
        draft=draft,
        made=local(made, zone),
        rules=rules.name,
        rules_title=rules.title,
        department=department,
        establishment=r.Establishment(
            name=facts.establishment,
            address=facts.address,
            permit=facts.permit,
            risk_category=facts.risk_category,
        ),
        visit=r.Visit(
            purpose=facts.purpose,
            inspector=facts.inspector,
            person_in_charge=facts.person_in_charge,
            time_in=_local(facts.time_in, zone),
            time_out=_local(facts.time_out, zone),
            revisit=local(facts.revisit, zone).date() if facts.revisit else None,
            thermometer=facts.thermometer,
        ),
        thermometer_checks=tuple(
            _reading(item, zone) for item in readings if item.stage == "thermometer_check"
        ),
        readings=tuple(_reading(item, zone) for item in readings if item.stage != "thermometer_check"),
        violations=tuple(_violation(finding, desk, rules, zone) for finding in findings),
        marks=tuple(
            r.ItemMark(
                number=line.number,
                heading=line.heading,
                text=line.text,
                mark=line.mark if line.accepted else None,
                corrected_on_site=line.corrected_on_site,
                repeat=line.repeat,
            )
            for line in desk.marks
        ),
        photos=tuple(_photos(desk, findings, zone)),
        figures=tuple(
            r.Figure(title=figure.title, svg=figure.svg, description=figure.description)
            for figure in figures(readings, facts, rules)
        ),
        education=desk.education,
        remarks=desk.remarks,
        left_open=left_open or tuple(item.text for item in desk.missing if draft),
        acknowledgement=acknowledgement,
        inspector_signature=inspector_signature,
    )


def _local(at: datetime | None, zone: tzinfo) -> datetime | None:
    return None if at is None else local(at, zone)


def _reading(reading: Reading, zone: tzinfo) -> r.DecidedReading:
    check = reading.check
    return r.DecidedReading(
        id=reading.id,
        kind=reading.kind,
        value=reading.value,
        unit=reading.unit,
        said=reading.said,
        stage=reading.stage,
        item=reading.item,
        place=reading.place,
        agent=reading.agent,
        at=_local(reading.at, zone),
        verdict=check.verdict if check else "none",
        section=check.section if check else None,
        limit=_limit(reading),
        margin=check.margin if check else None,
        why=check.why if check else "",
    )


def _limit(reading: Reading) -> str | None:
    check = reading.check
    if check is None or check.limit is None or check.unit is None:
        return None
    value = written(check.limit, check.unit)
    bound = _BOUND.get(check.operator or "")
    return f"{value} {bound}" if bound else value


def _violation(finding: Finding, desk: Desk, rules: Rules, zone: tzinfo) -> r.Violation:
    provision = rules.provisions.get(finding.provision)
    typed = finding.by_hand or "what" in finding.decision.changes
    return r.Violation(
        id=finding.id,
        provision=finding.provision,
        class_=finding.class_,  # type: ignore[arg-type]
        form_item=finding.form_item,
        title=finding.title,
        who=finding.who,
        what=finding.what,
        where=finding.where,
        when=_local(finding.when, zone),
        why=finding.why,
        reason=finding.reason,
        corrected_on_site=finding.corrected_on_site,
        correction=finding.correction,
        usual_correction=provision.correction if provision else "",
        correct_by=None if finding.corrected_on_site else _local(finding.correct_by, zone),
        repeat=finding.repeat,
        readings=finding.readings,
        photos=tuple(photo.sha256 for photo in finding.photos),
        evidence=tuple(_evidence(finding, desk)),
        typed=typed,
        answers=tuple(
            r.Answer(question=question.text, answer=question.answer)
            for question in finding.questions
            if question.answer is not None and question.fills is None
        ),
    )


def _evidence(finding: Finding, desk: Desk) -> Iterator[str]:
    """Each as a reference that a person can follow."""
    names = {recording.sha256: recording.name for recording in desk.recordings}
    told: dict[str, None] = {}
    readings = {reading.id: reading for reading in desk.readings}
    for part in finding.evidence:
        at = part.utterance if part.utterance is not None else None
        if at is None and part.reading in readings:
            at = readings[part.reading].utterance
        if at is not None and at < len(desk.utterances):
            said = desk.utterances[at]
            if said.recording and said.start is not None and said.end is not None:
                told[f"{names[said.recording]} {_clock(said.start)}-{_clock(said.end)}"] = None
    photos = {photo.sha256: photo.name for photo in desk.photos}
    for attached in finding.photos:
        told[f"photo {photos[attached.sha256]}"] = None
    asked = {question.id: question.text for question in finding.questions}
    for part in finding.evidence:
        if part.answer in asked:
            told[f"answer to “{asked[part.answer]}”"] = None
    if finding.by_hand:
        told["typed by the inspector"] = None
    yield from told


def _clock(seconds: float) -> str:
    minutes, rest = divmod(seconds, 60)
    return f"{int(minutes):02d}:{rest:04.1f}"


def _photos(desk: Desk, findings: list[Finding], zone: tzinfo) -> Iterator[r.DecidedPhoto]:
    """The photos that the findings in the report show."""
    shown = {attached.sha256 for finding in findings for attached in finding.photos}
    for photo in desk.photos:
        if photo.sha256 in shown:
            yield r.DecidedPhoto(
                sha256=photo.sha256,
                caption=photo.caption,
                alternative_text=photo.alternative_text or _described(photo, findings, zone),
                taken=local(photo.taken, zone),
            )


def _described(photo: Photo, findings: list[Finding], zone: tzinfo) -> str:
    """What stands in for an alternative text that nobody wrote: what it is attached to, and no more."""
    to = [f.provision for f in findings if any(attached.sha256 == photo.sha256 for attached in f.photos)]
    at = f"{local(photo.taken, zone):%H:%M}"
    return f"Photo {photo.name}, taken at {at}, attached to the finding under {', '.join(to)}"

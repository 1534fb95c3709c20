"""What is missing before an inspection can be closed, in the order a person would settle it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta, tzinfo
from textwrap import shorten

from review_api.api.shown import Desk, Finding, Missing, Question, Reading, Stretch
from review_api.citing import which_class
from review_api.desk.judged_together import outdated
from review_api.desk.other_figures import told
from review_api.place_time import local, zone_of_desk
from review_api.record import Department
from review_api.record_of import DECIDED, record
from review_api.report.ready import gaps
from shared.rules.model import Rules
from shared.units import written

_FACTS = {
    "establishment": "the establishment's name",
    "person_in_charge": "the person in charge",
    "inspector": "the inspector's name",
    "time_in": "the time in",
    "time_out": "the time out",
}


def missing(desk: Desk) -> Iterator[Missing]:
    """One entry for each thing, which says what it is about without the page beside it."""
    zone = zone_of_desk(desk)
    for name, words in _FACTS.items():
        if getattr(desk.facts, name) is None:
            yield Missing(code="fact", subject=name, text=f"{words} is not given")
    for finding in desk.findings:
        if finding.decision.state == "proposed":
            yield Missing(
                code="undecided",
                subject=finding.id,
                text=f"finding {finding.provision} is not decided: {finding.what}",
            )
    for reading in desk.readings:
        if reading.decision.state == "proposed":
            yield Missing(
                code="undecided",
                subject=reading.id,
                text=f"reading “{reading.said}” ({_about(reading, zone)}) is not decided",
            )
    for question in desk.questions:
        if question.answer is None:
            yield Missing(code="question", subject=question.id, text=_asked(question, desk, zone))
    for stretch in desk.not_understood:
        if not stretch.settled:
            yield Missing(
                code="stretch",
                subject=f"{stretch.recording}@{stretch.start}",
                text=f"{_where(stretch, desk, zone)}: something said was not understood",
            )
    for mark in desk.marks:
        if not mark.accepted and (mark.mark is not None or tuple(mark.allowed) != ("OUT",)):
            state = f"{mark.mark} is proposed" if mark.mark else "not marked"
            yield Missing(
                code="mark", subject=str(mark.number), text=f"item {mark.number}, {mark.text}: {state}"
            )
    for photo in desk.photos:
        if photo.findings and not photo.alternative_text:
            yield Missing(
                code="photo", subject=photo.sha256, text=f"photo {photo.name} has no alternative text"
            )


def _about(reading: Reading, zone: tzinfo) -> str:
    """`ham, 37 °F, walk-in, 10:31`."""
    at = [f"{local(reading.at, zone):%H:%M}"] if reading.at is not None else []
    parts = [reading.item or "no item named", written(reading.value, reading.unit), reading.place or "", *at]
    return ", ".join(part for part in parts if part)


def _asked(question: Question, desk: Desk, zone: tzinfo) -> str:
    """A question with the finding that it belongs to, or with what was said."""
    for finding in desk.findings:
        if finding.id == question.finding:
            return f"finding {finding.provision}, {_short(finding.what)}: {question.text}"
    for part in question.evidence:
        if part.utterance is not None and part.utterance < len(desk.utterances):
            said = desk.utterances[part.utterance]
            at = f", {local(said.at, zone):%H:%M}" if said.at is not None else ""
            return f"{question.text} (said: “{_short(said.text)}”{at})"
    return question.text


def _short(text: str) -> str:
    return shorten(text.rstrip(". "), 80, placeholder=" …")


def _where(stretch: Stretch, desk: Desk, zone: tzinfo) -> str:
    """`walk.wav, 10:34:12 (191.7 s to 193.6 s)`."""
    span = f"{stretch.start:.1f} s to {stretch.end:.1f} s"
    for recording in desk.recordings:
        if recording.sha256 == stretch.recording:
            at = local(recording.started + timedelta(seconds=stretch.start), zone)
            return f"{recording.name}, {at:%H:%M:%S} ({span})"
    return span


def contradictions(desk: Desk, rules: Rules) -> Iterator[Missing]:
    """What the report would lack or contradict itself in, if it were made from what is decided now."""
    decided = record(desk, rules, department=Department(name=""), made=desk.made)
    for gap in gaps(decided):
        yield Missing(code="gap", subject=gap.subject, text=gap.text)
    for subject, sentence in outdated(desk.readings):
        yield Missing(code="gap", subject=subject, text=sentence)
    for finding in desk.findings:
        if finding.decision.state not in DECIDED:
            continue
        if finding.class_choices:
            text = which_class(finding.provision, finding.class_, finding.class_choices)
            yield Missing(code="gap", subject=finding.id, text=text)
        for section in _other_sections(finding, desk, rules):
            text = (
                f"finding {finding.provision} rests on a reading that is out of {section} as it stands now; "
                "choose the section, or correct the reading"
            )
            yield Missing(code="gap", subject=finding.id, text=text)
        if (other := told(finding, desk.readings)) is not None:
            yield Missing(code="gap", subject=finding.id, text=other)


def _other_sections(finding: Finding, desk: Desk, rules: Rules) -> Iterator[str]:
    """The sections that its corrected readings break, where the finding's own is none of them."""
    if finding.by_hand or "provision" in finding.decision.changes:
        return
    broken = [
        provision.section
        for reading in desk.readings
        if reading.id in finding.readings
        and reading.decision.state == "edited"
        and reading.check is not None
        and reading.check.verdict == "violates"
        and (provision := rules.provision(reading.check.section or "")) is not None
    ]
    if finding.provision not in broken:
        yield from dict.fromkeys(broken)

"""What is missing before an inspection can be closed, in the order a person would settle it."""

from __future__ import annotations

from collections.abc import Iterator

from review_api.api.shown import Desk, Finding, Missing
from review_api.citing import which_class
from review_api.desk.judged_together import outdated
from review_api.desk.other_figures import told
from review_api.record import Department
from review_api.record_of import DECIDED, record
from review_api.report.ready import gaps
from shared.rules.model import Rules

_FACTS = {
    "establishment": "the establishment's name",
    "person_in_charge": "the person in charge",
    "inspector": "the inspector's name",
    "time_in": "the time in",
    "time_out": "the time out",
}


def missing(desk: Desk) -> Iterator[Missing]:
    """One entry for each thing."""
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
                code="undecided", subject=reading.id, text=f"reading “{reading.said}” is not decided"
            )
    for question in desk.questions:
        if question.answer is None:
            yield Missing(code="question", subject=question.id, text=question.text)
    for stretch in desk.not_understood:
        if not stretch.settled:
            yield Missing(
                code="stretch",
                subject=f"{stretch.recording}@{stretch.start}",
                text=f"{stretch.start:.1f} s to {stretch.end:.1f} s: something said was not understood",
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

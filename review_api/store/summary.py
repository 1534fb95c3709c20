"""What the list of inspections shows of one, kept up to date with each change."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from sqlmodel import Session, col, select

from review_api.store import search
from review_api.store.tables import Choice, Inspection, Proposal, Recording


def recount(session: Session, inspection: Inspection) -> None:
    """Counts findings, and what the desk's list has to decide, again, and makes the findings' words
    findable: findings, readings that no finding rests on, and questions of none."""
    decisions = _choices(session, inspection, "decision")
    findings = {
        **_proposed(session, inspection, "finding", {"decision": decisions}),
        **_choices(session, inspection, "by_hand"),
    }
    answers = _choices(session, inspection, "answer")
    standing = {
        subject: {**content, **decisions.get(subject, {}).get("changes", {})}
        for subject, content in findings.items()
        if decisions.get(subject, {}).get("state") != "rejected"
    }
    readings = _proposed(session, inspection, "reading", {"decision": decisions})
    questions = _proposed(session, inspection, "question", {"answer": answers})
    resting = {
        part["reading"]
        for item in findings.values()
        for part in item.get("evidence", ())
        if part.get("reading")
    }
    inspection.undecided = (
        sum(subject.startswith("f") and subject not in decisions for subject in findings)
        + len(readings.keys() - resting - decisions.keys())
        + len(questions.keys() - answers.keys())
    )
    inspection.findings = len(standing)
    search.index(
        session,
        inspection,
        "finding",
        [(subject, _words(item, _of(subject, answers))) for subject, item in standing.items()],
    )
    facts = facts_of(session, inspection)
    inspection.establishment = facts.get("establishment")
    if began := facts.get("time_in") or first_heard(session, [inspection.key]).get(inspection.key):
        inspection.visited = datetime.fromisoformat(began)
    session.add(inspection)
    session.flush()


def facts_of(session: Session, inspection: Inspection) -> dict[str, Any]:
    """The facts of the visit as they stand: those of the file, over them what the person set."""
    row = session.get(Choice, (inspection.id, "facts", "visit"))
    return {**inspection.facts, **(row.value if row else {})}


def first_heard(session: Session, ids: Sequence[int]) -> dict[int, str]:
    """When the first recording of each inspection began; those without one are left out."""
    began = select(Recording.inspection_id, col(Recording.content)["started"].as_string())
    first = began.where(col(Recording.inspection_id).in_(ids), Recording.position == 0)
    return {inspection: at for inspection, at in session.exec(first) if at}


def _choices(session: Session, inspection: Inspection, kind: str) -> dict[str, dict[str, Any]]:
    rows = session.exec(select(Choice).where(Choice.inspection_id == inspection.id, Choice.kind == kind))
    return {row.subject: row.value for row in rows}


def _proposed(
    session: Session, inspection: Inspection, kind: str, choices: dict[str, dict[str, dict[str, Any]]]
) -> dict[str, dict[str, Any]]:
    """The proposals of a kind that are shown, in the order of the visit."""
    rows = session.exec(
        select(Proposal)
        .where(Proposal.inspection_id == inspection.id, Proposal.kind == kind)
        .order_by(col(Proposal.position))
    )
    return {row.subject: row.content for row in rows if row.is_shown(choices)}


def _of(subject: str, answers: dict[str, dict[str, Any]]) -> list[str]:
    """What was answered to the finding's own questions, which are named after it."""
    return [value["answer"] for name, value in answers.items() if name.startswith(f"{subject}.")]


def _words(finding: dict[str, Any], answers: list[str]) -> str:
    parts = (finding.get(name) for name in ("provision", "item", "where", "what", "why"))
    return " ".join(filter(None, (*parts, *answers)))

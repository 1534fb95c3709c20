"""Findings as they stand: proposed or added by hand, with the inspector's changes, photos and answers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

from review_api.api.shown import AttachedPhoto, Finding, Photo, Reading, Utterance
from review_api.citing import which_class
from review_api.desk.answers import Day, asked_when_empty, fill, is_settled_by
from review_api.desk.deadline import by_when
from review_api.desk.observed import observed
from review_api.desk.questions import answered, of_finding
from review_api.desk.readings import decision
from review_api.place_time import local, zone_of_rows
from review_api.store.inspections import Rows
from review_api.store.tables import Proposal
from shared.rules.model import Rules

AROUND = timedelta(minutes=2)
"""A photo taken within this of a finding is offered with it."""


def findings(
    rows: Rows,
    rules: Rules,
    *,
    readings: Sequence[Reading],
    photos: Sequence[Photo],
    utterances: Sequence[Utterance],
) -> tuple[Finding, ...]:
    """All findings of an inspection: those proposed in the order of the visit, then those added by hand."""
    about = _Around(rows, rules, readings, photos, utterances)
    proposed = [_proposed(row, rows, about) for row in rows.proposals.get("finding", ())]
    by_hand = [
        _by_hand(subject, value, rows, about)
        for subject, value in sorted(
            rows.choices.get("by_hand", {}).items(), key=lambda item: int(item[0][1:])
        )
    ]
    return (*proposed, *by_hand)


class _Around:
    """What a finding is surrounded by: readings, photos, words, and what was chosen for it."""

    def __init__(
        self,
        rows: Rows,
        rules: Rules,
        readings: Sequence[Reading],
        photos: Sequence[Photo],
        utterances: Sequence[Utterance],
    ) -> None:
        self.rows = rows
        self.rules = rules
        self.day = day_of(rows)
        self.zone = zone_of_rows(rows)
        self.readings = {reading.id: reading for reading in readings}
        self.photos = photos
        self.utterances = utterances
        self.answers = rows.choices.get("answer", {})
        self._attached = rows.choices.get("attached", {})

    def attached(self, finding: str, evidence: Sequence[Mapping[str, Any]]) -> tuple[AttachedPhoto, ...]:
        """The photos of a finding: the program's evidence and what was attached, less what was detached."""
        by: dict[str, str] = {}
        known = {photo.sha256 for photo in self.photos}
        for part in evidence:
            if part.get("photo"):
                by[part["photo"].removeprefix("sha256:")] = "program"
        for photo in known:
            choice = self._attached.get(f"{finding}/{photo}")
            if choice is not None:
                by.pop(photo, None)
                if choice["attached"]:
                    by[photo] = "person"
        return tuple(
            AttachedPhoto.model_validate({"sha256": photo.sha256, "by": by[photo.sha256]})
            for photo in self.photos
            if photo.sha256 in by
        )

    def seconds(self, evidence: Sequence[Mapping[str, Any]]) -> tuple[str | None, float | None, float | None]:
        """The stretch of one recording that a finding rests on: from its first evidence to its last."""
        parts: list[tuple[str, float, float]] = []
        for part in evidence:
            at = part.get("utterance")
            reading = self.readings.get(part.get("reading") or "")
            if at is None and reading is not None:
                at = reading.utterance
            if at is not None and at < len(self.utterances):
                said = self.utterances[at]
                if said.recording and said.start is not None and said.end is not None:
                    parts.append((said.recording, said.start, said.end))
        if not parts:
            return None, None, None
        recording = parts[0][0]
        same = [part for part in parts if part[0] == recording]
        return recording, min(part[1] for part in same), max(part[2] for part in same)


def _proposed(row: Proposal, rows: Rows, about: _Around) -> Finding:
    decided = rows.choices.get("decision", {}).get(row.subject)
    seen = decided.get("seen") if decided else None
    base = seen if seen is not None else row.content
    changed = "gone" in row.anchor or (seen is not None and _differs(seen, row.content))
    return _finding(row.subject, base, decided, about, changed=changed)


def _by_hand(subject: str, value: Mapping[str, Any], rows: Rows, about: _Around) -> Finding:
    decided = rows.choices.get("decision", {}).get(subject)
    stands = decided or {
        "state": "confirmed",
        "changes": {},
        "class_asked": value.get("class_asked", ()),
        "at": value["at"],
        "who": value["by"],
    }
    return _finding(subject, value, stands, about, changed=False, by_hand=True)


def as_read(base: Mapping[str, Any], rows: Rows, readings: Mapping[str, Reading]) -> Mapping[str, Any]:
    """The program's own finding, its sentence with the figures of the readings as they stand now."""
    decisions = rows.choices.get("decision", {})
    first = {
        row.subject: decisions.get(row.subject, {}).get("seen") or row.content
        for row in rows.proposals.get("reading", ())
    }
    names = dict.fromkeys(part["reading"] for part in base.get("evidence", ()) if part.get("reading"))
    pairs = [(first[name], readings[name]) for name in names if name in first and name in readings]
    return {**base, "what": observed(base["what"], pairs)} if pairs else base


def _finding(
    subject: str,
    proposal: Mapping[str, Any],
    decided: Mapping[str, Any] | None,
    about: _Around,
    *,
    changed: bool,
    by_hand: bool = False,
) -> Finding:
    rules = about.rules
    base = as_read(proposal, about.rows, about.readings)
    texts = tuple(base.get("open_questions", ()))
    edits = decided["changes"] if decided else {}
    questions = tuple(
        question
        for question in of_finding(subject, (*texts, *asked_when_empty(base, texts)), about.answers)
        if question.answer is not None or not is_settled_by(question.text, edits)
    )
    filled = fill(
        base,
        answered(questions),
        edits=edits,
        told=(decided or {}).get("told", {}),
        day=about.day,
    )
    by = [name for names in filled.by.values() for name in names]
    for question in questions:
        question.stands = question.id in by
    shown = {**base, **filled.parts}
    shown["correct_by"] = by_when(base, shown, edits, rules, about.zone)
    provision = rules.provision(shown["provision"])
    evidence = (*base.get("evidence", ()), *({"answer": name} for name in by))
    recording, start, end = about.seconds(evidence)
    attached = about.attached(subject, evidence)
    finding = Finding.model_validate(
        {
            **shown,
            "id": subject,
            "evidence": evidence,
            "title": provision.title if provision else "",
            "reason": provision.reason if provision else "",
            "usual_correction": provision.correction if provision else "",
            "by_hand": by_hand,
            "class_choices": (decided or base).get("class_asked", ()),
            "readings": tuple(dict.fromkeys(part["reading"] for part in evidence if part.get("reading"))),
            "photos": attached,
            "questions": questions,
            "recording": recording,
            "start": start,
            "end": end,
            "decision": decision(decided, changed=changed),
            "proposed": {
                name: proposal.get(name)
                for name in (*filled.parts, *(("what",) if base["what"] != proposal["what"] else ()))
            },
        }
    )
    finding.photos_around = _around(finding, about.photos)
    finding.lacks = _lacks(finding)
    return finding


def _around(finding: Finding, photos: Sequence[Photo]) -> tuple[str, ...]:
    if finding.when is None:
        return ()
    when, has = finding.when, {photo.sha256 for photo in finding.photos}
    near = [photo for photo in photos if photo.sha256 not in has and abs(photo.taken - when) <= AROUND]
    return tuple(photo.sha256 for photo in sorted(near, key=lambda photo: abs(photo.taken - when)))


def _lacks(finding: Finding) -> tuple[str, ...]:
    """What the report would have to leave out of this finding, in plain words."""
    if finding.decision.state == "rejected":
        return ()
    lacks = [question.text for question in finding.questions if question.answer is None]
    if not finding.what.strip():
        lacks.append("what was observed is not said")
    if finding.class_choices:
        lacks.append(which_class(finding.provision, finding.class_, finding.class_choices))
    return tuple(lacks)


def _differs(seen: Mapping[str, Any], now: Mapping[str, Any]) -> bool:
    return any(
        seen.get(name) != now.get(name)
        for name in ("provision", "what", "where", "item", "corrected_on_site")
    )


def day_of(rows: Rows) -> Day:
    """The day of the visit with the zone of its place, for clock times that are typed."""
    facts = rows.facts
    began = facts.get("time_in") or next((row.content["started"] for row in rows.recordings), None)
    if began is None:
        return Day()
    zone = zone_of_rows(rows)
    return Day(local(datetime.fromisoformat(began), zone).date(), zone)

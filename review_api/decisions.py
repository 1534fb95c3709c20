"""Turning what the inspector does at the desk into settings of the store: confirm, edit, reject, reopen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from review_api import wording
from review_api.api.changes import DecisionCreate, FindingChanges, FindingCreate, ReadingChanges
from review_api.api.shown import Desk, Finding, Question, Reading
from review_api.desk.answers import Filled, Row, fill, is_unknown, moment, row_for, sentence_of
from review_api.desk.deadline import deadline
from review_api.desk.findings import day_of
from review_api.desk.questions import answered
from review_api.desk.readings import choices_of
from review_api.recheck import recheck, thermometer
from review_api.store.choices import Setting
from review_api.store.inspections import Rows
from review_api.store.refusals import ChoiceNeeded, MeetsLimit, NotFound, NotValid
from review_api.store.tables import now
from shared.rules.model import Rules

_RECHECKED = ("kind", "value", "unit", "stage", "item", "agent")
"""Fields of a reading that its limit depends on."""

_NEEDED = frozenset(
    ("kind", "value", "unit", "stage", "provision", "class_", "what", "why", "corrected_on_site", "repeat")
)
"""Fields that may be changed but not emptied."""

_WORDS = {"confirm": "confirmed", "edit": "edited", "reject": "rejected", "reopen": "reopened"}

T = TypeVar("T", bound=BaseModel)


@dataclass(frozen=True, slots=True)
class Decided:
    """What is to be stored for one action, and what it is called in the log."""

    settings: tuple[Setting, ...]
    did: str


def decide(given: DecisionCreate, rows: Rows, desk: Desk, rules: Rules, *, who: str) -> Decided:
    """The settings that the action asks for.

    Raises NotFound for an unknown subject, NotValid for changes that it cannot take, ChoiceNeeded where a
    doubted number is confirmed without choosing.
    """
    on = _Subjects(rows, desk, rules, who)
    if given.subject.startswith("r"):
        reading = on.reading(given.subject)
        settings = (_of_reading(given, reading, on),)
        return Decided(settings, f"reading {given.subject} {_WORDS[given.action]}")
    finding = on.finding(given.subject)
    return Decided(tuple(_of_finding(given, finding, on)), f"finding {given.subject} {_WORDS[given.action]}")


def add(given: FindingCreate, rows: Rows, rules: Rules, *, who: str) -> tuple[str, Decided]:
    """The name of a finding added by hand, and its settings. Raises NotValid for an unknown section."""
    provision = rules.provision(given.provision)
    if provision is None:
        raise NotValid(
            f"{rules.title} has no section {given.provision}; choose one from its list", where="provision"
        )
    taken = [int(name[1:]) for name in rows.choices.get("by_hand", {})]
    subject = f"h{1 + max(taken, default=0)}"
    value = {
        **given.model_dump(mode="json", exclude={"revision", "photos"}),
        "class_": given.class_ or provision.classes[0],
        "form_item": provision.form_item,
        "correct_by": deadline(given.class_ or provision.classes[0], given.when or now(), rules),
        "at": now().isoformat(),
        "by": who,
    }
    photos = tuple(Setting("attached", f"{subject}/{photo}", {"attached": True}) for photo in given.photos)
    return subject, Decided((Setting("by_hand", subject, value), *photos), f"finding {subject} added by hand")


def answer(question_id: str, text: str, rows: Rows, desk: Desk, rules: Rules, *, who: str) -> Decided:
    """The answer, and the finding's edits where it takes the place of one. An empty text takes it back.

    Raises NotFound for an unknown question, NotValid where a clock time is asked for and none is given.
    """
    question: Question = _found(desk.questions, question_id)
    on = _Subjects(rows, desk, rules, who)
    row = row_for(question.text) if question.finding else None
    timed = row is not None and row.kind == "moment" and not is_unknown(text)
    if text and timed and moment(text, day_of(rows)) is None:
        raise NotValid("give a clock time, such as 10:40 or 2:15 pm", where="answer")
    value = {"answer": text, "at": now().isoformat(), "who": who} if text else None
    settings = [Setting("answer", question_id, value)]
    if question.finding and row is not None:
        settings += _edits_give_way(on.finding(question.finding), question, text, row, on)
    return Decided(tuple(settings), f"question {question_id} {'answered' if text else 'answer taken back'}")


def words(index: int, text: str, rows: Rows, desk: Desk, *, who: str) -> Decided:
    """The sentence as a person heard it; an empty text, or the words as heard, take the correction back.

    Raises NotFound for an unknown sentence, NotValid for one that was typed.
    """
    if index >= len(desk.utterances):
        raise NotFound(f"this inspection has no sentence {index}")
    said = desk.utterances[index]
    if said.recording is None or said.start is None or said.end is None:
        raise NotValid("this sentence was typed, not heard; it has no sound to hear it by", where="text")
    chosen = rows.choices.get(wording.KIND, {})
    subject = wording.chosen_for(desk.utterances, chosen).get(index, wording.name(said))
    was = chosen[subject]["was"] if subject in chosen else said.text
    value = {
        "text": text, "was": was, "recording": said.recording, "start": said.start, "end": said.end,
        "at": now().isoformat(), "who": who,
    }  # fmt: skip
    taken_back = not text or text == was
    if text == said.text or (taken_back and subject not in chosen):
        return Decided((), "nothing changed")
    did = f"sentence {index + 1} {'as it was heard' if taken_back else 'corrected'}"
    return Decided((Setting(wording.KIND, subject, None if taken_back else value),), did)


def _edits_give_way(
    finding: Finding, question: Question, text: str, row: Row, on: _Subjects
) -> Iterator[Setting]:
    """The decision without the edit whose place the answer takes; what was typed otherwise stays."""
    decided = on.stored(finding.id)
    if decided is None or row.part not in decided["changes"] or is_unknown(text):
        return
    changes, told = dict(decided["changes"]), dict(decided.get("told", {}))
    if row.kind != "tells":
        if text:
            del changes[row.part]
    elif question.answer is not None and question.id in told.get(row.part, ()):
        before = sentence_of(row, question.answer)
        after = sentence_of(row, text) if text else ""
        if before in (changes[row.part] or ""):
            changes[row.part] = " ".join(changes[row.part].replace(before, after).split())
        else:
            told[row.part] = [name for name in told[row.part] if name != question.id]
    if changes != decided["changes"] or told != decided.get("told", {}):
        yield Setting("decision", finding.id, {**decided, "changes": changes, "told": told})


@dataclass(frozen=True, slots=True)
class _Subjects:
    rows: Rows
    desk: Desk
    rules: Rules
    who: str

    def reading(self, subject: str) -> Reading:
        found: Reading = _found(self.desk.readings, subject)
        return found

    def finding(self, subject: str) -> Finding:
        found: Finding = _found(self.desk.findings, subject)
        return found

    def content(self, subject: str) -> Mapping[str, Any]:
        """The program's own reading or finding, as it is proposed now."""
        kind = "reading" if subject.startswith("r") else "finding"
        for row in self.rows.proposals.get(kind, ()):
            if row.subject == subject:
                return row.content
        return self.rows.choices["by_hand"][subject]

    def stored(self, subject: str) -> Mapping[str, Any] | None:
        return self.rows.choices.get("decision", {}).get(subject)


def _found(items: tuple[Any, ...], subject: str) -> Any:
    for item in items:
        if item.id == subject:
            return item
    raise NotFound(f"this inspection has no {subject}")


def _of_reading(given: DecisionCreate, reading: Reading, on: _Subjects) -> Setting:
    if given.action == "reopen":
        return Setting("decision", reading.id, None)
    if given.action == "reject":
        return _rejected(given, reading.id, on)
    before = on.stored(reading.id)
    changes = dict(before["changes"]) if before else {}
    if given.action == "edit":
        changes |= _changes(ReadingChanges, given)
    choice = given.choice if given.choice is not None else given.choices.get(reading.id)
    return _standing_reading(reading, changes, choice, on)


def _standing_reading(
    reading: Reading, changes: dict[str, Any], choice: float | None, on: _Subjects
) -> Setting:
    """A reading confirmed, or edited where anything differs from what was proposed."""
    base = on.content(reading.id)
    before = on.stored(reading.id)
    if choice is not None:
        changes = {**changes, "value": choice}
    if reading.doubts and choice is None and "value" not in changes and before is None:
        raise ChoiceNeeded(
            f"the number in “{reading.said}” is doubted; choose what was meant",
            readings=[{"id": reading.id, "choices": list(choices_of(reading))}],
        )
    changes = {name: value for name, value in changes.items() if base.get(name) != value}
    value: dict[str, Any] = {
        **_stamp("edited" if changes else "confirmed", on),
        "changes": changes,
        "choice": choice if choice is not None else (before or {}).get("choice"),
        "seen": dict(base),
    }
    if any(name in changes for name in _RECHECKED):
        value["check"] = recheck({**base, **changes}, on.rules, thermometer(on.desk.readings, on.desk.facts))
    return Setting("decision", reading.id, value)


def _of_finding(given: DecisionCreate, finding: Finding, on: _Subjects) -> list[Setting]:
    if given.action == "reopen":
        return [Setting("decision", finding.id, None)]
    if given.action == "reject":
        return [_rejected(given, finding.id, on)]
    before = on.stored(finding.id)
    changes = dict(before["changes"]) if before else {}
    if given.action == "edit":
        changes |= _provision_follows(
            _changes(FindingChanges, given), on.rules, when=on.content(finding.id).get("when")
        )
    base = on.content(finding.id)
    without = {**base, **_filled(finding, base, on).parts}
    changes = {name: value for name, value in changes.items() if without.get(name) != value}
    value = {
        **_stamp("edited" if changes else "confirmed", on),
        "changes": changes,
        "seen": None if finding.by_hand else dict(base),
    }
    if told := _told(given, finding, changes, before):
        value["told"] = told
    return [Setting("decision", finding.id, value), *_readings_with(given, finding, on)]


def _filled(finding: Finding, base: Mapping[str, Any], on: _Subjects) -> Filled:
    """The finding as its answers alone make it."""
    return fill(base, answered(finding.questions), edits={}, told={}, day=day_of(on.rows))


def _told(
    given: DecisionCreate, finding: Finding, changes: Mapping[str, Any], before: Mapping[str, Any] | None
) -> dict[str, list[str]]:
    """For each edited part that answers join: those that the inspector had before the eyes while editing."""
    told = {name: names for name, names in (before or {}).get("told", {}).items() if name in changes}
    for part in given.changes if given.action == "edit" else ():
        names = [one.question for one in answered(finding.questions) if _joins(one.asked, part)]
        if part in changes and names:
            told[part] = names
    return told


def _joins(asked: str, part: str) -> bool:
    row = row_for(asked)
    return row is not None and row.kind == "tells" and row.part == part


def _readings_with(given: DecisionCreate, finding: Finding, on: _Subjects) -> list[Setting]:
    """The readings that a finding rests on and that are still open are confirmed with it."""
    open_ones = [
        reading
        for subject in finding.readings
        for reading in on.desk.readings
        if reading.id == subject and reading.decision.state == "proposed"
    ]
    doubted = [reading for reading in open_ones if reading.doubts and reading.id not in given.choices]
    if len(doubted) == 1 and given.choice is not None:
        given.choices[doubted.pop().id] = given.choice
    if doubted:
        raise ChoiceNeeded(
            "this finding rests on a number that is doubted; choose what was meant",
            readings=[{"id": reading.id, "choices": list(choices_of(reading))} for reading in doubted],
        )
    settings = [_standing_reading(reading, {}, given.choices.get(reading.id), on) for reading in open_ones]
    _refuse_met(finding, settings)
    return settings


def _refuse_met(finding: Finding, settings: list[Setting]) -> None:
    """A finding does not stand on readings that, as they were chosen now, all meet their limit."""
    values = [setting.value for setting in settings if setting.value is not None]
    chosen = [value["check"]["verdict"] for value in values if "check" in value]
    if chosen and len(chosen) == len(finding.readings) and set(chosen) == {"meets"}:
        raise MeetsLimit(
            "the limit is met with the value that was chosen; confirm the reading and reject the finding"
        )


def _provision_follows(changes: dict[str, Any], rules: Rules, *, when: str | None) -> dict[str, Any]:
    """With another section come its class, form item and deadline, unless the inspector set those as well."""
    section = changes.get("provision")
    if section is None:
        return changes
    provision = rules.provision(section)
    if provision is None:
        raise NotValid(f"{rules.title} has no section {section}; choose one from its list", where="provision")
    followed = {"class_": provision.classes[0], "form_item": provision.form_item, **changes}
    said = followed.get("when") or when
    found = datetime.fromisoformat(said) if said else now()
    return {"correct_by": deadline(followed["class_"], found, rules), **followed}


def _rejected(given: DecisionCreate, subject: str, on: _Subjects) -> Setting:
    if not given.reason:
        raise NotValid("say in a few words why it is rejected; the log keeps it", where="reason")
    base = None if subject.startswith("h") else dict(on.content(subject))
    return Setting(
        "decision",
        subject,
        {**_stamp("rejected", on), "changes": {}, "reason": given.reason, "seen": base},
    )


def _stamp(state: str, on: _Subjects) -> dict[str, Any]:
    return {"state": state, "at": now().isoformat(), "who": on.who}


def _changes(kind: type[T], given: DecisionCreate) -> dict[str, Any]:
    """The changes, checked against the fields that the subject has. Raises NotValid."""
    try:
        checked = kind.model_validate(given.changes)
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(str(part) for part in first["loc"])
        raise NotValid(f"{where}: {first['msg']}", where=f"changes.{where}") from error
    changes = checked.model_dump(mode="json", exclude_unset=True)
    for name, value in changes.items():
        if value is None and name in _NEEDED:
            raise NotValid(f"{name} cannot be empty; leave it out to keep it", where=f"changes.{name}")
    return changes

"""Turning what the inspector does at the desk into settings of the store: confirm, edit, reject, reopen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from review_api import wording
from review_api.api.changes import DecisionCreate, FindingChanges, FindingCreate, ReadingChanges
from review_api.api.shown import Desk, Finding, Question, Reading
from review_api.citing import cited
from review_api.desk.answers import Filled, Row, fill, is_unknown, moment, row_for, sentence_of
from review_api.desk.findings import as_read, day_of
from review_api.desk.questions import answered
from review_api.desk.readings import choices_of
from review_api.place_time import local, zone_of_rows
from review_api.recheck import hangs_on, kind_with, recheck, thermometer
from review_api.store.choices import Setting
from review_api.store.inspections import Rows
from review_api.store.refusals import ChoiceNeeded, MeetsLimit, NotFound, NotValid
from review_api.store.tables import now
from shared.rules.model import Rules

_NEEDED = frozenset(
    ("kind", "value", "unit", "stage", "provision", "class_", "what", "why", "corrected_on_site", "repeat")
)
"""Fields that may be changed but not emptied."""

_TIMES = ("when", "correct_by")

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
    """The name of a finding added by hand, and its settings; with a `key` that was given before, that finding
    and nothing to set. Raises NotValid for an unknown section."""
    there = rows.choices.get("by_hand", {})
    for name, before in there.items():
        if given.key is not None and before.get("key") == given.key:
            return name, Decided((), f"finding {name} was added before")
    section, zone = cited(given.provision, rules), zone_of_rows(rows)
    subject = f"h{1 + max((int(name[1:]) for name in there), default=0)}"
    value = {
        **given.model_dump(mode="json", exclude={"revision", "photos"}),
        "when": local(given.when, zone).isoformat() if given.when is not None else None,
        "class_": given.class_ or section.class_,
        "class_asked": [] if given.class_ else list(section.asked),
        "form_item": section.form_item,
        "at": now().astimezone(zone).isoformat(),
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
    value = {"answer": text, "at": _now(rows), "who": who} if text else None
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
        "at": _now(rows), "who": who,
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
    typed = _changes(ReadingChanges, given, on) if given.action == "edit" else {}
    choice = given.choice if given.choice is not None else given.choices.get(reading.id)
    return _standing_reading(reading, changes, on, typed=typed, choice=choice)


def _standing_reading(
    reading: Reading,
    changes: dict[str, Any],
    on: _Subjects,
    *,
    typed: Mapping[str, Any],
    choice: float | None,
) -> Setting:
    """A reading confirmed, or edited where anything differs from what was proposed.

    `typed`: what the person changes now, over the earlier `changes`. Raises ChoiceNeeded where its number is
    doubted and nobody has said which it is.
    """
    base = on.content(reading.id)
    changes = {**changes, **typed}
    doubted = bool(base.get("doubts"))
    if doubted and choice is None:
        choice = typed.get("value", _chosen_before(on.stored(reading.id)))
        if choice is None:
            raise _choice_needed(f"the number in “{reading.said}” is doubted; choose what was meant", [base])
    if choice is not None:
        changes["value"] = choice
    if "kind" not in typed:
        changes["kind"] = kind_with(changes.get("unit", base["unit"]), changes.get("kind", base["kind"]))
    changes = {name: value for name, value in changes.items() if base.get(name) != value}
    value: dict[str, Any] = {
        **_stamp("edited" if changes else "confirmed", on),
        "changes": changes,
        "choice": choice,
        "seen": dict(base),
    }
    if hangs_on(base, changes):
        value["check"] = recheck(base, changes, on.rules, thermometer(on.desk.readings, on.desk.facts))
    return Setting("decision", reading.id, value)


def _chosen_before(before: Mapping[str, Any] | None) -> float | None:
    """The value that an earlier decision which still stands took for a doubted number."""
    if before is None or before["state"] not in ("confirmed", "edited"):
        return None
    value: float | None = before["changes"].get("value", before.get("choice"))
    return value


def _choice_needed(sentence: str, doubted: Sequence[Mapping[str, Any]]) -> ChoiceNeeded:
    readings = [
        {"id": one["id"], "choices": list(choices_of(Reading.model_validate(one)))} for one in doubted
    ]
    return ChoiceNeeded(sentence, readings=readings)


def _of_finding(given: DecisionCreate, finding: Finding, on: _Subjects) -> list[Setting]:
    if given.action == "reopen":
        return [Setting("decision", finding.id, None)]
    if given.action == "reject":
        return [_rejected(given, finding.id, on)]
    before = on.stored(finding.id)
    changes = dict(before["changes"]) if before else {}
    typed = _changes(FindingChanges, given, on) if given.action == "edit" else {}
    if _is_as_shown("correct_by", typed, finding) and "correct_by" not in changes:
        del typed["correct_by"]
    another = typed.get("provision", finding.provision) != finding.provision
    section = cited(typed["provision"], on.rules) if another else None
    if section is not None:
        changes |= {"class_": section.class_, "form_item": section.form_item}
    changes |= typed
    base = on.content(finding.id)
    as_it_stands = as_read(base, on.rows, {reading.id: reading for reading in on.desk.readings})
    without = {**as_it_stands, **_filled(finding, as_it_stands, on).parts}
    changes = {name: value for name, value in changes.items() if without.get(name) != value}
    value = {
        **_stamp("edited" if changes else "confirmed", on),
        "changes": changes,
        "seen": None if finding.by_hand else dict(base),
    }
    if told := _told(given, finding, changes, before):
        value["told"] = told
    if given.action == "edit" and "class_" not in typed:
        asked = section.asked if section is not None else _asked_class(finding, before, on)
        value["class_asked"] = list(asked)
    return [Setting("decision", finding.id, value), *_readings_with(given, finding, on)]


def _asked_class(finding: Finding, before: Mapping[str, Any] | None, on: _Subjects) -> Sequence[str]:
    """The classes that were to be chosen from, and still are; a finding that was confirmed has its class."""
    source = before if before is not None else on.content(finding.id) if finding.by_hand else {}
    asked: Sequence[str] = source.get("class_asked", ())
    return asked


def _is_as_shown(name: str, typed: Mapping[str, Any], finding: Finding) -> bool:
    """Whether a time is sent back as the desk shows it, so that nobody typed it."""
    shown = getattr(finding, name)
    given = typed.get(name)
    return given is not None and shown is not None and datetime.fromisoformat(given) == shown


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
        sentence = "this finding rests on a number that is doubted; choose what was meant"
        raise _choice_needed(sentence, [on.content(reading.id) for reading in doubted])
    settings = [
        _standing_reading(reading, {}, on, typed={}, choice=given.choices.get(reading.id))
        for reading in open_ones
    ]
    if "provision" not in given.changes:
        _refuse_met(finding, settings, on)
    return settings


def _refuse_met(finding: Finding, settings: list[Setting], on: _Subjects) -> None:
    """A finding of the section that its readings were held against does not stand where all meet it."""
    if finding.provision != on.content(finding.id)["provision"]:
        return
    now = {setting.subject: setting.value for setting in settings}
    verdicts = []
    for reading in on.desk.readings:
        if reading.id not in finding.readings:
            continue
        value = now.get(reading.id)
        if value is not None:
            check = value.get("check") or value["seen"].get("check") or {}
            verdicts.append(check.get("verdict"))
        elif reading.decision.state != "rejected":
            verdicts.append(reading.check.verdict if reading.check else None)
    if verdicts and set(verdicts) <= {"meets", "none"}:
        how = "is within its limit" if "meets" in verdicts else "has no limit"
        raise MeetsLimit(
            f"every reading that this finding rests on {how} as it stands; reject the finding, or correct "
            "the reading"
        )


def _rejected(given: DecisionCreate, subject: str, on: _Subjects) -> Setting:
    if not given.reason:
        raise NotValid("say in a few words why it is rejected; the log keeps it", where="reason")
    base = None if subject.startswith("h") else dict(on.content(subject))
    return Setting(
        "decision",
        subject,
        {**_stamp("rejected", on), "changes": {}, "reason": given.reason, "seen": base},
    )


def _now(rows: Rows) -> str:
    """Now, on the clock of the place."""
    return now().astimezone(zone_of_rows(rows)).isoformat()


def _stamp(state: str, on: _Subjects) -> dict[str, Any]:
    return {"state": state, "at": _now(on.rows), "who": on.who}


def _changes(kind: type[T], given: DecisionCreate, on: _Subjects) -> dict[str, Any]:
    """The changes, checked against the fields that the subject has, times on the place's clock. Raises
    NotValid."""
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
        if name in _TIMES and value is not None:
            changes[name] = local(datetime.fromisoformat(value), zone_of_rows(on.rows)).isoformat()
    return changes

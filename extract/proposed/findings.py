"""Proposed violations as they leave this stage: who, what, where, when, why, and what must be asked."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from extract.cases import Case, sections_agree
from extract.checks.correcting import correct_by
from extract.measured.date_marked import day_of_use
from extract.of_what.staging import heads_agree
from extract.scene import Draft, Read
from extract.words.lexicon import read
from shared.errors import InputError
from shared.foods import classify
from shared.rules.model import Provision, Rules
from shared.types import Check, Evidence, Facts, Finding, Trace, Utterance
from shared.units import written

_STAGE_WORDS = {
    "cold_holding": "cold holding",
    "hot_holding": "hot holding",
    "time_control": "time as a control",
    "manual_wash": "manual washing",
    "manual_sanitize": "sanitizing in the sink",
    "machine_wash": "the machine's wash",
    "machine_rinse": "the machine's final rinse",
    "utensil_surface": "the surface of the ware",
    "thermometer_check": "thermometer check",
    "handwashing": "the handwashing sink",
}


_FACT_WORDS = {
    "symptom_free": "time without symptoms",
    "in_use": "time in use without being cleaned",
    "floor_equipment": "the space under equipment on the floor",
    "table_equipment": "the space under equipment on a table",
}


def _stage_words(draft: Draft) -> str:
    for fact, text in _FACT_WORDS.items():
        if fact in draft.facts:
            return text
    return stage_words(draft.stage)


def stage_words(stage: str) -> str:
    """A stage as a finding's sentence says it."""
    return _STAGE_WORDS.get(stage, stage.replace("_", " "))


_OPERATORS = {"<=": "at most", ">=": "at least", "==": "exactly"}


def joined(of_readings: list[Case], seen: list[Case]) -> list[Case]:
    """Both kinds in the order of the visit; a condition that repeats what a reading proves is taken in by
    it."""
    kept = list(of_readings)
    lines = [case.line for case in of_readings]
    for case in seen:
        close = of_readings[bisect_left(lines, case.line - 1) : bisect_right(lines, case.line + 1)]
        twin = next((c for c in close if _same_case(c, case)), None)
        if twin is not None:
            twin.spans.append((case.line, case.span))
            twin.words = twin.words | case.words
        else:
            kept.append(case)
    kept.sort(key=lambda case: case.position)
    return kept


def _same_case(one: Case, two: Case) -> bool:
    if (
        one.line == two.line
        and one.form_item == two.form_item
        and one.drafts
        and one.drafts[0].stage == "sanitizer"
    ):
        return True
    if _both_of_the_ill(one, two):
        return True
    if not sections_agree(one.section, two.section):
        return False
    if one.item and two.item and heads_agree(one.item, two.item):
        return True
    return not one.place or not two.place or heads_agree(one.place, two.place) or one.line == two.line


def _both_of_the_ill(one: Case, two: Case) -> bool:
    """`vomiting, 11 hours since the last of it`: one worker, told by the hours and by the words."""
    hours = bool(one.drafts) and "symptom_free" in one.drafts[0].facts
    return hours and two.section.startswith(("2-201.12", "2-201.13")) and one.line == two.line


@dataclass(frozen=True, slots=True)
class _Asked:
    stages: frozenset[str]
    text: str
    unless: tuple[str, ...]
    cos: bool


@cache
def _asked() -> tuple[_Asked, ...]:
    return tuple(
        _Asked(frozenset(row["stages"]), row["text"], tuple(row.get("unless", ())), row.get("cos", False))
        for row in read("questions.toml")["question"]
    )


@cache
def _whether_put_right() -> str:
    return str(read("questions.toml")["whether_put_right"])


def _open_questions(case: Case, reads: Sequence[Read]) -> tuple[str, ...]:
    whether = (_whether_put_right(),) if case.asks_whether_corrected else ()
    return (*whether, *_of_its_kind(case, reads))


def _of_its_kind(case: Case, reads: Sequence[Read]) -> tuple[str, ...]:
    if not case.drafts:
        known = _known(case)
        return tuple(
            text
            for text in case.questions
            if text not in known and not (case.corrected and "done" in text.lower())
        )
    stage = case.drafts[0].stage
    around = " ".join(done.line.text.lower() for done in reads[case.line : case.line + 3])
    return tuple(
        row.text
        for row in _asked()
        if stage in row.stages
        and not (row.cos and case.corrected)
        and not any(word in around for word in row.unless)
    )


def finding(
    case: Case, number: int, ids: dict[int, str], checks: dict[int, Check], reads: Sequence[Read],
    utterances: Sequence[Utterance], rules: Rules, facts: Facts, doubted: dict[int, int],
) -> Finding:  # fmt: skip
    """The proposed violation as it leaves this stage."""
    provision = rules.provision(case.section)
    utterance = utterances[case.line]
    evidence = [Evidence(utterance=case.line, span=case.span)]
    evidence += [Evidence(reading=ids[draft.order]) for draft in case.drafts]
    evidence += [Evidence(utterance=line, span=span) for line, span in _further(case)]
    traces = [Trace(case.rule, case.line, case.span, reads[case.line].line.text[slice(*case.span)])]
    traces += [
        Trace(
            "corrected on site" if case.corrected else "also", line, span, reads[line].line.text[slice(*span)]
        )
        for line, span in case.spans
    ]
    confidence = case.confidence
    if case.drafts:
        confidence = max(0.5, 0.95 - 0.1 * max(doubted.get(draft.order, 0) for draft in case.drafts))
    items = list(dict.fromkeys(draft.item for draft in case.drafts if draft.item))
    if not items:
        case.item = _food_of(case, reads)
    return Finding(
        id=f"f{number}",
        provision=case.section,
        class_=_class(provision),
        form_item=case.form_item,
        what=_what(case, checks, provision, rules),
        where=case.place,
        when=utterance.at,
        why=provision.reason if provision is not None else "",
        who=case.who,
        item=", ".join(items) if items else case.item,
        corrected_on_site=case.corrected,
        correction=case.correction,
        correct_by=_correct_by(case, _class(provision), utterance, rules, facts),
        repeat=case.repeated
        or any(sections_agree(case.section, earlier.section) for earlier in facts.previous),
        open_questions=_open_questions(case, reads),
        confidence=round(confidence, 2),
        alternatives=case.alternatives,
        evidence=tuple(evidence),
        trace=tuple(traces),
    )


@cache
def _condition_questions() -> dict[str, str]:
    questions: dict[str, str] = read("conditions/questions.toml")["questions"]
    return questions


def _known(case: Case) -> frozenset[str]:
    """The questions that the finding's own fields answer already."""
    asked = _condition_questions()
    answered = {
        asked["which_food"]: case.item is not None and any(map(classify, case.item.split(", "))),
        asked["where"]: case.place is not None,
        asked["who"]: case.who is not None,
    }
    return frozenset(text for text, done in answered.items() if done)


def _food_of(case: Case, reads: Sequence[Read]) -> str | None:
    """The food that a condition of chapter 3 is about: without the vessels named with it, or the only food
    measured in the same breath when none was named. As it stands where neither is sure."""
    if not case.section.startswith("3-") or _condition_questions()["which_food"] not in case.questions:
        return case.item
    if case.item is not None:
        parts = case.item.split(", ")
        foods = [part for part in parts if classify(part) is not None]
        return ", ".join(foods) if foods else case.item
    cooling = case.section.startswith("3-501.1") and not case.section.startswith(("3-501.16", "3-501.17"))
    back = 2 if cooling else 0
    measured = {
        draft.item
        for done in reads[max(0, case.line - back) : case.line + 1]
        for draft in done.drafts
        if draft.food and draft.item and draft.fallen is None and (not cooling or draft.stage == "cooling")
    }
    return measured.pop() if len(measured) == 1 else None


def _further(case: Case) -> list[tuple[int, tuple[int, int]]]:
    """The further words that support a case, without those that its evidence holds already."""
    kept = [(case.line, case.span)]
    for line, span in case.spans:
        if not any(line == other and first <= span[0] and span[1] <= last for other, (first, last) in kept):
            kept.append((line, span))
    return kept[1:]


def _correct_by(case: Case, class_: str, utterance: Utterance, rules: Rules, facts: Facts) -> datetime | None:
    """The latest moment for a correction; None when it was put right, or its time or class is not known."""
    if case.corrected or utterance.at is None or utterance.at.tzinfo is None or not class_:
        return None
    try:
        zone = ZoneInfo(facts.time_zone) if facts.time_zone else None
        return correct_by(class_, utterance.at, rules, zone=zone).latest
    except (InputError, ValueError, OSError, ZoneInfoNotFoundError):
        return None


def _class(provision: Provision | None) -> str:
    return provision.classes[0] if provision is not None and provision.classes else ""


def _tolerance(checked: Check, rules: Rules) -> str:
    """By how much a thermometer may be off, as it was judged: 2 °F, 1 °C."""
    unit = checked.unit or ""
    allowed = (
        limit.tolerance[unit]
        for limit in rules.limits.values()
        if limit.operator == "+-" and limit.section == checked.section and unit in limit.tolerance
    )
    return written(next(allowed, 0.0), unit)


def _what(case: Case, checks: dict[int, Check], provision: Provision | None, rules: Rules) -> str:
    if not case.drafts:
        text = case.says or (provision.title if provision is not None else case.section)
        if case.item and case.item.lower() not in text.lower():
            text = f"{case.item}: {text}"
        return text[:1].upper() + text[1:]
    parts = []
    for draft in case.drafts:
        name = draft.item or draft.agent or draft.place or _stage_words(draft)
        when = f" at {draft.clock}" if draft.clock else ""
        day = day_of_use(draft)
        figure = written(draft.value, draft.unit) if day is None else f"day {day:g}"
        parts.append(f"{name} {figure}{when}")
    first = checks[case.drafts[0].order]
    stage = _stage_words(case.drafts[0])
    limit = ""
    if first.limit is not None and first.unit is not None:
        operator = _OPERATORS.get(first.operator or "", "limit")
        if first.operator == "+-":
            operator = f"within {_tolerance(first, rules)} of"
        limit = f", {operator} {written(first.limit, first.unit)} is allowed"
        if first.operator == ">=":
            limit = f", at least {written(first.limit, first.unit)} is needed"
    text = f"{'; '.join(parts)} ({stage}{limit})"
    return text[:1].upper() + text[1:]

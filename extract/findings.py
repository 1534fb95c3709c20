"""Proposed violations from readings and observed conditions: who, what, where, when, why, and what must be asked."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

from extract.cases import Case, sections_agree
from extract.conditions import ASK_BELOW, Condition, find_conditions, load_catalogue
from extract.corrections import words_of
from extract.lexicon import Lexicon, Phrases, read
from extract.line import Line
from extract.readings import Read
from extract.scene import Draft
from extract.staging import heads_agree
from extract.subject import place_name
from extract.text import plain, singular
from shared.rules.model import Provision, Rules
from shared.types import Check, Compliance, Evidence, Facts, Finding, Question, Trace, Utterance
from shared.units import written

_STAGE_WORDS = {
    "cold_holding": "cold holding", "hot_holding": "hot holding", "time_control": "time as a control",
    "manual_wash": "manual washing", "manual_sanitize": "sanitizing in the sink", "machine_wash": "the machine's wash",
    "machine_rinse": "the machine's final rinse", "utensil_surface": "the surface of the ware",
    "thermometer_check": "thermometer check", "handwashing": "the handwashing sink",
}  # fmt: skip
_OPERATORS = {"<=": "at most", ">=": "at least", "+-": "within 2 degrees of", "==": "exactly"}
_BY_ITEM = frozenset(("cooking", "reheating", "cooling", "receiving", "time_control", "storage", "freezing"))


@dataclass(slots=True)
class Observed:
    """What the conditions of a visit gave: violations in the making, questions, and remarks that all was in order."""

    cases: list[Case]
    questions: list[Question]
    compliances: list[Compliance]


# ---------------------------------------------------------------- from readings


def cases_of_readings(
    drafts: Sequence[Draft], checks: dict[int, Check], reads: Sequence[Read], rules: Rules
) -> list[Case]:
    """One case for each limit broken in one place, with all its readings."""
    cases: list[Case] = []
    in_place: dict[tuple[str, str, str], Case] = {}
    for draft in drafts:
        verdict = checks[draft.order]
        if verdict.section is None or not _proposed(draft, verdict, reads):
            continue
        provision = rules.provision(verdict.section)
        section = provision.section if provision is not None else verdict.section
        key = (section, draft.stage, (draft.place or "").casefold())
        if draft.stage in _BY_ITEM:
            home = next((case for case in cases[-6:] if _together(case, draft, verdict.section)), None)
        else:
            home = in_place.get(key)
        span = span_of(draft)
        if home is None:
            home = Case(
                section=provision.section if provision is not None else verdict.section,
                line=draft.line.index,
                span=span,
                form_item=provision.form_item if provision is not None else None,
                item=draft.item,
                place=draft.place,
                rule=f"{draft.stage} reading against {verdict.section}",
            )
            cases.append(home)
            in_place[key] = home
        home.drafts.append(draft)
        home.words = (
            home.words
            | words_of(draft.item or "")
            | (words_of(draft.place or "") if draft.item is None else frozenset())
        )
        if draft.kind == "concentration":
            home.words = home.words | {"sanit", "sanitizer", draft.agent or "sanit"}
    return cases


def _proposed(draft: Draft, verdict: Check, reads: Sequence[Read]) -> bool:
    if verdict.verdict == "violates":
        return True
    if verdict.verdict != "borderline" or verdict.margin is None or not _failing(verdict):
        return False
    at = draft.line.index
    for line in (read.line for read in reads[at : at + 2]):
        for first, last, _ in _people().writing.find(line.tokens):
            if any(
                token.low in ("not", "no", "before", "if") for token in line.tokens[max(0, first - 4) : first]
            ):
                continue
            named = words_of(line.text) & words_of(draft.item or "")
            if line is draft.line or named:
                del last
                return True
    return False


def _failing(verdict: Check) -> bool:
    margin = verdict.margin or 0.0
    return margin > 0 if verdict.operator == "<=" else margin < 0


def _together(case: Case, draft: Draft, section: str) -> bool:
    """Whether a reading belongs to the case of the same food."""
    first = case.drafts[0]
    if not sections_agree(case.section, section) or first.stage != draft.stage:
        return False
    return (draft.item is None or first.item is None or heads_agree(draft.item, first.item)) and (
        draft.line.index - case.drafts[-1].line.index <= 3
    )


def span_of(draft: Draft) -> tuple[int, int]:
    """The characters that say the reading."""
    first, last = draft.said or (draft.figure.first, draft.figure.last)
    tokens = draft.line.tokens
    return tokens[first].start, tokens[last - 1].end


# ---------------------------------------------------------------- from conditions


def observed(reads: Sequence[Read], rules: Rules, words: Lexicon) -> Observed:
    """The conditions of all utterances, sorted by what becomes of them."""
    catalogue = load_catalogue()
    result = Observed([], [], [])
    for n, item in enumerate(reads):
        line = item.line
        if not line.tokens:
            continue
        cleared = _cleared(line, words)
        if cleared is not None and cleared < 12:
            _drop_last(result.cases, n - 1)
        for condition in find_conditions(line.text, catalogue=catalogue, rules=rules, line=line.tokens):
            evidence = Evidence(utterance=n, span=condition.span)
            if condition.polarity == "compliance" and condition.form_item is not None:
                if "IN" in rules.form_items[condition.form_item].marks:
                    result.compliances.append(Compliance(condition.form_item, "IN", (evidence,)))
            if condition.polarity != "violation":
                continue
            if cleared is not None and condition.span[1] <= cleared:
                continue
            if condition.confidence < ASK_BELOW:
                result.questions.append(
                    Question(
                        f"“{line.text[slice(*condition.span)]}”: is this a violation ({condition.says})?",
                        (evidence,),
                        (condition.section, *condition.runners_up),
                    )
                )
                continue
            _add(result.cases, _case(condition, n, item, rules))
    return result


def _case(condition: Condition, n: int, item: Read, rules: Rules) -> Case:
    provision = rules.provision(condition.section)
    line = item.line
    about = " ".join(line.text[slice(*piece)] for piece in condition.pieces)
    return Case(
        section=condition.section,
        line=n,
        span=condition.span,
        form_item=condition.form_item
        if condition.form_item is not None
        else provision.form_item
        if provision
        else None,
        says=condition.says,
        item=condition.item,
        place=_place(condition, item),
        words=words_of(about) | words_of(condition.item or ""),
        confidence=condition.confidence,
        alternatives=condition.runners_up,
        questions=condition.questions,
        rule=condition.rule,
        repeated=condition.repeated,
        who=_who(line, condition.span),
    )


def _add(cases: list[Case], new: Case) -> None:
    """Adds a case, or lets it strengthen one of the same section about the same thing said close by."""
    for case in reversed(cases):
        if new.line - case.line > 2:
            break
        if case.section != new.section:
            continue
        one, two = case.item or "", new.item or ""
        same = not one or not two or heads_agree(one, two)
        places = not case.place or not new.place or heads_agree(case.place, new.place)
        if same and places and (case.line == new.line or one == two or not two):
            case.spans.append((new.line, new.span))
            case.words = case.words | new.words
            case.item = case.item or new.item
            case.confidence = max(case.confidence, new.confidence)
            return
    cases.append(new)


def _place(condition: Condition, item: Read) -> str | None:
    """Where a condition was seen: a place named in its sentence, or the one that still holds."""
    line = item.line
    at = next((i for i, token in enumerate(line.tokens) if token.end > condition.span[0]), 0)
    first, end = line.sentence_span(at)
    own = condition.item_span
    here = []
    for chunk in line.chunks:
        if chunk.sort != "place" or not first <= chunk.first < end:
            continue
        start, stop = line.tokens[chunk.first].start, line.tokens[chunk.last - 1].end
        if own is not None and start < own[1] and own[0] < stop:
            continue
        here.append((abs(chunk.first - at) - (2 if chunk.preposition else 0), chunk))
    if here:
        return place_name(line, min(here, key=lambda pair: pair[0])[1])
    before = [
        chunk
        for chunk in line.chunks
        if chunk.sort == "place" and chunk.first < first and not chunk.preposition == "for"
    ]
    if before:
        return place_name(line, before[-1])
    return item.place_before


def _cleared(line: Line, words: Lexicon) -> int | None:
    """Where the inspector takes back a proposed violation (`not writing it`), as a character; None: nowhere."""
    for first, last, _ in words.clear.find(line.tokens):
        text = " ".join(token.low for token in line.tokens[first:last])
        following = line.tokens[last].low if last < len(line.tokens) else ""
        if text == "no violation" and following in ("at", "in", "on", "for", "here", "with"):
            continue
        if text in (
            "scratch that",
            "strike that",
            "disregard that",
            "disregard",
            "never mind",
            "i take that back",
            "take it back",
        ):
            if any(token.kind == "number" for token in line.tokens[last : last + 6]):
                continue
        return line.tokens[first].start
    return None


def _drop_last(cases: list[Case], line: int) -> None:
    if cases and cases[-1].line == line:
        cases.pop()


@dataclass(frozen=True, slots=True)
class _People:
    words: Phrases[bool]
    writing: Phrases[bool]


@cache
def _people() -> _People:
    table = read("people.toml")
    return _People(
        Phrases(((text, True) for text in table["words"]), form=singular),
        Phrases(((text, True) for text in table["writing"]), form=plain),
    )


def _who(line: Line, span: tuple[int, int]) -> str | None:
    at = next((i for i, token in enumerate(line.tokens) if token.end > span[0]), 0)
    first, end = line.sentence_span(at)
    stop = next((i for i in range(at, end) if line.tokens[i].start >= span[1]), end)
    for start, last, _ in _people().words.find(line.tokens, first, stop):
        following = line.tokens[last].low if last < len(line.tokens) else ""
        if following in ("says", "said", "tells", "told", "claims", "thinks"):
            continue
        return line.words(start, last)
    return None


# ---------------------------------------------------------------- joined, asked, written


def joined(of_readings: list[Case], seen: list[Case]) -> list[Case]:
    """Both kinds in the order of the visit; a condition that repeats what a reading proves is taken in by it."""
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
    if not sections_agree(one.section, two.section):
        return False
    return not one.place or not two.place or heads_agree(one.place, two.place) or one.line == two.line


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


def _open_questions(case: Case, reads: Sequence[Read]) -> tuple[str, ...]:
    if not case.drafts:
        return tuple(text for text in case.questions if not (case.corrected and "done" in text.lower()))
    stage = case.drafts[0].stage
    around = " ".join(read.line.text.lower() for read in reads[case.line : case.line + 3])
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
    evidence += [Evidence(utterance=line, span=span) for line, span in case.spans]
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
    return Finding(
        id=f"f{number}",
        provision=case.section,
        class_=_class(provision),
        form_item=case.form_item,
        what=_what(case, checks, provision),
        where=case.place,
        when=utterance.at,
        why=provision.reason if provision is not None else "",
        who=case.who,
        item=", ".join(items) if items else case.item,
        corrected_on_site=case.corrected,
        correction=case.correction,
        repeat=case.repeated
        or any(sections_agree(case.section, earlier.section) for earlier in facts.previous),
        open_questions=_open_questions(case, reads),
        confidence=round(confidence, 2),
        alternatives=case.alternatives,
        evidence=tuple(evidence),
        trace=tuple(traces),
    )


def _class(provision: Provision | None) -> str:
    return provision.classes[0] if provision is not None and provision.classes else ""


def _what(case: Case, checks: dict[int, Check], provision: Provision | None) -> str:
    if not case.drafts:
        text = case.says or (provision.title if provision is not None else case.section)
        if case.item and case.item.lower() not in text.lower():
            text = f"{case.item}: {text}"
        return text[:1].upper() + text[1:]
    parts = []
    for draft in case.drafts:
        name = (
            draft.item
            or draft.agent
            or draft.place
            or _STAGE_WORDS.get(draft.stage, draft.stage.replace("_", " "))
        )
        when = f" at {draft.clock}" if draft.clock else ""
        parts.append(f"{name} {written(draft.value, draft.unit)}{when}")
    first = checks[case.drafts[0].order]
    stage = _STAGE_WORDS.get(case.drafts[0].stage, case.drafts[0].stage.replace("_", " "))
    limit = ""
    if first.limit is not None and first.unit is not None:
        limit = (
            f", {_OPERATORS.get(first.operator or '', 'limit')} {written(first.limit, first.unit)} is allowed"
        )
        if first.operator == ">=":
            limit = f", at least {written(first.limit, first.unit)} is needed"
    text = f"{'; '.join(parts)} ({stage}{limit})"
    return text[:1].upper() + text[1:]


def with_deadline(value: Finding, correct_by: object) -> Finding:
    """The finding with its correct-by time."""
    return replace(value, correct_by=correct_by)  # type: ignore[arg-type]

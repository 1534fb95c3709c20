"""Violations in the making from readings that break a limit."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile

from extract.cases import Case, family, named_by
from extract.of_what.staging import elsewhere, heads_agree
from extract.put_right.reaching import FAR
from extract.scene import Draft, Read
from extract.settled.in_order import PERHAPS_IN_ORDER
from extract.words.people import people
from extract.words.text import words_of
from shared.rules.model import Rules
from shared.types import Check

_BY_ITEM = frozenset(("cooking", "reheating", "cooling", "receiving", "time_control", "storage", "freezing"))


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
            home = (
                in_place.get(key)
                or _of_one_solution(cases, draft, section)
                or _told_again(cases, draft, section)
            )
        span = draft.span
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
            | named_by(draft.item)
            | (words_of(draft.place or "") if draft.item is None else frozenset())
        )
        if draft.kind == "concentration":
            home.words = home.words | {"sanit", "sanitizer", draft.agent or "sanit"}
    return cases


def _proposed(draft: Draft, verdict: Check, reads: Sequence[Read]) -> bool:
    if draft.stage == "reheating" and draft.kind == "temperature" and draft.said is None:
        first, end = draft.line.sentence_span(draft.first)
        if people().in_progress.find(draft.line.tokens, first, end):
            return False
    if verdict.verdict == "violates":
        return not draft.carries(PERHAPS_IN_ORDER)
    if verdict.verdict != "borderline" or verdict.margin is None or not _failing(verdict):
        return False
    at = draft.line.index
    for line in (done.line for done in reads[at : at + 2]):
        for first, _, _ in people().writing.find(line.tokens):
            if any(
                token.low in ("not", "no", "before", "if") for token in line.tokens[max(0, first - 4) : first]
            ):
                continue
            named = words_of(line.text) & words_of(draft.item or "")
            if line is draft.line or named:
                return True
    return False


def _failing(verdict: Check) -> bool:
    margin = verdict.margin or 0.0
    return margin > 0 if verdict.operator == "<=" else margin < 0


def _of_one_solution(cases: Sequence[Case], draft: Draft, section: str) -> Case | None:
    """The case of `bleach side 50 ppm, and the water in it's 68`: of one solution, whatever it is called."""
    last = cases[-1] if cases else None
    if draft.stage != "sanitizer" or last is None or last.section != section or not last.drafts:
        return None
    before = last.drafts[-1]
    together = (
        before.line is draft.line
        and before.line.sentence[before.first] == draft.line.sentence[draft.first]
        and before.kind != draft.kind
    )
    return last if together else None


def _told_again(cases: Sequence[Case], draft: Draft, section: str) -> Case | None:
    """The case of the same food or solution that was read before, and nobody said to be elsewhere."""
    for case in takewhile(lambda one: draft.line.index - one.line <= FAR, reversed(cases)):
        before = case.drafts[-1] if case.drafts else None
        if before is None or case.section != section or before.stage != draft.stage:
            continue
        if before.kind != draft.kind or elsewhere(before.place, draft.place) or before.agent != draft.agent:
            continue
        named = before.item is not None and draft.item is not None
        if named and heads_agree(before.item or "", draft.item or ""):
            return case
        if before.item is draft.item is None and before.value == draft.value:
            return case
    return None


def _together(case: Case, draft: Draft, section: str) -> bool:
    """Whether a reading belongs to the case of the same food."""
    first = case.drafts[0]
    if family(case.section) != family(section) or first.stage != draft.stage:
        return False
    return (draft.item is None or first.item is None or heads_agree(draft.item, first.item)) and (
        draft.line.index - case.drafts[-1].line.index <= 3
    )

"""`extract`: all that one inspection's utterances mean. A pure function from utterances to proposals."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from extract.checks import of_the_day
from extract.figures.figure import Figure
from extract.figures.like_figures import confusable
from extract.judged.cooling_log import settle_cooling
from extract.judged.doubts import doubts
from extract.judged.gauges_compared import GAUGE, apart
from extract.judged.judging import judge, said
from extract.judged.limits_asked import (
    held_to_what_was_asked,
    spared_by_what_was_asked,
    take_as_cooked,
    take_roast_as_said,
)
from extract.judged.roasts import settle_roasts
from extract.judged.told_later import stages_told_later
from extract.judged.two_probes import check_beside, further_apart
from extract.measured.mishearings import mend_item, misheard
from extract.measured.nicknames import with_nicknames
from extract.measured.readings import read_line
from extract.measured.scales import look_ahead
from extract.measured.time_held import out_too_long, past_its_time
from extract.measured.told_dates import kept_too_long
from extract.proposed.findings import finding, joined
from extract.proposed.observed import observed
from extract.proposed.reading_cases import cases_of_readings
from extract.put_right.putting_right import put_right
from extract.put_right.taken_off import take_off
from extract.revised.across import settle_across
from extract.scene import Draft, Read, Scene
from extract.settled.in_order import PERHAPS_IN_ORDER, doubt_limit, doubt_verdict
from extract.settled.settling import TAKEN_BACK
from extract.settled.taking_back import BY_ITSELF, let_fall
from extract.words.lexicon import Lexicon, lexicon, with_words
from extract.words.text import Span
from shared.rules.model import Rules
from shared.types import (
    Check,
    Compliance,
    Context,
    Doubt,
    Evidence,
    Extraction,
    Facts,
    HeardDoubt,
    Photo,
    Question,
    Reading,
    Trace,
    Utterance,
    Withdrawn,
)
from shared.units import written

_LONGEST = 10_000
"""Characters of one utterance that are read; a longer line is no speech, and a question says so."""


def extract(
    utterances: Sequence[Utterance], *, rules: Rules, facts: Facts | None = None, photos: Sequence[Photo] = ()
) -> Extraction:
    """Readings, findings, open questions and compliances that the utterances support; all of it proposed.

    `utterances` in the order they were said. Nothing is invented: every value leads back to a span of an
    utterance, and every finding to readings or words. `photos` are attached to findings only by the person
    who decides.
    """
    del photos
    facts = facts if facts is not None else Facts()
    words = lexicon() if not facts.words else with_words(lexicon(), facts.words)
    texts = [utterance.text[:_LONGEST] for utterance in utterances]
    words = with_nicknames(words, texts)
    reads, scene = _read_all(utterances, texts, words)
    heard = {n: found for n, done in enumerate(reads) if (found := _misheard(done, facts))}
    standing = [draft for draft in scene.drafts if draft.fallen is None]
    for draft in standing:
        mend_item(draft, heard, texts)
    instrument = of_the_day(
        standing, accuracy_degf=facts.thermometer_accuracy_degf, elevation_m=facts.elevation_m
    )
    checks: dict[int, Check] = {}
    contexts: dict[int, Context | None] = {}
    before: Draft | None = None
    for draft in standing:
        take_roast_as_said(draft, reads, rules)
        take_as_cooked(draft, reads)
        judged = judge(draft, standing, reads, rules, instrument, elevation_m=facts.elevation_m)
        verdict = held_to_what_was_asked(draft, judged.check, reads[draft.line.index], rules)
        verdict = spared_by_what_was_asked(draft, verdict, reads[draft.line.index])
        verdict = doubt_verdict(draft, verdict)
        doubt_limit(draft, verdict, before)
        checks[draft.order] = verdict
        contexts[draft.order] = judged.context if verdict == judged.check else None
        draft.verdict, before = verdict.verdict, draft
    checks |= take_off(standing, checks, reads, words)
    _doubt_corrections(scene.drafts)
    readings, ids, doubted = _readings(standing, checks, contexts, utterances, heard)
    cases = cases_of_readings(standing, checks, reads, rules)
    seen = observed(reads, rules, words)
    cases = joined(cases, seen.cases)
    put_right(cases, reads, standing)
    findings = tuple(
        finding(case, n, ids, checks, reads, utterances, rules, facts, doubted)
        for n, case in enumerate(cases, start=1)
    )
    questions = [*_too_long(utterances), *_set_aside(reads), *_unsettled(standing, checks, ids)]
    questions += _past_their_time(standing, reads, ids, rules)
    if not any(found.provision == GAUGE for found in findings):
        questions += apart(standing, ids, rules)
    questions += further_apart(standing, ids, rules)
    questions += seen.questions
    compliances = [*_in_order(standing, checks, ids, rules), *seen.compliances]
    return Extraction(
        rules=rules.name,
        readings=readings,
        withdrawn=_withdrawn(scene.drafts, ids, utterances),
        findings=findings,
        questions=tuple(questions),
        compliances=tuple(compliances),
        doubts=tuple(HeardDoubt(n, doubt) for n, found in sorted(heard.items()) for doubt in found),
    )


def _misheard(done: Read, facts: Facts) -> list[Doubt]:
    return misheard(done.line, done.told.words, facts.words)


def _read_all(
    utterances: Sequence[Utterance], texts: Sequence[str], words: Lexicon
) -> tuple[list[Read], Scene]:
    scene = Scene()
    look_ahead(texts, scene)
    reads: list[Read] = []
    for n, utterance in enumerate(utterances):
        hour = utterance.at.hour + utterance.at.minute / 60 if utterance.at is not None else None
        done = read_line(texts[n], n, scene, words, hour=hour, degrees="degF")
        settle_across(done, scene, words)
        let_fall(done)
        reads.append(done)
    settle_roasts(scene.drafts, reads)
    scene.drafts.sort(key=lambda draft: (draft.line.index, draft.span[0]))
    for order, draft in enumerate(scene.drafts):
        draft.order = order
    settle_cooling(scene.drafts)
    stages_told_later(reads)
    check_beside(scene.drafts)
    return reads, scene


# ---------------------------------------------------------------- readings


def _readings(
    standing: Sequence[Draft],
    checks: dict[int, Check],
    contexts: Mapping[int, Context | None],
    utterances: Sequence[Utterance],
    heard: Mapping[int, Sequence[Doubt]],
) -> tuple[tuple[Reading, ...], dict[int, str], dict[int, int]]:
    made, ids, doubted = [], {}, {}
    for n, draft in enumerate(standing, start=1):
        reading = _reading(draft, f"r{n}", utterances, heard, checks[draft.order], contexts[draft.order])
        ids[draft.order] = reading.id
        doubted[draft.order] = len(reading.doubts)
        made.append(reading)
    return tuple(made), ids, doubted


def _reading(
    draft: Draft,
    name: str,
    utterances: Sequence[Utterance],
    heard: Mapping[int, Sequence[Doubt]] = MappingProxyType({}),
    check: Check | None = None,
    context: Context | None = None,
) -> Reading:
    utterance = utterances[draft.line.index]
    span = draft.span
    found, others = doubts(draft, utterance, span)
    known = {doubt.why for doubt in found}
    found += tuple(
        doubt
        for doubt in heard.get(draft.line.index, ())
        if _concerns(doubt, draft, span) and doubt.why not in known
    )
    start, end = _seconds(utterance, span)
    text = draft.line.text
    traces = [Trace(f"{draft.kind} reading", draft.line.index, span, text[slice(*span)])]
    if (
        draft.chunk is not None
        and draft.chunk.last <= len(draft.line.tokens)
        and not draft.carried
        and draft.said is None
    ):
        tokens = draft.line.tokens
        named = (tokens[draft.chunk.first].start, tokens[draft.chunk.last - 1].end)
        if draft.item is not None and draft.item in text[slice(*named)]:
            traces.append(Trace("what it is of", draft.line.index, named, text[slice(*named)]))
    traces += [
        Trace(rule, line, (first, last), text[first:last])
        for rule, line, first, last in draft.rules
        if line == draft.line.index
    ]
    return Reading(
        id=name,
        kind=draft.kind,  # type: ignore[arg-type]
        value=draft.value,
        unit=draft.unit,
        said=text[slice(*span)],
        stage=draft.stage,  # type: ignore[arg-type]
        item=draft.item,
        place=draft.place,
        agent=draft.agent,  # type: ignore[arg-type]
        clock=draft.clock,
        utterance=draft.line.index,
        span=span,
        start=start,
        end=end,
        check=check,
        doubts=found,
        alternatives=others,
        trace=tuple(traces),
        context=context,
    )


def _concerns(doubt: Doubt, draft: Draft, span: Span) -> bool:
    """Whether misheard words stand in the reading's own part of the sentence."""
    if doubt.span is None:
        return False
    between = draft.line.text[min(doubt.span[1], span[1]) : max(doubt.span[0], span[0])]
    if any(mark in between for mark in ".;!?"):
        return False
    return not any(character.isdigit() for character in between) and len(between) <= 60


def _seconds(utterance: Utterance, span: Span) -> tuple[float | None, float | None]:
    """The seconds in which the characters were said: by the words' times, else the utterance's."""
    if not utterance.words:
        return utterance.start, utterance.end
    at, first, last = 0, None, None
    for word in utterance.words:
        piece = word.text.strip()
        found = utterance.text.find(piece, at) if piece else -1
        if found < 0:
            continue
        begin, at = found, found + len(piece)
        if begin < span[1] and at > span[0]:
            first = word.start if first is None else first
            last = word.end
    return (first, last) if first is not None else (utterance.start, utterance.end)


def _withdrawn(
    drafts: Sequence[Draft], ids: dict[int, str], utterances: Sequence[Utterance]
) -> tuple[Withdrawn, ...]:
    fallen = [draft for draft in drafts if draft.fallen is not None]
    return tuple(
        Withdrawn(
            _reading(draft, f"w{n}", utterances),
            draft.fallen or "",
            ids.get(draft.successor.order) if draft.successor is not None else None,
        )
        for n, draft in enumerate(fallen, start=1)
    )


def _doubt_corrections(drafts: Sequence[Draft]) -> None:
    """A correction between two figures that sound alike may itself be a mishearing, and so may words that
    take a figure back and put none in its place: all are kept in sight."""
    for draft in drafts:
        new = draft.successor
        if draft.fallen:
            draft.codes = [code for code in draft.codes if code[0] != TAKEN_BACK]
        if new is None and draft.fallen:
            why = f"{draft.value:g} was taken back, and no other figure for it was said: “{draft.fallen}”"
            draft.codes.append(("taken_back", why, ()))
        if new is None or draft.fallen is None or new.kind != draft.kind or new.value == draft.value:
            continue
        if confusable(draft.value, new.value):
            draft.codes.append(
                ("restated", f"{draft.value:g} was corrected to {new.value:g}", (f"{new.value:g}",))
            )
            new.codes.append(
                (
                    "restated",
                    f"{draft.value:g} was corrected to {new.value:g}, and the two sound alike",
                    (f"{draft.value:g}",),
                )
            )


# ---------------------------------------------------------------- what stays open, what is in order


def _too_long(utterances: Sequence[Utterance]) -> list[Question]:
    return [
        Question(
            f"Line {n + 1} has {len(said.text)} characters; only the first {_LONGEST} were read. "
            "Break it into utterances.",
            (Evidence(utterance=n, span=(_LONGEST, len(said.text))),),
        )
        for n, said in enumerate(utterances)
        if len(said.text) > _LONGEST
    ]


_ASIDE = {
    "mentioned": "“{}” was not taken for a measurement. Was it one?",
    "figure": "“{}” was taken as taken back. Was it?",
}


def _set_aside(reads: Sequence[Read]) -> list[Question]:
    """Figures that only the second reader takes for none that was measured, or for taken back: the person
    sees them."""
    return [
        Question(
            _ASIDE[figure.role].format(read.line.words(figure.first, figure.last)),
            (Evidence(utterance=read.line.index, span=read.line.span(figure.first, figure.last)),),
        )
        for read in reads
        for figure in read.figures
        if figure.role in _ASIDE and figure.why == BY_ITSELF and not _names(figure)
    ]


_FEW, _A_NAME = 12, 0.9
"""The highest number that a thing has, and the share from which a figure is one: chosen by us."""


def _names(figure: Figure) -> bool:
    """Whether a figure in words is but the number of a thing (`Basket three`): nobody is asked of it."""
    few = figure.number.words and figure.unit is None and figure.value <= _FEW
    return few and figure.told is not None and figure.told.meant["n"] > _A_NAME


def _unsettled(standing: Sequence[Draft], checks: dict[int, Check], ids: dict[int, str]) -> list[Question]:
    questions = []
    for draft in standing:
        verdict = checks[draft.order]
        name = draft.item or draft.agent or draft.place or draft.stage.replace("_", " ")
        value = written(draft.value, draft.unit)
        sections = (verdict.section,) if verdict.section else ()
        evidence = (Evidence(reading=ids[draft.order]),)
        if verdict.verdict == "undetermined" and verdict.missing:
            questions.append(
                Question(f"{name} {value}: find out {', and '.join(verdict.missing)}.", evidence, sections)
            )
        elif draft.carries(PERHAPS_IN_ORDER):
            questions.append(Question(f"{name}: {verdict.why}. Is it a violation?", evidence, sections))
        elif verdict.verdict == "borderline" and verdict.margin and verdict.limit is not None:
            over = verdict.margin > 0 if verdict.operator == "<=" else verdict.margin < 0
            if over:
                questions.append(
                    Question(
                        f"{name} {value} misses the limit by no more than the thermometer's accuracy: "
                        "take it again, or decide.", evidence, sections,
                    )
                )  # fmt: skip
    return questions


def _past_their_time(
    standing: Sequence[Draft], reads: Sequence[Read], ids: dict[int, str], rules: Rules
) -> list[Question]:
    questions = []
    for draft in standing:
        if draft.stage == "time_control":
            six_hours = "six_hour" in said(draft, reads)
            read, reading = reads[draft.line.index], ids[draft.order]
            questions.append(past_its_time(draft, read, rules, reading=reading, six_hours=six_hours))
    return [*filter(None, questions), *out_too_long(reads, rules), *kept_too_long(reads, rules)]


def _in_order(
    standing: Sequence[Draft], checks: dict[int, Check], ids: dict[int, str], rules: Rules
) -> list[Compliance]:
    found = []
    for draft in standing:
        verdict = checks[draft.order]
        if verdict.verdict != "meets" or verdict.section is None:
            continue
        provision = rules.provision(verdict.section)
        number = provision.form_item if provision is not None else None
        if number is not None and "IN" in rules.form_items[number].marks:
            found.append(Compliance(number, "IN", (Evidence(reading=ids[draft.order]),)))
    return found


__all__ = ["Doubt", "extract"]

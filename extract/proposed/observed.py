"""Violations in the making, questions and remarks from observed conditions."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import takewhile

from extract.cases import Case, named_by
from extract.conditions import ASK_BELOW, Condition
from extract.measured.date_marked import DATE_MARKING, dated
from extract.of_what.staging import heads_agree
from extract.proposed.proposing import proposed
from extract.proposed.subjects import narrowed, only_asked, spoken_of
from extract.put_right.reaching import EMPTY, FAR
from extract.revised.called_off import called_off
from extract.scene import Read
from extract.words.lexicon import Lexicon, Phrases
from extract.words.lexicon import read as vocabulary
from extract.words.line import Line
from extract.words.naming import generic, part_of_thing, place_name
from extract.words.people import people
from extract.words.text import Span, plain, word_set
from shared.rules.model import Rules
from shared.types import Compliance, Evidence, Question


@dataclass(slots=True)
class Observed:
    """What the conditions of a visit gave: violations in the making, questions, and remarks that all was
    in order."""

    cases: list[Case]
    questions: list[Question]
    compliances: list[Compliance]


def observed(reads: Sequence[Read], rules: Rules, words: Lexicon) -> Observed:
    """The conditions of all utterances, sorted by what becomes of them."""
    result = Observed([], [], [])
    for n, (item, conditions) in enumerate(zip(reads, proposed(reads, rules), strict=True)):
        line = item.line
        cleared = _cleared(line, words)
        if cleared is not None and cleared < 12:
            _drop_last(result.cases, n - 1)
        _drop_named(result.cases, line)
        for condition in conditions:
            evidence = Evidence(utterance=n, span=condition.span)
            number = condition.form_item
            if (
                condition.polarity == "compliance"
                and number is not None
                and "IN" in rules.form_items[number].marks
            ):
                result.compliances.append(Compliance(number, "IN", (evidence,)))
            if condition.polarity != "violation":
                continue
            if cleared is not None and condition.span[1] <= cleared:
                continue
            if not spoken_of(
                condition.section,
                line,
                _token_at(line, condition.span[0]),
                reads[n - 1].line if n else None,
            ):
                continue
            if condition.section.startswith(DATE_MARKING) and not dated(_foods_of(line, condition.span)):
                continue
            at = _token_at(line, condition.span[0])
            condition = replace(condition, section=narrowed(condition.section, line, at))
            well = _all_well_behind(condition.span, line, reads[n + 1].line if n + 1 < len(reads) else None)
            if well or condition.confidence < ASK_BELOW or only_asked(condition.section, line, at):
                result.questions.append(
                    Question(
                        f"“{_quoted(line, condition)}”: is this a violation ({condition.says})?",
                        (evidence,),
                        (condition.section, *condition.runners_up),
                    )
                )
                continue
            _add(result.cases, _case(condition, n, item, rules))
    return result


_ALL_WELL = Phrases(((text, True) for text in vocabulary("all_well.toml")["after"]), form=plain)


def _all_well_behind(span: Span, line: Line, after: Line | None) -> bool:
    """Whether it is said right behind words that all was well: `a second dome would be nice. Just a tip.` In
    their sentence, or in the next one, also of the utterance after, where that names nothing else."""
    at = _token_at(line, span[1] - 1)
    begin, end = line.sentence_span(at)
    if _ALL_WELL.find(line.tokens, at, end):
        return True
    then, first = (line, end) if end < len(line.tokens) else (after, 0)
    if then is None or not then.tokens:
        return False
    _, stop = then.sentence_span(first)
    own = {token.stem for token in line.tokens[begin:end]}
    other = any(
        (c.place or c.object or c.known_food)
        and not own.issuperset(token.stem for token in then.tokens[c.first : c.last])
        for c in then.chunks
        if first <= c.first < stop
    )
    return not other and bool(_ALL_WELL.find(then.tokens, first, stop))


_ROOM = re.compile(r"(?:toilets?|(?:rest|bath|wash|men'?s|women'?s|ladies) ?rooms?)(?: room)?$", re.I)
"""`Staff toilet has no paper`: where it is, and not what."""


def _case(condition: Condition, n: int, item: Read, rules: Rules) -> Case:
    provision = rules.provision(condition.section)
    line = item.line
    about = " ".join(line.text[slice(*piece)] for piece in condition.pieces)
    room = condition.item if condition.item is not None and _ROOM.search(condition.item) else None
    if not condition.foreseen:
        about = f"{about} {_things_of(line, condition.span)}"
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
        item=None if room else condition.item,
        place=room or _place(condition, item),
        sentence=_sentence(line, condition.span),
        words=named_by(about) | named_by(condition.item),
        confidence=condition.confidence,
        alternatives=condition.runners_up,
        questions=condition.questions,
        rule=condition.rule,
        repeated=condition.repeated,
        foreseen=condition.foreseen,
        who=who_did(line, condition.span),
    )


_LONGEST_QUOTE = 160


def _quoted(line: Line, condition: Condition) -> str:
    """The words that a question quotes: a pattern's own, else the sentence, which makes sense of them."""
    first, last = condition.span
    if not condition.foreseen:
        begin, end = line.sentence_span(_token_at(line, first))
        whole = line.tokens[begin].start, line.tokens[end - 1].end
        if whole[1] - whole[0] <= _LONGEST_QUOTE:
            first, last = whole
    return line.text[first:last]


def _things_of(line: Line, span: tuple[int, int]) -> str:
    """All that is named in the sentence of a condition."""
    first, end = line.sentence_span(_token_at(line, span[0]))
    named = (chunk for chunk in line.chunks if first <= chunk.first < end and chunk.sort != "gone")
    return " ".join(line.words(chunk.first, chunk.last) for chunk in named)


def _foods_of(line: Line, span: tuple[int, int]) -> list[str]:
    """The foods named in the sentence of a condition, with what is said of them."""
    first, end = line.sentence_span(_token_at(line, span[0]))
    known = (chunk for chunk in line.chunks if first <= chunk.first < end and chunk.known_food)
    return [line.words(chunk.first, chunk.last) for chunk in known]


def _token_at(line: Line, character: int) -> int:
    """The token that holds a character, or the next one."""
    return next((i for i, token in enumerate(line.tokens) if token.end > character), 0)


def _sentence(line: Line, span: tuple[int, int]) -> int:
    return line.sentence[_token_at(line, span[0])] if line.sentence else 0


def _add(cases: list[Case], new: Case) -> None:
    """Adds a case, or lets it strengthen one of the same section about the same thing said close by."""
    for case in takewhile(lambda one: new.line - one.line <= FAR, reversed(cases)):
        if case.section != new.section or (new.line - case.line > _CLOSE_BY and not _told_again(case, new)):
            continue
        one, two = case.item or "", new.item or ""
        same = not one or not two or heads_agree(one, two)
        places = not case.place or not new.place or heads_agree(case.place, new.place)
        one_sentence = case.line == new.line and case.sentence == new.sentence
        if (
            one_sentence
            or new.line - case.line > _CLOSE_BY
            or not new.foreseen
            or (not case.foreseen and (same or case.line == new.line))
            or (same and places and (case.line == new.line or one == two or not two))
        ):
            if one and two and not same and case.foreseen and new.foreseen:
                case.item = f"{one}, {two}"
            case.spans.append((new.line, new.span))
            case.words = case.words | new.words
            case.item = case.item or new.item
            case.confidence = max(case.confidence, new.confidence)
            return
    cases.append(new)


_CLOSE_BY = 2
"""Utterances back in which the same kind of violation is one more word of it."""


def _told_again(case: Case, new: Case) -> bool:
    """`Deer, they say the hunter can have it back`, long after the deer that a hunter brought: the same
    thing, by what both name."""
    apart = bool(case.place and new.place and not heads_agree(case.place, new.place))
    others = bool(case.item and new.item and not heads_agree(case.item, new.item))
    return not apart and not others and len((case.words & new.words) - EMPTY) > 1


def _place(condition: Condition, item: Read) -> str | None:
    """Where a condition was seen: a place named in its sentence, or the one that still holds."""
    line = item.line
    at = _token_at(line, condition.span[0])
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
    if own is not None:
        for chunk in (each for each in line.chunks if each.sort == "place"):
            start, stop = line.tokens[chunk.first].start, line.tokens[chunk.last - 1].end
            if start <= own[0] and own[1] <= stop and not generic(line, chunk):
                return place_name(line, chunk)
    if here:
        return place_name(line, min(here, key=lambda pair: pair[0])[1])
    before = [
        chunk
        for chunk in line.chunks
        if chunk.sort == "place"
        and chunk.first < first
        and chunk.preposition != "for"
        and not part_of_thing(line.tokens[chunk.last - 1].low)
    ]
    if before:
        return place_name(line, before[-1])
    place = item.place_before
    return None if place is None or part_of_thing(place) else place


def _cleared(line: Line, words: Lexicon) -> int | None:
    """Where the inspector takes back a proposed violation (`not writing it`), as a character; None:
    nowhere."""
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
            "take that back",
            "taking that back",
            "take it back",
        ) and any(token.kind == "number" for token in line.tokens[last : last + 6]):
            continue
        return line.tokens[first].start
    return None


_FAR_BACK = 12
"""Utterances back that calling off a violation by its name may reach: common practice, no source."""


def _drop_named(cases: list[Case], line: Line) -> None:
    """Drops the violation that is called off by its name: `Scratch the towels, they're behind the door`."""
    named, _ = called_off(line)
    if named is None:
        return
    head = line.tokens[named.last - 1].stem
    for case in reversed(cases):
        if line.index - case.line > _FAR_BACK:
            return
        if head in case.words:
            cases.remove(case)
            return


def _drop_last(cases: list[Case], line: int) -> None:
    if cases and cases[-1].line == line:
        cases.pop()


def who_did(line: Line, span: tuple[int, int]) -> str | None:
    """The person named in the sentence; not who only gives a thing its name, as in `cook line`."""
    at = _token_at(line, span[0])
    first, end = line.sentence_span(at)
    stop = next((i for i in range(at, end) if line.tokens[i].start >= span[1]), end)
    for start, last, _ in people().words.find(line.tokens, first, stop):
        following = line.tokens[last].low if last < len(line.tokens) else ""
        if following in ("says", "said", "tells", "told", "claims", "thinks"):
            continue
        if following in _NAMED_AFTER_PEOPLE:
            continue
        return line.words(start, last)
    return None


_NAMED_AFTER_PEOPLE = word_set(
    "line lines station stations table area side sink restroom bathroom toilet room rooms office cooler"
    " drink drinks food cup belongings purse phone entrance window counter break locker lockers hat"
)

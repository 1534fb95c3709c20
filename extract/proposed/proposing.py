"""The conditions of an utterance, weighed: what patterns of the catalogue find, what the sayings and the
second reader make likely.

A pattern names the words, the thing and whether it is so; the likeness to written sayings and the second
reader tell how far it can be trusted here, and find what no pattern foresaw.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from typing import NamedTuple

from extract.cases import sections_agree
from extract.conditions import ASK_BELOW, Condition, find_conditions, load_catalogue
from extract.conditions.catalogue import Row
from extract.conditions.content import COMMA, LONGEST_HEADING, STOP, Content, content, is_heading
from extract.conditions.matching import said_in, sentence
from extract.conditions.polarity import of_earlier_visit
from extract.likeness import Considered, Likeness, considered, likeness
from extract.likeness.features import sounds_of, stems_of
from extract.likeness.weighing import confidence
from extract.scene import Read
from extract.second_reader.pieces import BACK
from extract.second_reader.reader import SentenceTold, second_reader, told_of
from extract.settled.asking import sentences_of
from extract.words.line import Chunk, Line
from extract.words.text import Span, stem, word_set
from shared.rules.model import Rules

WORTH_ASKING = 0.3
"""A section less sure than this is not even asked about."""
_NAMED_BEFORE = 3
"""Sentences back in which what this one is about may have been named."""
_SURE_IN_SPITE = 0.7
"""A section surer than this is proposed although a pattern hears that all is well with it."""
_LATELY = 6
"""Utterances back in which a violation was told of which there may be news: common practice, no source."""
_STILL = stem("still")
_SILENT = 0.05
"""Share of `violation` under which a sentence without a pattern is not weighed further."""
_NOT_TOLD = SentenceTold({"violation": 0.5}, {})
"""Of a sentence too long for the second reader."""
_BECAME = 0.25
"""Share of `promised` and `put right` from which a sentence may tell what became of a violation."""
_SOON = 4
"""Words into a clause within which it says so: common practice, no source."""
_TOGETHER = 256
"""Utterances whose sentences are listened to at once."""


class Sentence(NamedTuple):
    """A sentence that may tell of a violation."""

    words: tuple[int, int]
    """Its first and end word among those that carry meaning."""
    before: int | None
    """The word from which on what it is about may have been named."""
    found: list[Condition]
    """What the patterns find in it."""
    sounds: list[str]
    measured: bool
    """It holds a figure that is a reading."""
    told: SentenceTold
    """What the second reader takes it for."""
    head: Sentence | None = None
    """The part of it that tells a violation, where the rest tells what became of it."""


class Heard(NamedTuple):
    """An utterance as patterns understand it, and the sentences that are weighed."""

    line: Line
    read: Content
    found: Sequence[Condition]
    sentences: list[Sentence]


def proposed(reads: Sequence[Read], rules: Rules) -> Iterator[list[Condition]]:
    """The conditions of each utterance in its order, each with how sure it is.

    Violations that are not even worth asking about are left out. Remarks that all is well, advice and earlier
    visits come as the patterns found them.
    """
    learned = likeness()
    lately: list[tuple[int, str]] = []
    for first in range(0, len(reads), _TOGETHER):
        many = [hear(reads, n, rules) for n in range(first, min(first + _TOGETHER, len(reads)))]
        senses = iter(learned.senses([each.sounds for one in many for each in one.sentences]))
        for n, one in enumerate(many, start=first):
            told = {section for heard, section in lately if heard >= n - _LATELY}
            yield _weighed(one, [next(senses) for _ in one.sentences], learned, rules, told)
            lately += [(n, found.section) for found in one.found if found.polarity == "violation"]


def hear(reads: Sequence[Read], n: int, rules: Rules) -> Heard:
    """Utterance `n`, with the sentences that may tell of a violation."""
    item, line = reads[n], reads[n].line
    read = content(line.tokens)
    found = find_conditions(
        line.text,
        catalogue=load_catalogue(),
        rules=rules,
        line=line.tokens,
        read=read,
        before=reads[n - 1].line.text if n and _names_only(reads[n - 1].line) else "",
    )
    figures = [line.tokens[draft.first].start for draft in item.drafts if draft.said is None]
    sentences = []
    parts = _sentences(line, read)
    for at, (first, last) in enumerate(parts):
        begin = read.starts[first]
        end = read.starts[last] if last < len(read.starts) else len(line.text)
        here = [one for one in found if begin <= one.span[0] < end]
        said = [token for token in line.tokens if begin <= token.start < end]
        if is_heading([token.low for token in said]) and not any(one.polarity == "violation" for one in here):
            continue
        measured = any(begin <= start < end for start in figures)
        before = parts[max(0, at - _NAMED_BEFORE)][0] if at else None
        told = _told(item, begin) or _NOT_TOLD
        one = Sentence((first, last), before, here, sounds_of(said), measured, told)
        earlier = tuple(each.line.text for each in reads[max(0, n - BACK) : n])
        sentences.append(one._replace(head=_head(one, line, read, earlier)))
    return Heard(line, read, found, sentences)


def _head(one: Sentence, line: Line, read: Content, earlier: tuple[str, ...]) -> Sentence | None:
    """The part of a sentence before the comma behind which it tells what became of the violation: `no soap`
    of `no soap, they will bring it Thursday`. What was promised or done makes nothing in order that was
    seen."""
    broken = [each for each in one.found if each.polarity == "violation" and each.confidence >= ASK_BELOW]
    if not broken:
        return None
    first, last = one.words
    ends: dict[str, int] = {}
    for each in broken:
        ends[each.section] = min(each.span[1], ends.get(each.section, each.span[1]))
    end = max(ends.values())
    cut = next(
        (
            at
            for at in range(first, last)
            if read.starts[at] >= end and read.stems[at] in (COMMA, "but", "and")
        ),
        None,
    )
    if cut is None or cut + 1 >= last:
        return None
    told = one.told.told
    if told.get("promised", 0.0) + told.get("put right", 0.0) < _BECAME and not _followed(
        read, (cut + 1, last)
    ):
        return None
    start, stop = read.starts[first], read.starts[cut]
    text = f"{line.text[start:stop].rstrip()}."
    alone = told_of(text, earlier, (), ((0, len(text)),)).sentences[0]
    said = [token for token in line.tokens if start <= token.start < stop]
    return one._replace(words=(first, cut), sounds=sounds_of(said), told=alone or _NOT_TOLD)


def _followed(read: Content, part: tuple[int, int]) -> bool:
    """Whether the words `part` begin with what became of a violation: `not corrected`, `chef dated it`."""
    catalogue = load_catalogue()
    places = catalogue.context["followed"].found(catalogue.vocabulary.scene(read))
    return any(part[0] <= place.first < min(part[0] + _SOON, part[1]) for place in places)


def _told(item: Read, begin: int) -> SentenceTold | None:
    """What the second reader takes the sentence for that holds a character."""
    spans = sentences_of(item.line).values()
    return next(
        (told for span, told in zip(spans, item.told.sentences, strict=True) if span[0] <= begin < span[1]),
        None,
    )


def _names_only(line: Line) -> bool:
    return len(line.text) < LONGEST_HEADING and is_heading([token.low for token in line.tokens])


def _weighed(
    heard: Heard, senses: Sequence[float], learned: Likeness, rules: Rules, lately: set[str]
) -> list[Condition]:
    """`lately`: sections of which violations were told in the utterances just before."""
    line, read = heard.line, heard.read
    made = [one for one in heard.found if one.polarity != "violation"]
    for whole, own_sense in zip(heard.sentences, senses, strict=True):
        one_sentence, sense = whole, own_sense
        if whole.head is not None and not any(
            sections_agree(each.section, other)
            for each in whole.found
            if each.polarity == "violation"
            for other in lately
        ):
            one_sentence, (sense,) = whole.head, learned.senses([whole.head.sounds])
        words, before, here, sounds, measured, told, _ = one_sentence
        broken = [one for one in here if one.polarity == "violation"]
        if not broken and told.told["violation"] < _SILENT:
            continue
        if _STILL in read.stems[slice(*words)] and not any(
            sections_agree(one.section, other) for one in broken for other in lately
        ):
            told = _told_first(told)
        lately.update(one.section for one in broken)
        fine = {one.section for one in here if one.polarity == "compliance"}
        asked = "?" in sounds[-1:]
        weighed = considered(learned, read, words, sense, here, told, before=before, asked=asked)
        sures = [round(confidence(learned, one.features), 3) for one in weighed]
        unforeseen: list[str] = []
        for one, sure in sorted(zip(weighed, sures, strict=True), key=lambda pair: -pair[1]):
            mine = [each for each in broken if each.section == one.section]
            if mine and one.section not in second_reader().sections:
                sure = max(sure, *(each.confidence for each in mine))  # nobody has taught it this section
            if plain := [each.confidence for each in mine if each.plain]:
                sure = max(sure, *plain)
            elif _clear(one.section, read, words):
                continue
            if any(each.repeated for each in mine):
                sure = max(sure, ASK_BELOW)  # `blocked, same as last time`: what is said of then is so now
            if sure < WORTH_ASKING:
                continue
            if mine:
                made += [replace(each, confidence=sure) for each in mine]
            elif (
                (sure >= _SURE_IN_SPITE or not any(sections_agree(one.section, section) for section in fine))
                and not _known_better(one, broken, rules, measured=measured)
                and not any(sections_agree(one.section, other) for other in unforeseen)
                and not _was_then(read, words)
            ):
                unforeseen.append(one.section)
                made.append(_from_words(one, sure, line, read, words, learned, rules))
    made.sort(key=lambda one: one.span)
    return made


def _clear(section: str, read: Content, words: tuple[int, int]) -> bool:
    """Whether the sentence says what leaves no violation of a section: `no towels, they use a hand dryer`."""
    clears = [
        pattern
        for row in load_catalogue().rows
        if row.clears and sections_agree(row.section, section)
        for pattern in row.clears
    ]
    if not clears:
        return False
    scene = load_catalogue().vocabulary.scene(read)
    return said_in(scene, clears, sentence(scene, words[0]))


def _told_first(told: SentenceTold) -> SentenceTold:
    """`The hand sink is still blocked`, where no such violation was told before: it is no news of one that
    was left as it is, but the violation itself."""
    shares = dict(told.told)
    shares["violation"] = shares.get("violation", 0.0) + shares.pop("promised", 0.0)
    return replace(told, told=shares | {"promised": 0.0})


def _sentences(line: Line, read: Content) -> list[tuple[int, int]]:
    """First and end word of each sentence that has words."""
    numbers = []
    at = 0
    for start in read.starts:
        while line.tokens[at].start < start:
            at += 1
        numbers.append(line.sentence[at])
    parts: list[tuple[int, int]] = []
    first = 0
    for place in range(1, len(numbers) + 1):
        if place == len(numbers) or numbers[place] != numbers[first]:
            parts.append((first, place))
            first = place
    return parts


def _known_better(one: Considered, broken: Sequence[Condition], rules: Rules, *, measured: bool) -> bool:
    """Whether a pattern says it more exactly, the sentence holds a figure that the arithmetic judges, or the
    rules have no such section."""
    if rules.provision(one.section) is None:
        return True
    if any(sections_agree(each.section, one.section) for each in broken):
        return True
    return measured and (
        one.section not in _rows()
        or any(sections_agree(one.section, limit.section) for limit in rules.limits.values())
    )


def _was_then(read: Content, part: tuple[int, int]) -> bool:
    """Whether the sentence tells only of an earlier visit."""
    catalogue = load_catalogue()
    return of_earlier_visit(catalogue.vocabulary.scene(read), part, catalogue.context)


@cache
def _rows() -> dict[str, Row]:
    """The first catalogue row of each section."""
    rows: dict[str, Row] = {}
    for row in load_catalogue().rows:
        rows.setdefault(row.section, row)
    return rows


def _from_words(
    one: Considered,
    sure: float,
    line: Line,
    read: Content,
    part: tuple[int, int],
    learned: Likeness,
    rules: Rules,
) -> Condition:
    """A condition that no pattern foresaw, resting on the words that speak most for its section."""
    provision = rules.provision(one.section)
    assert provision is not None
    row = _rows().get(one.section)
    words = learned.telling(stems_of(read, *part), one.section)
    pieces = _pieces(read, part, words)
    told = dict.fromkeys(line.text[slice(*piece)].lower() for piece in pieces)
    span = (pieces[0][0], pieces[-1][1])
    thing = _thing(line, pieces)
    item_span = (
        (line.tokens[thing.first].start, line.tokens[thing.last - 1].end) if thing is not None else None
    )
    return Condition(
        section=one.section,
        span=span,
        polarity="violation",
        confidence=sure,
        runners_up=one.next_best,
        form_item=provision.form_item,
        item=line.text[slice(*item_span)] if item_span is not None else None,
        item_span=item_span,
        rule=f"like what is said of {one.section}: {', '.join(told)}",
        questions=row.questions if row is not None else (),
        says=row.says if row is not None else provision.title[:1].lower() + provision.title[1:],
        pieces=pieces,
        foreseen=False,
    )


def _pieces(read: Content, part: tuple[int, int], words: Sequence[str]) -> tuple[Span, ...]:
    """Where the telling words stand; the whole sentence where none does."""
    stems = read.stems[slice(*part)]
    spans = [
        (read.starts[at], read.ends[at]) for at, stem in enumerate(stems, start=part[0]) if stem in words
    ]
    if spans:
        return tuple(spans)
    said = [at for at in range(*part) if read.stems[at] not in (STOP, COMMA)]
    return ((read.starts[said[0]], read.ends[said[-1]]),)


_PART_OF = word_set("contain contains containing has have with of in")
_WHERE = word_set("on in under over beside by behind inside beneath against")


def _thing(line: Line, pieces: Sequence[Span]) -> Chunk | None:
    """What a condition is about: the first food or object named that holds one of its telling words.

    What it is made of is no thing of its own: of `the tarts contain walnuts` it is the tarts, be they known
    as a food or not. Nor is what it lies on, where a food was named before: `half a bun on the salad board`.
    """
    telling = [
        chunk
        for chunk in line.chunks
        if (chunk.sort in ("food", "object", "thing") or chunk.known_food)
        and any(
            line.tokens[chunk.first].start < piece[1] and piece[0] < line.tokens[chunk.last - 1].end
            for piece in pieces
        )
    ]
    known = next((chunk for chunk in telling if chunk.sort in ("food", "object") or chunk.known_food), None)
    if known is None:
        return None
    if known.preposition in _WHERE:
        first, _ = line.sentence_span(known.first)
        before = [chunk for chunk in line.chunks if first <= chunk.first < known.first and chunk.known_food]
        return before[-1] if before and not before[-1].preposition else known
    made_of = known.prepared_at and line.tokens[known.prepared_at - 1].low in _PART_OF
    return telling[0] if made_of else known

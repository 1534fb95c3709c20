"""What the second reader says of whether a violation was put right, held against the rules."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Sequence

from extract.amended.swaps import tells_swap
from extract.cases import Case, named_by
from extract.put_right.corrections import corrections, denied, undone
from extract.put_right.deeds import tables as known_deeds
from extract.put_right.other_things import of_another_food
from extract.put_right.reaching import EMPTY, FAR, Around, fits
from extract.scene import Read
from extract.second_reader.pieces import AHEAD
from extract.second_reader.reader import put_right_of
from extract.settled.asking import sentences_of
from extract.words.clauses import clause
from extract.words.line import Line
from extract.words.text import Span, word_set

_SURELY, _HARDLY = 0.9, 0.2
"""Shares of the second reader above and below which it overrules the rules; where it does, and between the
two, the person is asked. On 286 violations of dictations that the network had not seen the rules alone were
right in 242, both so in 264."""


def overrule(cases: Sequence[Case], reads: Sequence[Read], around: Around) -> None:
    """Lets the second reader decide, in place, where it is sure that a violation was put right, or was not.
    What was done about another violation, by its name, puts no second one right."""
    claimed = {at for case in cases if case.corrected for at in _sentences(case, reads)}
    for case in cases:
        if case.measured_again or case.plainly_corrected:
            continue  # figures or plain words show it
        share, was = _share(case, reads, AHEAD), case.corrected
        if share > _SURELY and not was and not case.dealt_with:
            deed = _deed(case, reads, claimed)
            if deed is not None and not case.section.startswith(_SPARED):
                line, span = deed
                told = reads[line].line
                behind = [
                    draft.line.tokens[draft.last - 1].end for draft in case.drafts if draft.line is told
                ]
                begin = max([span[0], *(end for end in behind if end < span[1])])
                other = of_another_food(case, told, (begin, span[1]), around.of(case, (line, begin)))
                if other or denied(told, span) or _unfit(case, told, span):
                    case.perhaps_corrected = True
                else:
                    case.corrected, case.correction = True, told.text[slice(*span)]
                    case.spans.append((line, span))
        elif share < _HARDLY and was:
            case.corrected, case.correction = False, None
        case.asks_whether_corrected = share <= _SURELY if was else share >= _HARDLY
        case.asks_whether_corrected |= case.perhaps_corrected and not case.corrected


_OWN = word_set("probe thermometer")
"""`my probe's still in the pate`: nothing of the food's."""
_STAYS = word_set("there here out in on sitting up")
"""What `still` is said with of a thing that nobody took away: `the cider is still there`."""


def left_as_it_was(cases: Sequence[Case], reads: Sequence[Read]) -> None:
    """Takes corrections off cases, in place, whose thing is said behind it to be still where it was."""
    for case in cases:
        names = (named_by(case.item) or case.words) - EMPTY
        if not case.corrected or case.measured_again or not names:
            continue
        deed = case.deed or max(case.spans)
        for read in reads[deed[0] : deed[0] + 2]:
            line = read.line
            for n in _left_at(line):
                first, end = clause(line, n)
                behind = (line.index, line.tokens[n].start) > (deed[0], deed[1][0])
                named = any(one.stem in names for one in line.tokens[first:end])
                if behind and (named or _in_one_sentence(line, n, deed)):
                    case.corrected, case.correction, case.asks_whether_corrected = False, None, True


def _in_one_sentence(line: Line, n: int, deed: tuple[int, Span]) -> bool:
    """Whether a token stands in the sentence of a deed: `boxed up, and I found them for sale again`."""
    first, end = line.sentence_span(n)
    return line.index == deed[0] and line.tokens[first].start <= deed[1][0] < line.tokens[end - 1].end


def _left_at(line: Line) -> Iterator[int]:
    """The tokens at which an utterance tells that something is as it was: `the cider is still there`, `the
    cans are in the bin yet`, `I found them for sale again`."""
    lows = [token.low for token in line.tokens]
    for n, low in enumerate(lows):
        if (
            low == "still"
            and lows[n + 1 : n + 2]
            and lows[n + 1] in _STAYS
            and not _OWN.intersection(lows[max(0, n - 3) : n])
        ):
            yield n
        if (
            low == "yet"
            and "not" not in lows[max(0, n - 3) : n]
            and _STAYS.intersection(lows[max(0, n - 4) : n])
        ):
            yield n
    for first, _, _ in known_deeds().left.find(line.tokens):
        yield first


_SPARED = ("3-501.15",)
"""A slow way of cooling stays as it was, whatever becomes of the food."""


def _sentences(case: Case, reads: Sequence[Read]) -> list[tuple[int, Span]]:
    """The sentences that told how a violation was put right and that name something of it."""
    return [
        (line, span)
        for line, (first, _) in case.spans
        for span in sentences_of(reads[line].line).values()
        if span[0] <= first < span[1]
        and (line, first) > case.position
        and any(
            token.stem in case.words and token.stem not in EMPTY
            for token in reads[line].line.tokens
            if span[0] <= token.start < span[1]
        )
    ]


def _share(case: Case, reads: Sequence[Read], ahead: int) -> float:
    """The share that the second reader gives a violation of having been put right, by its own utterance and
    so many that follow."""
    told = [draft.span for draft in case.drafts if draft.line.index == case.line] or [case.span]
    before = tuple(read.line.text for read in reads[max(0, case.line - 1) : case.line])
    after = tuple(reads[at].line.text for at in _following(case, reads)[:ahead])
    shares = [put_right_of(reads[case.line].line.text, span, before, after) for span in told]
    return sum(shares) / len(shares)


_LATER = 2
"""Utterances further behind a violation that the second reader hears, as they name its thing."""


def _following(case: Case, reads: Sequence[Read]) -> list[int]:
    """The utterances behind a violation in which the second reader hears what became of it."""
    behind = range(case.line + 1, len(reads))
    if len(behind) <= AHEAD:
        return list(behind)
    names = (named_by(case.item) if case.item else case.words) - EMPTY
    later = [at for at in behind[AHEAD:FAR] if any(token.stem in names for token in reads[at].line.tokens)][
        -_LATER:
    ]
    return [*behind[: AHEAD - len(later)], *later]


def _deed(case: Case, reads: Sequence[Read], claimed: Container[tuple[int, Span]]) -> tuple[int, Span] | None:
    """The sentence that tells that it was put right, as utterance and characters: the likeliest of the first
    utterance by whose end it is more likely so than not. None where that one tells it of other violations."""
    heard = (ahead for ahead in range(AHEAD + 1) if _share(case, reads, ahead) > _MORE_LIKELY)
    at = [case.line, *_following(case, reads)][next(heard, 0)]
    read = reads[at]
    found = [
        (told.told["put right"] if told is not None else 0.0, span)
        for span, told in zip(sentences_of(read.line).values(), read.told.sentences, strict=True)
        if ((at, span) not in claimed or _tells_of(case, read.line, span))
        and not (case.drafts and _swaps(read, span))
        and not _marks_the_form(read.line, span)
        and not _WAS_THEN.search(read.line.text, *span)
        and not (at > case.line and told is not None and told.told["violation"] > told.told["put right"])
    ]
    own = [span for span in sentences_of(read.line).values() if _names(case, read.line, span)]
    if not found or (at > case.line and own and all(_left(read.line, span) for span in own)):
        return None  # `limes thrown out. Scoop, he'll get a holder sent up`
    share, span = max(found)
    if at == case.line and share <= _OF_DEEDS:
        return _in_its_clause(case, read.line)
    return at, span if share > _OF_DEEDS else (0, len(read.line.text))


_WAS_THEN = re.compile(r"\bwas \d+(?:\.\d+)? when\b", re.IGNORECASE)
"""`It was 170 when they put it in`: what was so before."""


def _marks_the_form(line: Line, span: Span) -> bool:
    """`Item 44, utensils. Pans are nested wet. Out.`: how an item of the form is marked, and nothing was put
    out."""
    marks = line.text[slice(*span)].strip(" .!").lower() in ("in", "out")
    return marks and _FORM_ITEM.search(line.text) is not None


def _names(case: Case, line: Line, span: Span) -> bool:
    """Whether a sentence names the thing that a violation is of."""
    names = named_by(case.item) - EMPTY
    return any(token.stem in names for token in line.tokens if span[0] <= token.start < span[1])


def _tells_of(case: Case, line: Line, span: Span) -> bool:
    """Whether a sentence that tells what became of another violation names this one as well: `hair's tied up
    and the glass one went back`."""
    words = case.words - EMPTY
    return any(token.stem in words for token in line.tokens if span[0] <= token.start < span[1])


def _left(line: Line, span: Span) -> bool:
    """Whether a sentence only promises something, or tells that somebody looked or said something."""
    done = any(span[0] <= one.span[0] < span[1] and not one.state for one in corrections(line))
    return not done and undone(line, span)


def _in_its_clause(case: Case, line: Line) -> tuple[int, Span] | None:
    """A deed told behind a violation in one sentence: `beef over rice, moved to the bottom shelf`. The words
    of the violation itself prove nothing."""
    behind = [
        one
        for one in corrections(line)
        if one.span[0] > case.span[0] and fits(case, one) >= 0 and not one.state
    ]
    return (line.index, behind[0].span) if behind else None


def _swaps(read: Read, span: Span) -> bool:
    """`I had those swapped` puts the words right, and no violation."""
    at = tells_swap(read.line)
    return at is not None and span[0] <= read.line.tokens[at].start < span[1]


_MORE_LIKELY = 0.5
_OF_DEEDS = 0.02
"""Share of telling of something put right from which one sentence is quoted for it; else the utterance is."""


_FORM_ITEM = re.compile(r"\bitem (?:number )?\d", re.IGNORECASE)
_PAPERS = ("2-501", "2-102", "3-502", "8-103")
_WENT = re.compile(r"\b(?:gone|went|going|sent|goes) home\b|\bclocked out\b", re.IGNORECASE)
"""Whoever leaves puts no missing procedure, plan or certificate right."""


def _unfit(case: Case, line: Line, span: Span) -> bool:
    """Whether what was done, between two characters, cannot put the violation right: a device was set right,
    and the violation is of food (`he recalibrated it`); a label was written, and it is of where a thing
    stands; somebody looked or said something."""
    done = [one for one in corrections(line) if span[0] <= one.span[0] < span[1] and not one.state]
    if case.section.startswith(_PAPERS) and _WENT.search(line.text, *span):
        return True
    if not done:
        return undone(line, span)
    of_food = any(draft.food for draft in case.drafts)
    return (of_food and all(one.action.name == "adjusted" for one in done)) or all(
        case.section.startswith(one.action.spares) for one in done
    )

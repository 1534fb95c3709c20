"""Broken limits that the speaker takes off the report: `strike that, no hot holding violation`."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from extract.of_what.staging import heads_agree
from extract.scene import Draft, Read
from extract.settled.in_order import PERHAPS_IN_ORDER
from extract.words.lexicon import Lexicon
from extract.words.line import Line
from extract.words.text import Span
from shared.types import Check

_NO_VIOLATION = re.compile(
    r"\b(?:no|not an?|isn't an?|ain't an?) (?!other|more|further)(?:[a-z-]+ ){0,3}violation\b"
    r"(?! (?:at|in|with)\b)",
    re.IGNORECASE,
)
_OF_FIGURES = ("scratch", "strike", "disregard", "never", "take", "i", "taking")
"""First words of phrases that take back a figure as well; `extract.amended.amend` has these."""
_BACK = 2
"""Utterances back that such words may be of: common practice, no source."""


def take_off(
    standing: Sequence[Draft], checks: Mapping[int, Check], reads: Sequence[Read], words: Lexicon
) -> dict[int, Check]:
    """The verdicts that change: a reading that breaks its limit, and of which it was said later that it is no
    violation, is doubted and asked about, and proposes nothing."""
    changed: dict[int, Check] = {}
    for read in reads:
        for span in _said(read.line, words):
            for draft in _meant(read.line, span, standing, checks):
                check = checks[draft.order]
                said = read.line.text[slice(*span)]
                draft.codes.append((PERHAPS_IN_ORDER, f"“{said}” was said of it", ()))
                changed[draft.order] = replace(check, why=f"{check.why}, but “{said}” was said of it")
    return changed


def _said(line: Line, words: Lexicon) -> Iterator[Span]:
    """Where the words say that something is no violation, as characters."""
    for match in _NO_VIOLATION.finditer(line.text):
        yield match.span()
    for first, last, _ in words.clear.find(line.tokens):
        lows = [token.low for token in line.tokens[first:last]]
        if (lows[0] not in _OF_FIGURES or "withdraw" in lows) and not any(
            low.startswith("violation") for low in lows
        ):
            yield line.span(first, last)


def _meant(line: Line, span: Span, standing: Sequence[Draft], checks: Mapping[int, Check]) -> list[Draft]:
    """The readings that it was said of: of the food named beside it, else those read last, if they break a
    limit."""
    at = next(n for n, token in enumerate(line.tokens) if token.end > span[0])
    first, end = line.sentence_span(at)
    if line.tokens[end - 1].low == "?":
        return []
    before = [
        draft
        for draft in standing
        if line.index - _BACK <= draft.line.index <= line.index
        and (draft.line.index, draft.span[0]) < (line.index, span[0])
        and draft.kind == "temperature"
    ]
    here = [chunk for chunk in line.chunks if first <= chunk.first < end]
    foods = [line.words(chunk.first, chunk.last) for chunk in here if chunk.known_food]
    held = any(draft.line is line and first <= draft.first < end for draft in before)
    if not (foods or held) and line.tokens[at + 1 : at + 2] and line.tokens[at + 1].low == "withdraw":
        foods = [line.words(c.first, c.last) for c in line.chunks if c.last <= at and c.known_food]
    if not (foods or held) and any(chunk.first < at for chunk in here):
        return []  # `Soup 128. Floor is dirty, not citing it.`
    if foods:
        meant = [
            draft for draft in before if draft.item and any(heads_agree(draft.item, name) for name in foods)
        ]
        last = meant[-1:]
    else:
        last = before[-1:]
        meant = [
            draft for draft in before if last and draft.stage == last[0].stage and draft.line is last[0].line
        ]
    if not last or checks[last[0].order].verdict != "violates":
        return []
    return [
        draft
        for draft in meant
        if checks[draft.order].verdict == "violates" and not draft.carries(PERHAPS_IN_ORDER)
    ]

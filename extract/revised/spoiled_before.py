"""Figures of the utterance before that fall with an excuse: `on the noodles I was leaning on the pan. 143`,
and several at once: `yogurt 46, cheese 47. Never mind those, the probe was in my coffee`."""

from __future__ import annotations

from collections.abc import Sequence

from extract.amended.excuses import opens_with_turn, spoiled_in
from extract.of_what.staging import heads_agree
from extract.revised.repeats import replace
from extract.scene import Draft, Read
from extract.words.line import Line
from extract.words.naming import item_name
from extract.words.text import word_set

_BACK = 3
"""Utterances back that an excuse reaches: common practice, no source."""
_DROPS = word_set("mind scratch strike forget disregard ignore scrap")
_SEVERAL = word_set("those both them these")


def fall_with_excuse(read: Read, earlier: Sequence[Draft]) -> None:
    """Takes back, in place, the figure of a food that the utterance begins by excusing, where it tells a new
    one of it."""
    line = read.line
    begin = opens_with_turn(line)
    spoiled = spoiled_in(line, begin) if begin else None
    if spoiled is None:
        return
    food = next((c for c in line.chunks if begin <= c.first < spoiled and c.known_food), None)
    new = next((d for d in read.drafts if d.first > spoiled and d.fallen is None), None)
    if food is None or new is None:
        return
    name = item_name(line, food)
    for old in reversed(earlier):
        near = old.line.index >= line.index - _BACK and old.kind == new.kind
        if near and old.fallen is None and old.item and heads_agree(old.item, name):
            if new.item is None or heads_agree(new.item, name):
                new.item = old.item
                replace(old, new, line.words(0, spoiled))
            return


_FIRST = (("first", "one"), ("first", "time"), ("first", "try"), ("first", "reading"))


def first_fell(read: Read, earlier: Sequence[Draft]) -> None:
    """Takes back, in place, the figure that an utterance excuses behind a new one of the same thing:
    `In a different spot it's 38. First one I hit the metal rim.`"""
    line = read.line
    for n in range(len(line.tokens) - 1):
        if (line.tokens[n].low, line.tokens[n + 1].low) not in _FIRST or not _opens(line, n):
            continue
        spoiled = spoiled_in(line, n)
        new = next((d for d in reversed(read.drafts) if d.last <= n and d.fallen is None), None)
        if spoiled is None or new is None:
            continue
        like = [
            d for d in (*earlier, *read.drafts) if d.fallen is None and d.order <= new.order and d is not new
        ]
        old = like[-1] if like else None
        if old is None or old.kind != new.kind or old.line.index < line.index - 1:
            continue
        if new.item is None or new.carried or heads_agree(old.item or "", new.item):
            new.item = old.item
            _, end = line.sentence_span(n)
            replace(old, new, line.words(n, end))


def fall_together(read: Read) -> None:
    """Takes back, in place, all figures of the sentence before `never mind those`."""
    line = read.line
    for n, token in enumerate(line.tokens[:-1]):
        if token.low not in _DROPS or line.tokens[n + 1].low not in _SEVERAL or not _opens(line, n):
            continue
        sentence = line.sentence[n]
        for draft in read.drafts:
            if draft.fallen is None and line.sentence[draft.first] == sentence - 1:
                draft.fallen = line.words(n, n + 2)


def _opens(line: Line, n: int) -> bool:
    """Whether nothing but small words stands before a token in its sentence."""
    first, _ = line.sentence_span(n)
    return all(token.low in _SMALL or token.kind == "mark" for token in line.tokens[first:n])


_SMALL = word_set("the that my hmm hm no never ah oh well okay ok wait and so actually um uh sorry")

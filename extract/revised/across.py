"""Later words that change earlier readings: corrections, withdrawals, `same for the ham`, and repeats."""

from __future__ import annotations

from extract.of_what.staging import LIKELY, fahrenheit, heads_agree
from extract.revised.called_off import DROPS, all_called_off, called_off, chunk_near
from extract.revised.put_in_cold import reheat_what_went_in_cold
from extract.revised.quoted import put_right_what_was_said
from extract.revised.repeats import (
    listed_again,
    repeated,
    replace,
    spoken_of,
    spoken_of_again,
    told_anew,
    told_twice,
    where_it_was,
)
from extract.revised.same_again import of_both, same_as
from extract.revised.same_clock import read_anew
from extract.revised.same_list import of_another, same_list
from extract.revised.spoiled_before import fall_together, fall_with_excuse, first_fell
from extract.revised.swapped import doubt_swapped
from extract.scene import Draft, Read, Scene
from extract.words.lexicon import Lexicon
from extract.words.line import Chunk, Line
from extract.words.naming import item_name
from extract.words.people import written_up
from extract.words.text import word_set

_BACK = 12
"""Utterances back that a change may reach."""


def settle_across(read: Read, scene: Scene, words: Lexicon) -> None:
    """Applies what an utterance says about the readings before it, in place."""
    line = read.line
    earlier = [draft for draft in scene.recent(line.index, back=_BACK) if draft.line is not line][::-1]
    put_right_what_was_said(read, earlier, scene)
    _revised(read, earlier)
    _denied(read, earlier)
    _withdrawn(read, earlier)
    _withdrawn_here(read)
    _given_away(read, earlier, scene)
    read_anew(read, earlier, scene)
    fall_with_excuse(read, earlier)
    fall_together(read)
    first_fell(read, earlier)
    doubt_swapped(read, earlier[::-1])
    listed_again(read, words)
    told_anew(read)
    told_twice(read, scene)
    spoken_of(read, scene)
    spoken_of_again(read, scene)
    where_it_was(read, scene)
    reheat_what_went_in_cold(read, scene)
    repeated(read, earlier, scene)
    same_as(read, scene, words)
    same_list(read, earlier)
    of_another(read, earlier)
    of_both(read, scene)


def _denied(read: Read, earlier: list[Draft]) -> None:
    """`128 not 138`: an earlier 138 falls."""
    for at, value in read.amendments.denied.items():
        stands = [draft for draft in read.drafts if draft.fallen is None]
        before = [draft for draft in read.drafts if stands and draft.order < stands[-1].order]
        for draft in reversed([*earlier[-4:], *before]):
            if draft.value == value and stands and draft.fallen is None:
                replace(draft, stands[-1], read.line.words(read.figures[at].first - 1, read.figures[at].last))
                break


_CALLS_OFF = DROPS | word_set("scrap lose kill cancel erase skip toss")
"""In front of a figure that is not to count: `scrap the 10`."""


def _withdrawn(read: Read, earlier: list[Draft]) -> None:
    cue = read.amendments.withdraws_earlier
    line = read.line
    named, words = called_off(line) if not cue else (None, "")
    if words:
        cue = words
    if not cue or not earlier:
        return
    if named is None:
        named = chunk_near(line, _end_of(line, cue), reach=3) if not read.drafts else None
    target = None
    if named is not None and named.known_food:
        name = item_name(line, named)
        target = next(
            (d for d in reversed(earlier) if d.item is not None and heads_agree(d.item, name)), None
        )
    elif words and named is not None and not _of_a_reading(named, line, earlier[-1]):
        return  # `scratch the towels`: no reading is taken back
    if named is None and not read.drafts and earlier[-1].line.index < line.index - 1:
        return  # `Droppings, none. … Take that back`: no reading was said last
    if target is None:
        replacing = next((d for d in read.drafts if d.fallen is None), None)
        target = earlier[-1]
        named_again = replacing is not None and not replacing.carried and replacing.item and target.item
        if named_again and replacing is not None and heads_agree(replacing.item or "", target.item or ""):
            replace(target, replacing, cue)
            return
    first_one = not read.drafts or line.sentence[read.drafts[0].first] > 0
    if first_one and written_up(target.line.tokens, target.last, len(target.line.tokens)):
        return  # `71, I'm writing that. No, scratch that, they're shelf stable`: what was written falls
    target.fallen = cue


def _withdrawn_here(read: Read) -> None:
    """`salmon 44. Scratch the salmon, I had the tip in the marinade`: of the same utterance."""
    for named, words, at in all_called_off(read.line):
        name = item_name(read.line, named)
        said = [d for d in read.drafts if d.fallen is None and d.last <= at and d.item is not None]
        draft = next((d for d in reversed(said) if heads_agree(d.item or "", name)), None)
        if draft is not None:
            draft.fallen = words


def _end_of(line: Line, cue: str) -> int:
    end = line.text.find(cue) + len(cue)
    return next((n for n, token in enumerate(line.tokens) if token.start >= end), len(line.tokens))


_MEASURED = word_set("""reading readings number numbers figure figures temp temps temperature value one ones
  last second first entry measurement test strip probe check result""")


def _of_a_reading(named: Chunk, line: Line, last: Draft) -> bool:
    """Whether what is called off is the reading said last, by its name or in a general word."""
    head = line.tokens[named.last - 1]
    if head.low in _MEASURED or head.stem in _MEASURED:
        return True
    name = line.words(named.first, named.last)
    return any(said is not None and heads_agree(said, name) for said in (last.item, last.place))


def _revised(read: Read, earlier: list[Draft]) -> None:
    """`correction on the hummus, that was 47`, `sorry, make that 44`, `shrimp 50 that is`."""
    line = read.line
    for draft in read.drafts:
        if draft.fallen is not None or draft.successor is not None:
            continue
        opening = read.amendments.revises and draft is _in_the_end(read.drafts[0])
        closing = _closes(line, draft)
        if not (opening or closing):
            continue
        same_kind = [
            d for d in earlier if d.kind == draft.kind and d.line.index >= line.index - 6 and d.fallen is None
        ]
        if not same_kind:
            continue
        own = draft.item is not None and not draft.carried and draft.chunk is not None
        target = None
        if own:
            target = next(
                (d for d in reversed(same_kind) if d.item and draft.item and heads_agree(d.item, draft.item)),
                None,
            )
        elif same_kind[-1].line.index >= line.index - 2:
            target = same_kind[-1]
        if target is None and draft.kind == "length" and same_kind[-1].line.index >= line.index - 1:
            target = same_kind[-1]
        if target is None:
            continue
        if not own:
            draft.item, draft.chunk, draft.food = target.item, target.chunk, target.food
        if draft.place is None or draft.place_row is None or not own:
            draft.place, draft.place_row = target.place, target.place_row
        low, high = LIKELY.get(target.stage, (-100, 1000))
        if draft.kind != "temperature" or low <= fahrenheit(draft.value, draft.unit) <= high:
            draft.stage = target.stage
        draft.agent = draft.agent or target.agent
        if draft.kind == "temperature" and not draft.unit_said:
            draft.unit = target.unit
        replace(target, draft, line.words(0, min(draft.last, len(line.tokens))))


def _in_the_end(draft: Draft) -> Draft:
    """What took the place of a reading: the 46 of `I said 48, my screen's got 47, make it 46`."""
    while draft.successor is not None:
        draft = draft.successor
    return draft


def _closes(line: Line, draft: Draft) -> bool:
    after = [token.low for token in line.tokens[draft.last : draft.last + 3]]
    return after[:2] in (["that", "is"], ["i", "mean"], ["i", "meant"], ["i", "should"], ["that", "should"])


def _given_away(read: Read, earlier: list[Draft], scene: Scene) -> None:
    """`the 46 was croutons`: an earlier 46 belongs to another food."""
    line = read.line
    for draft in list(read.drafts):
        figure = draft.figure
        if draft.said or figure.first == 0 or line.tokens[figure.first - 1].low not in ("the", "that"):
            continue
        after = draft.chunk is not None and draft.chunk.first >= figure.last
        before = [
            d
            for d in [*reversed(earlier), *reversed(read.drafts)]
            if d is not draft and d.order < draft.order
        ]
        called_off = figure.first > 1 and line.tokens[figure.first - 2].low in _CALLS_OFF
        same = [d for d in before if d.value == draft.value and (d.kind == draft.kind or called_off)]
        if not same:
            continue
        other = same[0]
        if called_off and other.fallen is None:
            other.fallen = line.words(figure.first - 2, figure.last)
            scene.drafts.remove(draft)
            read.drafts.remove(draft)
            continue
        if after and other.item and draft.item and not heads_agree(other.item, draft.item):
            if other.fallen is None:
                replace(
                    other,
                    draft,
                    line.words(figure.first - 1, draft.chunk.last if draft.chunk else figure.last),
                )
        elif not after and other.fallen is None and figure.unit is None:
            # `the 158 went back on`: speaks of that reading, is no new one
            scene.drafts.remove(draft)
            read.drafts.remove(draft)

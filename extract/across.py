"""Later words that change earlier readings: corrections, withdrawals, `same for the ham`, and repeats."""

from __future__ import annotations

from itertools import pairwise

from extract.called_off import DROPS, all_called_off, called_off, chunk_near
from extract.lexicon import Lexicon
from extract.line import Chunk, Line
from extract.naming import item_name
from extract.people import written_up
from extract.repeats import listed_again, repeated, replace, spoken_of, told_twice
from extract.scene import Draft, Read, Scene
from extract.staging import LIKELY, fahrenheit, heads_agree
from extract.text import word_set

_BACK = 12
"""Utterances back that a change may reach."""


def settle_across(read: Read, scene: Scene, words: Lexicon) -> None:
    """Applies what an utterance says about the readings before it, in place."""
    line = read.line
    earlier = [draft for draft in scene.recent(line.index, back=_BACK) if draft.line is not line][::-1]
    _revised(read, earlier)
    _denied(read, earlier)
    _withdrawn(read, earlier)
    _withdrawn_here(read)
    _given_away(read, earlier, scene)
    listed_again(read, words)
    told_twice(read, scene)
    spoken_of(read, scene)
    repeated(read, earlier, scene)
    _same_as(read, scene, words)
    _of_both(read, scene)


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
    if target is None:
        replacing = next((d for d in read.drafts if d.fallen is None), None)
        target = earlier[-1]
        named_again = replacing is not None and not replacing.carried and replacing.item and target.item
        if named_again and replacing is not None and heads_agree(replacing.item or "", target.item or ""):
            replace(target, replacing, cue)
            return
    first_one = not read.drafts or line.sentence[read.drafts[0].figure.first] > 0
    if first_one and written_up(target.line.tokens, target.figure.last, len(target.line.tokens)):
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
        opening = read.amendments.revises and draft is read.drafts[0]
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


# ---------------------------------------------------------------- the same for another food


def _same_as(read: Read, scene: Scene, words: Lexicon) -> None:
    """`same for the ham`, `the ham's the same`: a second food with the figure said last."""
    line, i = read.line, 0
    if not words.same.begins(line.tokens) and not any("same" in token.low for token in line.tokens):
        return
    while i < len(line.tokens):
        if (end := _same_as_that(read, scene, i)) is not None:
            i = end
            continue
        hit = words.same.at(line.tokens, i)
        if hit is not None:
            i = _copies(read, scene, i, hit[0])
            continue
        after = words.same_after.at(line.tokens, i)
        closes = after is not None and _ends(line, after[0]) and not _compares(line, after[0])
        chunk = _named_before(line, i) if closes else None
        if after is not None and chunk is not None:
            source = _source(scene, line, chunk.first)
            if source is not None and chunk.known_food and chunk.preposition not in ("in", "with"):
                _copy(read, scene, source, chunk, chunk.first, after[0])
            i = after[0]
            continue
        i += 1


_MEASURE = word_set("temperature temp number reading")
_LINKING = frozenset(("auxiliaries", "determiners", "links", "adverbs", "mark"))


def _same_as_that(read: Read, scene: Scene, i: int) -> int | None:
    """`green beans same as the corn`: the food before with the corn's figure. Where the words about the other
    food end; None where the words at `i` say no such thing."""
    line = read.line
    lows = [token.low for token in line.tokens[i : i + 3]]
    if lows[:1] != ["same"] or "as" not in lows or not set(lows[1 : lows.index("as")]) <= _MEASURE:
        return None
    at = i + lows.index("as") + 1
    while at < len(line.tokens) and line.chunk_at[at] < 0 and line.classes[at] == "determiners":
        at += 1
    if at >= len(line.tokens) or line.chunk_at[at] < 0:
        return None
    other = line.chunks[line.chunk_at[at]]
    if not other.known_food:
        return None
    begin = i
    while begin and (line.classes[begin - 1] in _LINKING or line.tokens[begin - 1].low in ("at", "about")):
        begin -= 1
    food = _named_before(line, begin)
    name = item_name(line, other)
    like = (d for d in scene.recent(line.index, back=2) if d.kind == "temperature" and d.item)
    source = next((d for d in like if heads_agree(d.item or "", name)), None)
    if food is not None and food.known_food and food is not other and source is not None:
        _copy(read, scene, source, food, food.first, other.last)
    return other.last


_BESIDE = word_set("next to it them beside behind there right one that this with alongside under over")


def _named_before(line: Line, i: int) -> Chunk | None:
    """The thing right before token `i`, past words that tell where it stands: `string cheese next to it`."""
    n = i - 1
    while n >= 0 and line.chunk_at[n] < 0 and line.tokens[n].low in _BESIDE:
        n -= 1
    return line.chunks[line.chunk_at[n]] if n >= 0 and line.chunk_at[n] >= 0 else None


_TOGETHER = word_set("both each all")
_FROM_BOTH, _NEAR_BOTH = 14, 7
"""Words that may stand between two foods and their figure, and between `both` and the figure: common
practice, no source."""


def _of_both(read: Read, scene: Scene) -> None:
    """`tuna salad and chicken salad are both 39`: one figure of two foods named together."""
    line = read.line
    for draft in list(read.drafts):
        chunk, first = draft.chunk, draft.first
        if draft.said or draft.kind != "temperature" or chunk is None or not chunk.known_food:
            continue
        if chunk.last >= first or first - chunk.last > _FROM_BOTH:
            continue
        between = [token.low for token in line.tokens[chunk.last : first]]
        if not _TOGETHER & set(between[-_NEAR_BOTH:]):
            continue
        if _one_each(read, draft, chunk):
            continue
        joins = {"and", "the", "&", ","} if "both" in between else {"and", "the", "&"}
        at = line.chunk_at[chunk.first]
        for left, right in pairwise(line.chunks[max(0, at - 1) : at + 2]):
            if right.last > first:
                continue
            joined = [token.low for token in line.tokens[left.last : right.first]]
            other = left if right is line.chunks[at] else right
            if other.known_food and not other.preposition and joined and set(joined) <= joins:
                _one_copy(read, scene, draft, other, other.first, other.last)
                break


def _one_each(read: Read, draft: Draft, chunk: Chunk) -> bool:
    """`eggs and daikon are both in the drawer, 37 and 50`: each of the two has a figure of its own."""
    figures = [figure for figure in read.figures if figure.role == "figure" and figure.first >= chunk.last]
    behind = next((figure for figure in figures if figure.first >= draft.last), None)
    joined = [] if behind is None else [token.low for token in read.line.tokens[draft.last : behind.first]]
    return figures[0] is not draft.figure or joined in (["and"], [","], [",", "and"])


def _compares(line: Line, i: int) -> bool:
    """`the ham's the same as before`: with what, nobody can tell."""
    return i < len(line.tokens) and line.tokens[i].low == "as"


def _ends(line: Line, i: int) -> bool:
    if i >= len(line.tokens):
        return True
    token = line.tokens[i]
    return token.kind == "mark" or token.low in ("and", "so", "but", "too", "as")


def _source(scene: Scene, line: Line, before: int) -> Draft | None:
    for draft in reversed(scene.drafts):
        if draft.fallen is not None or draft.kind not in ("temperature",):
            continue
        if draft.line.index < line.index - 2:
            return None
        if draft.line is line and draft.first >= before:
            continue
        return draft
    return None


def _copies(read: Read, scene: Scene, start: int, at: int) -> int:
    line = read.line
    source = _source(scene, line, start)
    if source is None:
        return at
    first, i = start, at
    while i < len(line.tokens):
        token = line.tokens[i]
        if token.low in ("the", "and", "a", ",", "both", "all", "for", "on"):
            i += 1
            continue
        where = line.chunk_at[i]
        if where < 0:
            break
        chunk = line.chunks[where]
        if line.tokens[start].low == "also" and not (chunk.known_food and _ends(line, chunk.last)):
            break  # `also the slicing machine, they wash it`
        figure_next = any(
            f.role == "figure"
            and 0 <= f.first - chunk.last <= 3
            and line.sentence[f.first] == line.sentence[chunk.first]
            for f in read.figures
        )
        if (
            figure_next
            or chunk.sort in ("place", "instrument", "position")
            or not (chunk.known_food or chunk.sort == "thing")
        ):
            break
        if (
            chunk.sort == "thing"
            and not chunk.known_food
            and line.tokens[chunk.last - 1].low
            in (
                "thing",
                "stuff",
                "story",
                "deal",
                "problem",
                "issue",
                "way",
                "day",
                "time",
                "place",
                "person",
                "guy",
                "one",
            )
        ):
            break
        _copy(read, scene, source, chunk, first, chunk.last)
        i = first = chunk.last
    return max(i, at)


def _copy(read: Read, scene: Scene, source: Draft, chunk: Chunk, first: int, last: int) -> None:
    line = read.line
    while first < last and (line.tokens[first].kind == "mark" or line.tokens[first].low == "and"):
        first += 1
    partner = _range_partner(scene, source)
    if partner is not None:
        _one_copy(read, scene, partner, chunk, first, last)
    _one_copy(read, scene, source, chunk, first, last)


def _range_partner(scene: Scene, source: Draft) -> Draft | None:
    """The other end of a range that `source` closes."""
    if source.figure.range_with is None or source.said is not None:
        return None
    for draft in reversed(scene.drafts[-6:]):
        if draft.line is source.line and draft is not source and draft.item == source.item:
            return draft if draft.figure.range_with is not None and draft.fallen is None else None
    return None


def _one_copy(read: Read, scene: Scene, source: Draft, chunk: Chunk, first: int, last: int) -> None:
    line = read.line
    copy = Draft(
        figure=source.figure,
        line=line,
        value=source.value,
        unit=source.unit,
        kind=source.kind,
        stage=source.stage,
        item=item_name(line, chunk),
        chunk=chunk,
        place=source.place,
        place_row=source.place_row,
        unit_said=source.unit_said,
        food=True,
        clock=source.clock,
    )
    copy.said = (first, last)
    copy.rules.append(
        ("same as the reading before", line.index, line.tokens[first].start, line.tokens[last - 1].end)
    )
    copy.order = len(scene.drafts)
    scene.drafts.append(copy)
    read.drafts.append(copy)

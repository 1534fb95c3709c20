"""A second food with the figure of the first: `same for the ham`, `chicken salad likewise`, `both 39`."""

from __future__ import annotations

from itertools import pairwise

from extract.of_what.staging import heads_agree
from extract.scene import Draft, Read, Scene
from extract.words.lexicon import Lexicon
from extract.words.line import Chunk, Line
from extract.words.naming import item_name
from extract.words.text import word_set


def same_as(read: Read, scene: Scene, words: Lexicon) -> None:
    """`same for the ham`, `the ham's the same`: a second food with the figure said last."""
    line, i = read.line, 0
    if not words.same.begins(line.tokens) and not any("same" in token.low for token in line.tokens):
        return
    while i < len(line.tokens):
        if (end := _same_as_that(read, scene, i)) is not None:
            i = end
            continue
        if (end := _closing_same(read, scene, i)) is not None:
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


_TOO = word_set("likewise ditto too also same")


def _closing_same(read: Read, scene: Scene, i: int) -> int | None:
    """`Tuna 46, chicken salad likewise`, `Ham, same.`: the food right before, with the figure said last.
    Where the word ends; None where it says no such thing."""
    line = read.line
    if line.tokens[i].low not in _TOO or not (i + 1 >= len(line.tokens) or line.tokens[i + 1].kind == "mark"):
        return None
    n = i - 1
    begins = line.starts[line.sentence[i]]
    if n > begins and line.tokens[n].low == ",":
        n -= 1  # `Ham, same.`
        while n > begins and line.chunk_at[n] < 0 and line.tokens[n].low in _BESIDE:
            n -= 1  # `Ham next to it, same.`
    chunk = line.chunks[line.chunk_at[n]] if n >= begins and line.chunk_at[n] >= 0 else None
    if n < i - 1 and line.tokens[i].low == "same" and chunk is not None and chunk.first > begins + 1:
        return None
    if chunk is None or not chunk.known_food or chunk.preposition in ("in", "with"):
        return None
    source = _source(scene, line, chunk.first)
    held = any(figure.role == "figure" and figure.first < chunk.first for figure in read.figures)
    if source is None or (source.line is not line and held):
        return None
    since = source.last if source.line is line else begins
    alone = all(
        line.tokens[n].kind == "mark" or line.tokens[n].low == "and" or line.classes[n] == "determiners"
        for n in range(since, chunk.first)
    )
    if line.tokens[i].low in ("too", "also") and not alone:
        return None  # `melt water around the fillets too`
    _copy(read, scene, source, chunk, chunk.first, i + 1)
    return i + 1


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


def of_both(read: Read, scene: Scene) -> None:
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
            if token.low == "a" and i > at and line.tokens[i - 1].low not in (",", "and", "for", "the"):
                break  # `same for the barb a coa`
            i += 1
            continue
        where = line.chunk_at[i]
        if where < 0:
            break
        chunk = line.chunks[where]
        if line.tokens[start].low == "also" and not (chunk.known_food and _ends(line, chunk.last)):
            break  # `also the slicing machine, they wash it`
        if i > at and line.tokens[i - 1].low == "," and not _ends(line, chunk.last):
            break  # `same for the milk, eggs came in a carton`
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

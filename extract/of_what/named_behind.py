"""Foods named only behind their figure: `154, sliders need one more flip`."""

from __future__ import annotations

from extract.figures.figure import Figure, holding
from extract.words.line import Chunk, Line
from extract.words.text import word_set

_IS = word_set("'s is was are were 're")
_BESIDE = frozenset(("on", "for", "of", "off", "in", ""))
_GOES_ON = frozenset(("auxiliaries", "links", "verbs", "predicates", "conjunctions", "adverbs", "pronouns"))
"""What follows the subject of a clause, and so no part of a list."""


def told_what(line: Line, found: list[Figure], at: int) -> Chunk | None:
    """The salsa of `Drawer by the till, 37, that's the salsa`: what was measured, said behind its figure."""
    tokens, i = line.tokens, found[at].last
    _, end = line.sentence_span(found[at].first)
    while i < end and (tokens[i].low in (",", "and") or line.classes[i] == "fillers"):
        i += 1
    if i == found[at].last or i + 2 >= end or tokens[i].low not in ("that", "it", "this", "which", "those"):
        return None
    i += 1
    if tokens[i].low not in _IS:
        return None
    i += 1
    while i < end and line.classes[i] == "determiners" and tokens[i].low not in ("no", "not"):
        i += 1
    chunk = line.chunks[line.chunk_at[i]] if i < end and line.chunk_at[i] >= 0 else None
    if chunk is None or not chunk.known_food or chunk.first != i:
        return None
    closed = chunk.last >= end or tokens[chunk.last].kind == "mark" or tokens[chunk.last].low in ("in", "and")
    return chunk if closed else None


def by_gauge(line: Line, figure: Figure) -> Chunk | None:
    """The dial of `36 by the dial`."""
    i = figure.last
    if i >= len(line.tokens) or line.tokens[i].low not in ("by", "on", "per"):
        return None
    for n in range(i + 1, min(i + 4, len(line.tokens))):
        chunk = line.chunks[line.chunk_at[n]] if line.chunk_at[n] >= 0 else None
        if chunk is not None:
            gauge = chunk.object is not None and chunk.object.what in ("gauge", "thermometer")
            return chunk if gauge and chunk.determiner != "my" else None
    return None


def said_next(line: Line, found: list[Figure], at: int) -> Chunk | None:
    """The scallops of `It's 41, scallops`, the sliders of `154, sliders need one more flip`."""
    tokens, i = line.tokens, found[at].last
    _, end = line.sentence_span(found[at].first)
    if i >= end or tokens[i].low not in (",", ".", ":", ";"):
        return None
    last = next((figure.last for figure in reversed(found[:at]) if figure.role == "figure"), 0)
    if _any_food(line, last, i):
        return None
    if tokens[i].low == "." and i + 1 < len(tokens):
        _, end = line.sentence_span(i + 1)
    i += 1
    while i < end and (
        line.classes[i] in ("determiners", "fillers", "adverbs") and tokens[i].low not in ("no", "not")
    ):
        i += 1
    chunk = line.chunks[line.chunk_at[i]] if i < end and line.chunk_at[i] >= 0 else None
    if chunk is None or not chunk.known_food or chunk.first != i or chunk.sort not in ("food", "thing"):
        return None
    if _of_another(line, found, at, chunk):
        return None
    if tokens[found[at].last].low == "." and chunk.last < end and tokens[chunk.last].low not in (".", "!"):
        return None
    if _any_food(line, 0, last):
        return chunk if chunk.last >= end or tokens[chunk.last].low == "." else None
    closed = chunk.last >= end or tokens[chunk.last].low in (".", ",", ";", "!")
    return chunk if closed or line.classes[chunk.last] in _GOES_ON else None


def food_behind(line: Line, found: list[Figure], at: int) -> Chunk | None:
    """The only food an utterance names, where it comes behind its figures: `39 at first, 44 at the end. The
    salsa is warming.`"""
    _, end = line.sentence_span(found[at].first)
    if _any_food(line, 0, found[at].first):
        return None
    for chunk in line.chunks:
        if chunk.first < found[at].last or not chunk.known_food or chunk.sort == "gone":
            continue
        if (
            chunk.preposition not in _BESIDE
            or chunk.determiner == "no"
            or _of_another(line, found, at, chunk)
        ):
            return None
        return chunk if chunk.first < end or _tells_of_it(line, chunk, end) else None
    return None


def food_behind_span(line: Line, figure: Figure, found: list[Figure]) -> Chunk | None:
    """The food behind a figure and its span of time: `log reads minus 5 for 5 days on the halibut`."""
    _, end = line.sentence_span(figure.first)
    later = (one for one in found if one.first > figure.first)
    stop = next((one.first for one in later if one.role == "figure" and one.kind != "duration"), end)
    for chunk in line.chunks:
        if stop < end and chunk.first < stop <= chunk.last + 2:
            return None  # `gauge 34, mine on the yogurt 43`: it is the next figure's
        prepared = chunk.known_food and chunk.preposition in ("on", "for", "of")
        if prepared and figure.last <= chunk.first < stop:
            return chunk
    return None


def goes_on_behind(line: Line, found: list[Figure], at: int, chunk: Chunk) -> bool:
    """The octo of `39 ahi, 46 octo`: an unknown thing where the foods of a list follow their figures."""
    if not at or chunk.sort != "thing" or chunk.object is not None or found[at - 1].role != "figure":
        return False
    closes = chunk.last >= len(line.tokens) or line.tokens[chunk.last].kind == "mark"
    i = found[at - 1].last
    while i < found[at].first and line.classes[i] in ("determiners", "prepositions"):
        i += 1
    before = line.chunks[line.chunk_at[i]] if line.chunk_at[i] >= 0 else None
    if not closes or before is None or not before.known_food:
        return False
    between = [token.low for token in line.tokens[before.last : found[at].first]]
    return bool(between) and set(between) <= {",", "and"}


def all_behind(line: Line, found: list[Figure], at: int) -> bool:
    """Whether each figure of the sentence is told before what it is of: `poke: 39 tuna, 40 salmon`."""
    first, end = line.sentence_span(found[at].first)
    row = [figure for figure in found if first <= figure.first < end and figure.role == "figure"]
    return len(row) > 1 and all(_closes_with_name(line, figure.last, end) for figure in row)


def names_follow(line: Line, found: list[Figure], at: int) -> bool:
    """Whether a sentence begins with a figure, ends with a food, and has a food behind every figure: `38 on
    the turkey 39 on the ham`, `40 spinach 39 yogurt`."""
    first, end = line.sentence_span(found[at].first)
    row = [figure for figure in found if first <= figure.first < end and figure.role == "figure"]
    if len(row) < 2 or _any_food(line, first, row[0].first):
        return False
    stops = [*(figure.first for figure in row[1:]), end]
    return all(_any_food(line, figure.last, stop) for figure, stop in zip(row, stops, strict=True))


def _closes_with_name(line: Line, i: int, end: int) -> bool:
    while i < end and line.classes[i] == "determiners":
        i += 1
    chunk = line.chunks[line.chunk_at[i]] if i < end and line.chunk_at[i] >= 0 else None
    if chunk is None or chunk.sort not in ("food", "thing") or chunk.object is not None:
        return False
    return chunk.last >= end or line.tokens[chunk.last].low in (",", ".", ";", "and")


def _tells_of_it(line: Line, chunk: Chunk, end: int) -> bool:
    """Whether the food opens the sentence after the figures, and nothing is said there of where it lies."""
    opens, closes = line.sentence_span(chunk.first)
    if opens != end or chunk.prepared_at != opens or chunk.determiner not in ("the", "this", "that", "your"):
        return False
    return not any(
        other is not chunk and (other.known_food or other.sort == "place")
        for other in line.chunks
        if opens <= other.first < closes
    )


def _any_food(line: Line, first: int, last: int) -> bool:
    return any(chunk.known_food and first <= chunk.first < last for chunk in line.chunks)


def _of_another(line: Line, found: list[Figure], at: int, chunk: Chunk) -> bool:
    """Whether a figure stands right beside the food and is of another value: `41, ham 44`."""
    before = holding(found, chunk.prepared_at - 1)
    if before not in (None, at) and found[before].role == "figure" and not _series(line, found, at, before):
        return True
    following = next((figure for figure in found if figure.first >= chunk.last), None)
    if following is None or following.role != "figure" or following.value == found[at].value:
        return False
    between = range(chunk.last, following.first)
    return all(
        line.classes[n] in ("links", "auxiliaries", "adverbs", "fillers") or line.tokens[n].low in ("at", ":")
        for n in between
    )


def _series(line: Line, found: list[Figure], at: int, last: int) -> bool:
    """Whether two figures are of one row, with no name between them: `40.1 and 40.6 for the eggs`."""
    return not any(line.chunk_at[n] >= 0 for n in range(found[at].last, found[last].first))

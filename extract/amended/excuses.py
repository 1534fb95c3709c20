"""Figures that fall with an excuse: `118, hold on, the probe's on the pan`, `56, no, wrong line, 66`.

A turn (`hold on`, `no`, `oops`) right behind a figure, and then a clause that tells what spoiled it. The
figure falls; the next one of the same thing takes its place.
"""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.words.lexicon import Phrases, read
from extract.words.line import Line
from extract.words.text import singular, word_set

_ROWS = read("amendments.toml")
_TURN = Phrases((text, True) for text in _ROWS["turns"])
_SPOILED = Phrases((text, True) for text in _ROWS["spoiled"])
_PAUSES = frozenset((",", ".", "-", "–", "—", "…", "!"))
_NOT_A_TURN = word_set("no not")
_REACH = 14
"""Words that an excuse may have: common practice, no source."""


def excuse(line: Line, found: list[Figure], at: int) -> tuple[int, int] | None:
    """First and end token of the turn and excuse right behind a figure."""
    tokens, begin = line.tokens, found[at].last
    while begin < len(tokens) and tokens[begin].low in _PAUSES:
        begin += 1
    i = _turn(line, begin)
    if i == begin:
        begin = _past_where(line, begin)
        i = _turn(line, begin)
    if i == begin:
        return None
    stop = found[at + 1].first if at + 1 < len(found) else len(tokens)
    end = min(line.sentence_span(i)[1], stop, i + _REACH) if i < len(tokens) else i
    for n in range(i, end):
        hit = _SPOILED.at(tokens, n)
        if hit is not None and hit[0] <= end:
            while end > hit[0] and tokens[end - 1].low in _OPENING:
                end -= 1
            return begin, end
    looks = [token.low for token in tokens[i : i + 2]] == ["let", "me"]
    return (begin, end) if looks and at + 1 < len(found) and _alone(line, found[at + 1]) else None


def _alone(line: Line, figure: Figure) -> bool:
    """The `18` of `12, hold on, let me carry it to the daylight. 18. Water 71`."""
    first, _ = line.sentence_span(figure.first)
    after = line.tokens[figure.last] if figure.last < len(line.tokens) else None
    return figure.first == first and figure.unit is None and (after is None or after.kind == "mark")


_WHERE = word_set("on in at there here by degrees internal")


def _past_where(line: Line, begin: int) -> int:
    """Past the `on my screen` of `113 on my screen, no, hang on`, where no food is named."""
    tokens, i = line.tokens, begin
    if i >= len(tokens) or tokens[i].low not in _WHERE:
        return begin
    while i < len(tokens) and i - begin < 5 and tokens[i].kind == "word":
        if line.chunk_at[i] >= 0 and line.chunks[line.chunk_at[i]].known_food:
            return begin
        i += 1
    while i < len(tokens) and tokens[i].low in _PAUSES:
        i += 1
    return i


_AGAIN = word_set("again over anew another back once elsewhere deeper properly")


_MENDS = word_set("fix correct redo change amend restate")
_FETCHES = word_set("get grab use find put take fetch")
_MEASURES_WITH = word_set("tape ruler probe thermometer meter strip glasses flashlight light")
"""`Four inches? Let me get the tape. Four and a quarter`: what was guessed is measured."""


def let_me_again(line: Line, first: int, last: int) -> tuple[int, int] | None:
    """`let me go in again`, `let me get another spot`: the words by which a figure is taken anew."""
    tokens = line.tokens
    for n in range(first, last - 2):
        if tokens[n].low == "let" and tokens[n + 1].low in ("me", "us"):
            for m in range(n + 2, min(n + 8, last)):
                if tokens[m].kind != "word":
                    break
                fetched = tokens[m].low in _MEASURES_WITH and tokens[n + 2].low in _FETCHES
                if tokens[m].low == "another" and (m + 1 >= last or tokens[m + 1].kind == "mark"):
                    break  # `159, let me get another. 167`: another one of them
                if tokens[m].low in _AGAIN or (m == n + 2 and tokens[m].low in _MENDS) or fetched:
                    return n, m + 1
    return None


_OPENING = word_set("at it 's is now reads read i get got")


def _turn(line: Line, begin: int) -> int:
    """The end of the turns that begin at a token: `no, hold on,`."""
    tokens, i = line.tokens, begin
    while i < len(tokens):
        hit = _TURN.at(tokens, i)
        if hit is None:
            return i
        after = hit[0]
        if tells_a_limit(line, after):
            return i
        if tokens[i].low in _NOT_A_TURN and after < len(tokens) and line.chunk_at[after] >= 0:
            return i  # `no lid`
        while after < len(tokens) and tokens[after].low in _PAUSES:
            after += 1
        i = after
    return i


_BOUNDS = word_set("over under above below more less higher lower warmer colder")


def tells_a_limit(line: Line, end: int) -> bool:
    """Whether words that end before a token tell a limit with it, and take nothing back: the `can't be` of
    `crab is at 52. Can't be over 41 done that way`."""
    tokens = line.tokens
    return end < len(tokens) and tokens[end - 1].low == "be" and tokens[end].low in _BOUNDS


def forget(line: Line, first: int, last: int) -> None:
    """Takes what an excuse names out of what the next figure may be of or where."""
    for at in {line.chunk_at[n] for n in range(first, last) if line.chunk_at[n] >= 0}:
        line.chunks[at].sort, line.chunks[at].place, line.chunks[at].object = "gone", None, None
        line.chunks[at].known_food = False


def taken_again(line: Line, found: list[Figure], at: int, end: int) -> int | None:
    """The figure that takes the place of a spoiled one: the next, of the same thing or of nothing named."""
    one = found[at]
    live = [n for n in range(at + 1, len(found)) if found[n].role in ("figure", "clock", "limit")]
    if (
        not live
        or found[live[0]].first - end > 10
        or (found[live[0]].role == "clock") != (one.role == "clock")
    ):
        return None
    two = found[live[0]]
    if two.kind is not None and one.kind is not None and two.kind != one.kind:
        return None
    first, _ = line.sentence_span(one.first)
    named = {singular(line.tokens[n].low) for n in range(first, one.first)}
    for n in range(end, two.first):
        chunk = line.chunks[line.chunk_at[n]] if line.chunk_at[n] >= 0 else None
        if chunk is None or chunk.sort in ("position", "gone") or chunk.preposition in ("in", "on", "of"):
            continue
        if singular(line.tokens[chunk.last - 1].low) not in named:
            return None
    return live[0]


_HESITATES = word_set("uh um er uhm eh no wait i mean")


def said_over(line: Line, found: list[Figure], at: int) -> bool:
    """The 154 of `145, uh 154, sorry, my thumb was over it`: said over another figure, for which the excuse
    is, so that this one stands."""
    if not at or found[at - 1].role != "figure" or found[at - 1].kind != found[at].kind:
        return False
    between = [t.low for t in line.tokens[found[at - 1].last : found[at].first] if t.kind != "mark"]
    return bool(between) and set(between) <= _HESITATES


_STRIKES = word_set("strike scratch drop forget lose kill delete erase skip not")


def struck(line: Line, found: list[Figure]) -> list[tuple[int, int, str]]:
    """`185, strike the five, 180`: a digit of a figure that is taken back, with the figure that it becomes.
    Gives the figure that falls, the one that stands, and the words; the digit itself is no figure."""
    result = []
    for at in range(1, len(found) - 1):
        one, digit, two = found[at - 1], found[at], found[at + 1]
        if one.role != "figure" or digit.unit is not None or two.role not in ("figure", "restated"):
            continue
        before = [token.low for token in line.tokens[one.last : digit.first] if token.kind != "mark"]
        told = len(before) == 2 and before[0] in _STRIKES and before[1] in ("the", "that")
        same = digit.value == one.value and _struck_whole(line, digit)
        if same or (told and f"{digit.value:g}" in f"{one.value:g}"):
            digit.role = "denied"
            result.append((at - 1, at + 1, line.words(digit.first - (1 if same else 2), digit.last)))
    return result


def _struck_whole(line: Line, figure: Figure) -> bool:
    """`168. Hold on, it's climbing, forget 168. 183`: the figure said again only to be taken back."""
    n = figure.first - 1
    if n > 0 and line.tokens[n].low in ("the", "that"):
        n -= 1
    return n >= 0 and line.tokens[n].low in _STRIKES


def sent_back(line: Line, i: int, last: int) -> bool:
    """The `put it back` of `chicken 158, no, put it back. Okay 169.`: of the food, not of the figure."""
    lows = [token.low for token in line.tokens[i : min(last, i + _FEW_WORDS)] if token.kind != "mark"]
    return "back" in lows[1:] and "up" not in lows


_FEW_WORDS = 5
"""Words in which it is said where food goes: common practice, no source."""


def opens_with_turn(line: Line) -> int:
    """The end of the turns with which an utterance begins (`Hold on, `); 0 where it begins otherwise."""
    return _turn(line, 0)


def spoiled_in(line: Line, begin: int) -> int | None:
    """The token of the sentence at `begin` from which its words tell what spoiled a figure."""
    if begin >= len(line.tokens):
        return None
    _, end = line.sentence_span(begin)
    return next((n for n in range(begin, end) if _SPOILED.at(line.tokens, n) is not None), None)

"""What was taken back or changed inside one utterance: `115, uh no, 151`, `scratch that`, `128 not 138`."""

from __future__ import annotations

from dataclasses import dataclass, field

from extract.amended.cues import cue_between, cues_end
from extract.amended.excuses import (
    excuse,
    forget,
    said_over,
    struck,
    taken_again,
)
from extract.amended.given_to import TURNS, that_is, the_ones, was_of
from extract.amended.opening import corrects_earlier
from extract.amended.swaps import tells_swap
from extract.amended.what_falls import asks_for, clears_only, only_wait, told_first
from extract.figures.figure import Figure
from extract.figures.like_figures import misprinted
from extract.figures.numbered_things import NAMES
from extract.figures.restated import (
    EXACTLY,
    after_no,
    after_talk,
    broken_off,
    by_another,
    confirmed,
    converted,
    denied_ahead,
    digit_by_digit,
    no_that_is,
    past_its_where,
    said_anew,
    said_on,
    said_whole,
    same_time_again,
    shown_else,
    spelled_again,
    tail_again,
)
from extract.words.lexicon import Lexicon
from extract.words.line import Chunk, Line
from extract.words.text import word_set

_WEAK = word_set("""mistake reading probe look number time temp temperature correction minute second thing
bad moment
  record that this edge wall side pan figure glass lens""")


_LIVE = frozenset(("figure", "clock", "limit", "count", "id", "mentioned"))
"""Roles of the figures that may be taken back, or take the place of one."""


@dataclass(slots=True)
class Amendments:
    """Which figures of one utterance fell, and why."""

    replaced: dict[int, int] = field(default_factory=dict)
    """Figure → the figure that took its place."""
    fallen: dict[int, str] = field(default_factory=dict)
    """Figure → the words that took it back, with or without a replacement."""
    restated: dict[int, int] = field(default_factory=dict)
    """Figure → the earlier one that it says again."""
    denied: dict[int, float] = field(default_factory=dict)
    """Figure said only to be denied (`not 138`) → its value."""
    reassigned: dict[int, Chunk] = field(default_factory=dict)
    """Figure → the thing it is really of: `turkey 40, no wait, that's the ham`."""
    withdraws_earlier: str | None = None
    """The words with which the utterance begins by taking back what an earlier one said."""
    revises: bool = False
    """The utterance begins by correcting an earlier one."""

    def restate(self, found: list[Figure], one: int, two: int) -> None:
        """Takes the second figure for the first said again."""
        self.restated[two] = one
        found[two].role = "restated"


def amendments(line: Line, found: list[Figure], words: Lexicon) -> Amendments:
    """The amendments of an utterance. `found`: its figures, roles settled."""
    result = Amendments()
    denied_ahead(line, found)
    for at, again, words_said in struck(line, found):
        result.fallen[at], result.replaced[at] = words_said, again
    live = [at for at, figure in enumerate(found) if figure.role in _LIVE and figure.why != NAMES]
    for place, at in enumerate(live[1:], start=1):
        last = before = live[place - 1]
        while before in result.restated:
            before = result.restated[before]
        if last != before and found[last].value == found[at].value and said_on(line, found[last], found[at]):
            result.restate(found, before, at)
            continue
        if before in result.denied and place >= 2:
            before = live[place - 2]
        _pair(line, found, before, at, words, result)
    for a, b in same_time_again(line, found):
        result.restated.pop(b, None)
        result.replaced[a], result.fallen[a] = b, line.words(found[a + 1].last, found[b].first)
        forget(line, found[a + 1].last, found[b].first)
    anew = after_no(line, found)
    for a, b in (*said_anew(line, found), *by_another(line, found), *no_that_is(line, found), *anew):
        if a not in result.replaced and b not in result.restated:
            first, _ = line.sentence_span(found[b].first)
            result.replaced[a], result.fallen[a] = b, line.words(first, found[b].last)
    _either(line, found, live, result)
    _spoiled(line, found, result)
    _taken_back(line, found, words, result, {b for _, b in anew})
    result.reassigned |= was_of(line, found, result.fallen)
    for again, (first, thing) in the_ones(line, found).items():
        for at in (again, first):
            result.fallen.pop(at, None)
            result.replaced.pop(at, None)
        found[first].role = "figure"
        result.restate(found, first, again)
        result.reassigned[first] = thing
    result.revises = result.revises or corrects_earlier(line, found, words)
    return result


def _pair(line: Line, found: list[Figure], a: int, b: int, words: Lexicon, result: Amendments) -> None:
    one, two = found[a], found[b]
    between = line.tokens[one.last : two.first]
    lows = [token.low for token in between if token.kind != "mark"]
    if tells_swap(line, one.last, two.first) is not None:
        return  # `ham 41, turkey 38, no, other way around, ham's the 38`: told anew of both
    if _denies(line, found, a, b, lows) and _alike(one, two):
        result.denied[b] = two.value
        two.role = "denied"
        return
    if _garbled(line, one, two, words):
        two.codes = (*two.codes, "restated")
        two.alternatives = (*two.alternatives, one.value)
        one.role = "garbled"
        return
    if (
        one.role == "figure"
        and two.role == "figure"
        and lows
        and lows not in (["or"], ["to"])
        and set(lows) <= _MAYBE
        and _alike(one, two)
    ):
        one.codes, one.alternatives = (*one.codes, "unsure"), (*one.alternatives, two.value)
        result.restate(found, a, b)
        return
    if said_whole(one, two, lows):
        result.replaced[a], result.fallen[a] = b, line.words(one.last, two.first)
        return
    if one.role == two.role == "figure" and tail_again(line, one, found[b - 1].last, two, lows):
        result.restate(found, a, b)
        return
    if broken_off(line, one, two):
        result.replaced[a], result.fallen[a] = b, line.words(one.first, two.first)
        return
    if one.role == "figure" and two.role == "figure" and digit_by_digit(line, one, two, lows):
        result.restate(found, a, b)
        return
    if len(between) > 20 or not _alike(one, two):
        return
    same = one.role == "figure" and one.value == two.value
    if same and lows and set(lows) <= EXACTLY:
        result.restate(found, a, b)
        return
    if shown_else(line, one, lows):
        return
    if (one.role == "figure" and converted(one, two, lows)) or (
        same
        and (
            "twice" in lows
            or said_on(line, one, two)
            or after_talk(line, one, two, lows)
            or confirmed(line, one, two, a in result.replaced.values())
        )
    ):
        result.restate(found, a, b)
        return
    cue = cue_between(line, one.last, two.first, words)
    told = (cue[0], cues_end(line, cue[1], two.first, words)) if cue else (two.first, two.first)
    begin = past_its_where(line, one.last)
    outside = (n for n in range(begin, two.first) if not told[0] <= n < told[1])
    if any(_names_something(line, n) for n in outside) and not _turned(line, found[b - 1].last, two):
        return
    if same and spelled_again(line, one, two):
        result.restate(found, a, b)
        return
    if cue is None or one.role in ("id",):
        return
    if one.role == "limit" and two.role != "limit":
        return
    if two.role == "limit" and asks_for(line, *cue) and not misprinted(one.value, two.value):
        return  # `final rinse 166. That should be 180`
    if one.role == "count" and not two.unit:
        return
    if two.role == "count" and two.number.words and two.value < _FEW < one.value:
        return  # `171, clock starts over, two ice wands this time`
    if two.role == "limit" and two.why.lower().startswith(_DEMANDS):
        return
    if two.role in ("limit", "count", "mentioned") and one.role == "figure":
        two.role, two.why = "figure", ""
    result.replaced[a] = b
    result.fallen[a] = line.words(*cue)
    forget(line, *told)
    if two.unit is None and one.unit is not None:
        two.unit, two.kind = one.unit, one.kind


_FEW = 13
"""So many in words are things that were counted, where the figure before is larger."""
_DEMANDS = (
    "need",
    "needs",
    "has to",
    "have to",
    "got to",
    "gotta",
    "must",
    "wants",
    "want",
    "supposed",
    "twice",
    "double",
)
"""What a second figure is asked to be; `should be` corrects the first as well."""


def _either(line: Line, found: list[Figure], live: list[int], result: Amendments) -> None:
    """`150 or 115, the screen's fogged, second look 115`: the figure settled on takes the place of both."""
    for a, b, c in zip(live, live[1:], live[2:], strict=False):
        one, two, third = found[a], found[b], found[c]
        if any(figure.role not in ("figure", "mentioned") for figure in (one, two, third)):
            continue
        between = [token.low for token in line.tokens[one.last : two.first] if token.kind != "mark"]
        named = {line.chunk_at[n] for n in range(two.last, third.first) if line.chunk_at[n] >= 0}
        foods = any(line.chunks[at].known_food for at in named)
        if between == ["or"] and third.value in (one.value, two.value) and not foods and _alike(one, two):
            third.role = "figure"
            if third.unit is None and two.unit is not None:
                third.unit, third.kind = two.unit, two.kind
            for at in (a, b):
                found[at].role = "figure"
                result.replaced[at], result.fallen[at] = c, line.words(one.last, two.first)
            forget(line, two.last, third.first)


def _spoiled(line: Line, found: list[Figure], result: Amendments) -> None:
    """`118, hold on, the probe's on the pan`: falls; the next figure of the same thing takes its place."""
    for at, figure in enumerate(found):
        if figure.role not in ("figure", "clock") or at in result.replaced or at in result.restated:
            continue
        span = excuse(line, found, at)
        if span is None:
            continue
        forget(line, *span)
        again = taken_again(line, found, at, span[1])
        apart = again is None or line.sentence[found[again].first] != line.sentence[figure.first]
        if apart and said_over(line, found, at):
            result.fallen[at - 1], result.replaced[at - 1] = line.words(*span), at
            continue
        result.fallen[at] = line.words(*span)
        if again is None:
            if figure.role == "clock":
                del result.fallen[at]
            continue
        two = found[again]
        result.replaced[at] = again
        if two.role == "limit":
            two.role, two.why = "figure", ""
        if two.unit is None and figure.unit is not None:
            two.unit, two.kind = figure.unit, figure.kind
        if figure.role == "clock":
            figure.role = "garbled"


def _turned(line: Line, begin: int, two: Figure) -> bool:
    """`31, sorry no, I've got my glasses off, it's 51`: taken back at once, with a reason that names no
    food or place, and said anew of the same thing."""
    tokens = line.tokens
    i = begin
    while i < two.first and tokens[i].kind == "mark":
        i += 1
    again = [token.low for token in tokens[max(0, two.first - 2) : two.first]]
    if tokens[i].low not in TURNS or again not in (["it", "'s"], ["it", "is"], ["that", "'s"]):
        return False
    chunks = {line.chunk_at[n] for n in range(begin, two.first) if line.chunk_at[n] >= 0}
    if any(line.chunks[at].known_food or line.chunks[at].sort != "thing" for at in chunks):
        return False
    for at in chunks:
        line.chunks[at].sort = "gone"  # part of the excuse, not what was measured
    return True


_MAYBE = word_set("maybe perhaps possibly could be might or even hard to tell say read")
"""Words between a figure and another that it may be as well: `100, maybe 150`."""


def _denies(line: Line, found: list[Figure], a: int, b: int, lows: list[str]) -> bool:
    """`150 not 115`, `150, one five zero, not 115`: nothing but `not` since the last figure."""
    if lows[-1:] == ["not"] and (len(lows) == 1 or _closes_with_not(line, found[b], len(lows))):
        return True
    last = found[b - 1].last
    return (
        b - 1 > a
        and found[b - 1].role == "restated"
        and [token.low for token in line.tokens[last : found[b].first] if token.kind != "mark"] == ["not"]
    )


def _closes_with_not(line: Line, two: Figure, words: int) -> bool:
    """`fifty ppm, chlorine, not a hundred`: what it is not, said last."""
    end = two.last >= len(line.tokens) or line.tokens[two.last].kind == "mark"
    at = two.first - 2 if line.tokens[two.first - 1].low == "not" else two.first - 3
    return end and words <= 4 and at >= 0 and line.tokens[at].kind == "mark"


def _garbled(line: Line, one: Figure, two: Figure, words: Lexicon) -> bool:
    """`1702, I mean 172`: a figure printed with a digit too many, corrected at once."""
    if (
        one.role != "clock"
        or two.role != "figure"
        or one.number.sure_clock
        or one.number.decimals
        or one.number.words
    ):
        return False
    if one.first and line.tokens[one.first - 1].low in (
        "at",
        "since",
        "by",
        "until",
        "till",
        "from",
        "to",
        "around",
        "about",
    ):
        return False
    return two.first - one.last <= 5 and cue_between(line, one.last, two.first, words) is not None


def _alike(one: Figure, two: Figure) -> bool:
    """Whether the second can stand for the first: both times of day, or the same kind of quantity."""
    if (one.role == "clock") != (two.role == "clock"):
        return False
    if one.kind is None or two.kind is None:
        return "duration" not in (one.kind, two.kind)
    return one.kind == two.kind


def _names_something(line: Line, n: int) -> bool:
    at = line.chunk_at[n]
    if at < 0:
        return False
    chunk = line.chunks[at]
    if chunk.sort in ("position", "gone"):
        return False
    return any(line.tokens[i].low not in _WEAK for i in range(chunk.first, chunk.last))


def _taken_back(line: Line, found: list[Figure], words: Lexicon, result: Amendments, anew: set[int]) -> None:
    """`125, no wait that was up against the edge`: the figure before the words falls. `anew`: figures told in
    the place of one before; `strike it` behind these is of what that one had shown."""
    i, tokens = 0, line.tokens
    while i < len(tokens):
        hit = words.withdraw.at(tokens, i)
        if hit is None:
            i += 1
            continue
        end = hit[0]
        before = [at for at, figure in enumerate(found) if figure.last <= i and figure.role == "figure"]
        if before:
            last = before[-1]
            taken = (
                last in result.fallen
                or last in anew
                or (last in result.replaced.values() and tokens[i - 1].low == "so")
            )
            other = that_is(line, end)
            if other is not None and not taken:
                result.reassigned[last] = other
                i = end
                continue
            nothing_named = not any(
                line.chunk_at[n] >= 0 and line.chunks[line.chunk_at[n]].sort in ("food", "thing")
                and line.chunks[line.chunk_at[n]].known_food for n in range(found[last].last, i)
            )  # fmt: skip
            if (
                not taken
                and nothing_named
                and not clears_only(line, found[last].last, i, end)
                and not only_wait(line, i, end)
            ):
                if (over := said_over(line, found, last)) and last - 1 not in result.fallen:
                    result.replaced[last - 1] = last
                result.fallen[last - 1 if over else last] = line.words(i, end)
        elif i <= 6 and not only_wait(line, i, end) and not told_first(line, i):
            result.withdraws_earlier = line.words(i, end)
        i = end

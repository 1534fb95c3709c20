"""Figures of an earlier time that is told in their own sentence: `at the visit in spring it was 148`."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.words.lexicon import read
from extract.words.line import Line
from extract.words.text import word_set

_ROWS = read("roles.toml")["earlier"]
_VISITS = word_set(" ".join(_ROWS["visits"]))
_WHICH = word_set(" ".join(_ROWS["which"]))
_TIMES = word_set(" ".join(_ROWS["times"]))
_LONG = word_set(" ".join(_ROWS["long"]))
_BEEN = word_set(" ".join(_ROWS["been"]))
_WRITTEN = word_set("have has gives says lists shows put puts")
"""Verbs of what stands in the notes of an earlier visit."""
_NOW = word_set("now today tonight currently still again but reads")
_ANEW = word_set("and is are 's ; i so then")
"""What begins a clause of its own behind the time: `I was here two weeks ago and the ham is 39`."""
_REACH = 4
"""Words between the parts of such a time: common practice, no source."""


def earlier_times(line: Line) -> list[tuple[int, int, str]]:
    """Where the utterance names an earlier time: first and end token, and the role `previous`."""
    found: list[tuple[int, int, str]] = []
    for i, token in enumerate(line.tokens):
        low = token.low
        if low in _VISITS and (span := _visit(line, i)) is not None:
            found.append((*span, "previous"))
        elif low in ("ago", "back") and i >= 2 and line.tokens[i - 1].low in _LONG:
            if not (i + 1 < len(line.tokens) and low == "back" and line.classes[i + 1] == "prepositions"):
                found.append((i - 2, i + 1, "previous"))
        elif low in _TIMES and i and line.tokens[i - 1].low in ("in", "last", "back", "from", "of"):
            found.append((i - 1, i + 1, "previous"))
    return found


def _visit(line: Line, i: int) -> tuple[int, int] | None:
    tokens = line.tokens
    first, end = line.sentence_span(i)
    lows = [token.low for token in tokens]
    begin = i
    while begin > first and i - begin < 3 and (lows[begin - 1] in _WHICH or lows[begin - 1] in _TIMES):
        begin -= 1
    if begin < i:
        return begin, i + 1
    for n in range(i + 1, min(end, i + 1 + _REACH)):
        if tokens[n].kind != "word" or line.classes[n] in ("verbs", "links", "auxiliaries"):
            return None
        if lows[n] in _TIMES or (lows[n] == "before" and n == i + 1):
            return i, n + 1
        if lows[n] in _LONG and "last" in lows[i:n]:
            return i, n + 1
    return None


def of_earlier_time(
    line: Line, figure: Figure, first: int, times: list[tuple[int, int, str]]
) -> tuple[str, str] | None:
    """The role and the words of a figure of an earlier time, said before or behind it."""
    if figure.kind == "duration":
        return None
    _, end = line.sentence_span(figure.first)
    for start, stop, role in times:
        if first <= start and stop <= figure.first:
            lows = [token.low for token in line.tokens[stop : figure.first]]
            comma = max((n for n, low in enumerate(lows) if low == ","), default=-1)
            told = set(lows[comma + 1 :]) & _BEEN or (set(lows) & _WRITTEN if comma < 0 else set())
            then = bool(told) and not set(lows) & (_NOW | _ANEW)
        elif figure.last <= start < end and start - figure.last <= _REACH + 2:
            before = {token.low for token in line.tokens[first : figure.first]}
            passed = line.tokens[figure.last : start]
            apart = any(token.kind in ("mark", "number") or token.low in _NOW for token in passed)
            then = bool(before & _BEEN) and not before & _NOW and not apart
        else:
            continue
        if then and not _NOW & {token.low for token in line.tokens[figure.last : figure.last + 3]}:
            return role, line.words(start, stop)
    return None

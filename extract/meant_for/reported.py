"""Figures that are told rather than read: of an earlier visit, of a supposition, of somebody's answer."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.meant_for.papers import turns_color
from extract.words.lexicon import Lexicon
from extract.words.line import Line
from extract.words.text import word_set

_READ_WORDS = word_set("reads read reading strip mine gauge now")
_TODAY = word_set("today tonight now currently")


def supposed(line: Line, found: list[Figure], at: int, first: int, words: Lexicon) -> tuple[str, str] | None:
    """An earlier visit or a supposition named at the head of the clause: `last time this cooler was at
    52`."""
    figure, tokens = found[at], line.tokens
    if _said_of_today(line, figure):
        return None
    i = figure.first - 1
    while i >= first:
        low = tokens[i].low
        if low == "," and (opening := words.roles_before.ending(tokens, i)) and opening[1] == "previous":
            if _made_then(line, first, opening[0]):
                return None  # `pickles made last month, 39`
            return opening[1], line.words(opening[0], i)
        if low in (",", "but", ";") or low in _TODAY or low in _READ_WORDS:
            return None
        if low == "if" and (i == first or tokens[i - 1].low not in ("see", "as", "check", "ask", "asked")):
            return "hypothetical", "if"
        hit = words.roles_before.at(tokens, i)
        if (
            hit is not None
            and hit[1] in ("previous", "label")
            and hit[0] <= figure.first
            and (hit[1] == "previous" or figure.kind != "water_activity")
            and not turns_color(line, hit[1], i)
            and not (hit[1] == "label" and _beside_its_range(line, found, at))
        ):
            return hit[1], line.words(i, hit[0])
        i -= 1
    return None


def on_label(line: Line, figure: Figure) -> bool:
    """`quat 200 on a 150 to 400 label`: a range that a label gives."""
    after = line.tokens[figure.last].low if figure.last < len(line.tokens) else ""
    return figure.range_with is not None and after in ("label", "range") and figure.role == "figure"


_OF_SOLUTIONS = word_set("water ph h temp temperature strip solution")


def _beside_its_range(line: Line, found: list[Figure], at: int) -> bool:
    """`quat 300 label 150 to 400 water 78`: the label's range is told, and something else is named behind."""
    told = [n for n in range(at) if found[n].role == "label"]
    if not told or found[told[-1]].range_with != told[-1] - 1:
        return False
    between = line.tokens[found[at - 1].last : found[at].number.first]
    return any(token.low in _OF_SOLUTIONS for token in between)


def _made_then(line: Line, first: int, end: int) -> bool:
    """Whether a food is named before the time, and right before it what was done to it."""
    food = any(chunk.known_food and first <= chunk.first and chunk.last < end for chunk in line.chunks)
    return (
        food
        and end > first
        and line.classes[end - 1] in ("verbs", "links")
        and line.tokens[end - 1].low not in _READ
    )


_READ = word_set("was were read measured got had showed held ran sat")
_SPEAKERS = frozenset(
    [
        "he",
        "she",
        "they",
        "cook",
        "chef",
        "manager",
        "owner",
        "server",
        "employee",
        "clerk",
        "operator",
        "worker",
        "kid",
        "guy",
        "lady",
    ]
)


def claimed(line: Line, figure: Figure) -> tuple[str, str] | None:
    """`he says 165`: somebody's answer, not a measurement."""
    i = figure.first - 1
    after = [token.low for token in line.tokens[figure.last : figure.last + 2]]
    if after[:1] in (["at"], ["@"]):
        return None
    while (
        i >= 1
        and figure.first - i <= 4
        and line.tokens[i].low in ("it", "was", "is", "'s", "at", "they", "were", "about", "around", "like")
    ):
        i -= 1
    if (
        i >= 1
        and line.tokens[i].low
        in (
            "says",
            "said",
            "answered",
            "told",
            "thinks",
            "knows",
            "knew",
            "guessed",
            "claims",
            "claimed",
            "swears",
            "insists",
        )
        and line.tokens[i - 1].low in _SPEAKERS
    ):
        return "claim", line.words(i - 1, i + 1)
    return None


_MEASURING = _READ_WORDS | frozenset(("i", "got", "get", "getting", "temped", "measured", "actual"))


def told_before(
    line: Line, figure: Figure, first: int, told: list[tuple[int, int, str]]
) -> tuple[str, str] | None:
    """A figure of an earlier report, an answer or a lesson: `asked what temp for burgers, 155`."""
    if _said_of_today(line, figure):
        return None
    for start, end, role in told:
        if first <= start and end <= figure.first:
            between = line.tokens[end : figure.first]
            if _unknown(line, start, end):
                continue
            if line.tokens[end - 1].low in ("keep", "keeps") and any(t.kind == "number" for t in between):
                continue  # `they keep the case at 38 and the meat's 39`: only the first is theirs
            if not any(token.low in _MEASURING or token.low in _TODAY for token in between):
                return role, line.words(start, end)
    return None


_NOBODY = word_set("nobody none not n't never who god heaven lord hardly dunno")


def _unknown(line: Line, start: int, end: int) -> bool:
    """`nobody knows when they came out, 119`: nothing is claimed."""
    knows = line.tokens[end - 1].low in ("know", "knows")
    return knows and any(token.low in _NOBODY for token in line.tokens[max(0, start - 2) : end])


def _said_of_today(line: Line, figure: Figure) -> bool:
    for token in line.tokens[figure.last : figure.last + 3]:
        if token.kind == "mark" or token.low in ("and", "but"):
            return False
        if token.low in _TODAY:
            return True
    return False


_NOT_I = ("did not", "have not", "could not", "can not", "was not able to", "never")
_TEST = word_set(
    "measure measured test tested take taken check checked verify verified probe probed confirm confirmed"
)
_THIS = word_set("this it that these them those myself")


def disclaimed(line: Line, figure: Figure) -> tuple[str, str] | None:
    """`water activity 0.81. I did not measure this myself`: what somebody else measured."""
    end = line.sentence_span(figure.first)[1]
    if end >= len(line.tokens):
        return None
    first, stop = line.sentence_span(end)
    lows = [token.low for token in line.tokens[first:stop] if token.kind == "word"]
    told = " ".join(lows)
    if lows[:1] not in (["i"], ["we"]) or not any(told[2:].lstrip().startswith(words) for words in _NOT_I):
        return None
    tested = next((n for n, low in enumerate(lows) if low in _TEST), None)
    if tested is None or lows[tested + 1 : tested + 2] not in ([], *([low] for low in _THIS)):
        return None
    mine = {token.low for token in line.tokens[line.sentence_span(figure.first)[0] : figure.first]}
    return None if mine & {"i", "mine", "my"} else ("disclaimed", line.words(first, stop))

"""What the print of a line alone shows: figures that nobody says, and words that may have been a number."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise

from capture.speech.agreement import SOUND_LIKE
from capture.speech.line import Line
from capture.speech.numerals import Numeral, numerals
from shared.types import Doubt

_UNITS = frozenset(
    [
        "degree",
        "degrees",
        "inch",
        "inches",
        "foot",
        "feet",
        "ppm",
        "percent",
        "psi",
        "fahrenheit",
        "celsius",
        "compartment",
    ]
)
_ALWAYS_COUNTED = frozenset(
    ["apartment", "compartment", "compartments", "degrees", "inches", "percent", "ppm", "psi"]
)  # what is printed as an apartment is a compartment
_HALF_SURE = 0.5  # a word below this before one of them may have been its number
_HOTTEST = 230
_NO_TEMPERATURE = frozenset(
    ["at", "since", "by", "until", "from", "to", "around", "before", "after", "ppm", "parts", "psi", "lux",
     "pounds", "grams", "am", "pm", "a.m", "p.m", "o'clock", "room", "number", "permit"]
)  # fmt: skip
_SOUND_LIKE_NUMBERS = SOUND_LIKE | {
    "tin": "10", "sex": "6", "nigh": "9", "free": "3", "tree": "3", "fort": "40", "fortune": "14",
    "sick": "6", "sicks": "6", "heaven": "7",
}  # fmt: skip
_ENDS = (("for",), ("for", "you"), ("then",), ("fourth",), ("forth",), ("ford",))
_IS = frozenset(["is", "was", "are", "were", "that's", "it's", "there's"])
_READS = _IS | {"at", "reads", "of"}
_TOO_WHAT = frozenset(
    ["low", "high", "hot", "cold", "warm", "late", "long", "much", "many", "close", "small", "near"]
)  # fmt: skip
_LIKE_ONES = {word: _SOUND_LIKE_NUMBERS[word] for word in ("tree", "sex", "sick", "heaven")} | {
    "hive": "5", "ate": "8", "line": "9", "mine": "9", "wine": "9", "nein": "9", "dine": "9",
}  # fmt: skip
"""Words that sound like the ones of a number whose tens stand before; common practice, no source, but for
`40 line`, which was heard."""
_TIME_UNITS = frozenset(["second", "seconds", "minute", "minutes"])
_LASTS = frozenset(["minutes", "hours", "days", "weeks"])
_TIMES = (("at",), ("since",), ("by",), ("until",), ("before",), ("after",))
_AND = (("and",), ("an",), ("in",), ("on",))  # the `and` of one hundred and seven


def odd_figures(line: Line) -> Iterable[Doubt]:
    """Figures that may be others: `1.69`, `135.915`, `97th`, `100 and 56`, `556`."""
    for number in numerals(line.tokens):
        key = number.key
        if re.fullmatch(r"[123]\.\d\d", key):
            hundred, clock = key.replace(".", ""), key.replace(".", ":")
            why = f"“{key}” may be {hundred}, or the time {clock}"
            yield line.doubt(number, "lost_point", why, (hundred, clock))
        elif match := re.fullmatch(r"(\d{2,3}(?:\.\d)?)[.:]([1-9]|1[0-2])([0-5]\d)", key):
            both = f"{match[1]} at {match[2]}:{match[3]}"
            yield line.doubt(number, "glued_time", f"“{key}” may be {both}", (both,))
        elif any("$" in token for token in line.tokens[number.first : number.last]):
            yield line.doubt(number, "odd_number", f"“{key}” was printed as a price")
        elif re.fullmatch(r"\d{3}\.\d\d", key):  # `152.95` for 152.9 and a word more
            why = f"“{key}” has more places than a thermometer shows; it may be {key[:-1]}"
            yield line.doubt(number, "odd_number", why, (key[:-1],))
        elif not re.fullmatch(r"-?\d+(\.\d+)?|\d{1,2}:\d\d", key):
            figures = re.match(r"(\d+)(?:st|nd|rd|th)$", key)
            others = (figures[1],) if figures else ()
            why = f"“{key}” may be {figures[1]}" if figures else f"“{key}” is no number that anyone says"
            yield line.doubt(number, "odd_number", why, others)
        elif _too_hot(line, number):
            cold, clock = key[-2:], f"{key[0]}:{key[1:]}"
            why = f"“{key}” is hotter than food gets; it may be {cold}, or the time {clock}"
            yield line.doubt(number, "implausible", why, (cold, clock))
    yield from _split(line)


def _split(line: Line) -> Iterable[Doubt]:
    """Two numbers that may be one: `1 69`, `100 and 56`, `150 and 45`, `148 1.8`."""
    numbers = numerals(line.tokens)
    for one, other in pairwise(numbers):
        timed = one is not numbers[0] and line.tokens[one.first - 1] == "at"  # `132 at 110 and 86 at noon`
        between = line.tokens[one.last : other.first]
        whole = Numeral(one.first, other.last, "")
        printed = f"“{' '.join(line.tokens[one.first : other.last])}”"
        joined = ""
        if between in ((), *_AND) and re.fullmatch(r"\d\d?(\.\d\d?)?", other.key):
            if re.fullmatch(r"[1-9]00", one.key):
                joined = f"{float(one.key) + float(other.key):g}"
            elif re.fullmatch(r"1[1-9]0", one.key) and between in (("and",), ("an",)) and not timed:
                joined = f"1{other.key}"
        if between == () and re.fullmatch(r"[1-9]", one.key):
            if re.fullmatch(r"\d{3}(\.\d)?", one.key + other.key):
                joined = one.key + other.key
        elif between == ("or",) and re.fullmatch(r"[1-9]{2}", one.key + other.key):
            if one.key >= other.key or line.tokens[max(0, one.first - 1) : one.first] in _TIMES:
                joined = f"{one.key}0{other.key}"  # `5 or 5` for five oh five
        elif between in _AND and re.fullmatch(r"[1-9]{2}", one.key + other.key):
            if line.probability(one.last, other.first) < _HALF_SURE:  # `1 in 3` for 183
                yield line.doubt(whole, "split_number", f"{printed} may be one number")
        elif between == () and not joined and not _time_after(one, other):
            yield line.doubt(whole, "split_number", f"{printed} may be one number that was heard twice")
        if joined:
            yield line.doubt(whole, "split_number", f"{printed} may be {joined}", (joined,))


def _time_after(one: Numeral, other: Numeral) -> bool:
    """`164.9 520`: the second is too hot for food and reads as a time, and is not the first once more."""
    figures = other.sound
    if not re.fullmatch(r"([1-9]|1[0-2])[0-5][05]", figures) or not (
        ":" in other.key or int(figures) > _HOTTEST
    ):
        return False
    return figures[:2] != one.sound[:2]


def _too_hot(line: Line, number: Numeral) -> bool:
    """A bare figure of three digits that food never reaches, that is not round, and that no word of time or
    other unit is beside."""
    if not re.fullmatch(r"\d{3}", number.key) or int(number.key) <= _HOTTEST or not int(number.key) % 25:
        return False
    near = set(line.tokens[max(0, number.first - 1) : number.first]) | set(
        line.tokens[number.last : number.last + 1]
    )
    return not near & _NO_TEMPERATURE


def vanished(line: Line) -> Iterable[Doubt]:
    """Places where a number may have come out as a word, or as less than a number."""
    for at in range(1, len(line.tokens)):
        doubt = _vanished_before(line, at)
        if doubt:
            yield doubt
    end = next((tail for tail in _ENDS if line.tokens[-len(tail) :] == tail), None)
    if end and len(line.tokens) > len(end):
        last = Numeral(len(line.tokens) - len(end), len(line.tokens), "")
        why = f"“{' '.join(end)}” at the end may be a number such as 4 or 40"
        yield line.doubt(last, "number_vanished", why, ("4", "40"))
    if line.tokens[-1:] in (("2",), ("two",)) and line.tokens[-2:-1] and line.tokens[-2] in _IS:
        last = Numeral(len(line.tokens) - 1, len(line.tokens), "")
        yield line.doubt(last, "number_vanished", "“two” at the end may be “too”, with a word missing")


def _vanished_before(line: Line, at: int) -> Doubt | None:
    """`for inches`, `green compartment`, `since 6th`, `is 40 seconds` (47), `is 2 low`."""
    before, token = line.tokens[at - 1 : at + 1]
    pair = Numeral(at - 1, at + 1, "")
    printed = f"“{before} {token}”"
    leads = line.tokens[at - 2] if at >= 2 else ""
    if before in ("since", "at", "until") and re.fullmatch(r"\d{1,2}th", token):
        return line.doubt(pair, "number_vanished", f"{printed} may have been a time")
    if token in _UNITS and before in _SOUND_LIKE_NUMBERS:
        number = f"{_SOUND_LIKE_NUMBERS[before]} {token}"
        return line.doubt(pair, "number_vanished", f"{printed} may be {number}", (number,))
    if token in _LASTS and before in ("for", "fore"):
        return line.doubt(pair, "number_vanished", f"{printed} may be 4 {token}", (f"4 {token}",))
    if before == "minus" and not _numbered(line.tokens, at):
        return line.doubt(pair, "number_vanished", f"{printed} may have been a number below zero")
    if token in ("point", "points") and any(number.last == at for number in numerals(line.tokens)):
        return line.doubt(pair, "number_vanished", f"{printed} may lack its tenths")
    if (doubt := _hundred_and(line, at)) is not None:
        return doubt
    unsure = line.probability(at - 1, at) < _HALF_SURE
    if token in _ALWAYS_COUNTED and unsure and not _numbered(line.tokens, at - 1):
        return line.doubt(pair, "number_vanished", f"“{before}” before “{token}” may have been a number")
    if token in _TIME_UNITS and leads in _READS and re.fullmatch(r"1?[2-9]0", before):
        why = f"{printed} may be one number, such as {before[:-1]}7 or {before[:-1]}9"
        return line.doubt(pair, "number_vanished", why, (before[:-1] + "7", before[:-1] + "9"))
    joined = line.words[line.owners[at - 1]].text.strip()[-1:].isalnum()
    if token in _LIKE_ONES and joined and re.fullmatch(r"1?[2-9]0", before):
        whole = f"{before[:-1]}{_LIKE_ONES[token]}"
        return line.doubt(pair, "number_vanished", f"{printed} may be {whole}", (whole,))
    if before in ("2", "two", "to") and leads in _IS and token in _TOO_WHAT:
        return line.doubt(pair, "number_vanished", f"{printed} may be “too {token}”")
    return None


def _hundred_and(line: Line, at: int) -> Doubt | None:
    """`100 and set`: what follows may have been the rest of the number."""
    if at < 2 or not re.fullmatch("[1-9]00", line.tokens[at - 2]) or (line.tokens[at - 1],) not in _AND:
        return None
    ends = at + 1 == len(line.tokens)
    if _numbered(line.tokens, at) or not (ends or line.probability(at, at + 1) < _HALF_SURE):
        return None
    whole = Numeral(at - 2, at + 1, "")
    printed = " ".join(line.tokens[at - 2 : at + 1])
    return line.doubt(
        whole, "number_vanished", f"“{printed}” may be one number, such as {line.tokens[at - 2][0]}07"
    )


def _numbered(tokens: Sequence[str], at: int) -> bool:
    return any(number.first <= at < number.last for number in numerals(tokens))

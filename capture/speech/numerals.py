"""Numbers in a line of words, in a form in which two hearings of the same sound can be compared.

Only what comparing needs: `forty eight point five` and `48.5` are the same, and so are the ways in which one
sound gets printed (`one thirty five`: 135, 1.35, 1:35). What a number means is the business of `extract`.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

_NAMES = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)  # fmt: skip
_ONES = {name: number for number, name in enumerate(_NAMES)}
_TENS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60, "seventy": 70,
    "eighty": 80, "ninety": 90,
}  # fmt: skip
_OH = {"oh", "o"}
_FRACTIONS = {"half": "5", "quarter": "25"}
_PRINTED = re.compile(
    r"^[-−]?\$?(\d[\d,]*(?:[.:]\d+)?|\.\d+)(?:°?[fc]|°|%|ppm|psi|[ap]\.?m)?$", re.IGNORECASE
)
_ORDINAL = re.compile(r"^(\d+)(?:st|nd|rd|th)$")
_LAST_OF_MONTH = 31  # a greater ordinal is a number that was heard wrong: `drops to 97th`
_LAST_HOUR = 24
_MINUS = ("minus", "negative")
_LONE_ONE_BEFORE = {"degree", "degrees", "inch", "foot", "hour", "part", "day", "minute", "percent", "point"}


@dataclass(frozen=True, slots=True)
class Numeral:
    """A number in a line of words."""

    first: int
    last: int
    """The words `first` to `last`, half-open."""
    key: str
    """Its figures as printed: `48.5`, `-4`, `9:15`, `135.915`."""

    @property
    def sound(self) -> str:
        """The same for all printings of one sound: `1.35`, `1:35` and `135` are all `135`."""
        return sound(self.key)

    @property
    def value(self) -> float | None:
        """As a plain number; None for a clock time."""
        try:
            return float(self.key)
        except ValueError:
            return None


def sound(key: str) -> str:
    """A key without the marks that a spoken number lacks: those of a time, or of a misread hundred."""
    key = re.sub(r"^[a-z]+(?=\d+$)", "", key)  # `ziti 162` printed as `zd162`
    tenths = re.fullmatch(r"(\d{2,3})\.(\d?)0", key)
    if tenths and int(tenths[1]) > _LAST_HOUR:
        return tenths[1] + (f".{tenths[2]}" if tenths[2].strip("0") else "")  # `86.40` for 86.4, no time
    match = re.fullmatch(r"(\d{1,2})[.:](\d\d)", key)
    if match:
        return match[1] + match[2] if match[2] != "00" else match[1]
    return key


def tokens(text: str) -> list[str]:
    """The words in lower case, without punctuation around them; hyphens split."""
    found: list[str] = []
    for word in text.lower().replace("−", "-").split():
        found.extend(parts(word))
    return found


def parts(word: str) -> list[str]:
    """What one printed word counts as: `forty-eight` two, `48.5` one, `,` none."""
    bare = word.lower().replace("’", "'").strip(".,;:!?\"'()[]…“”")
    if _PRINTED.match(bare):
        return [bare]
    return [part for part in re.split(r"[-–—/]", bare) if part]


def numerals(line: Sequence[str]) -> list[Numeral]:
    """The numbers of a line of tokens, in order."""
    line = list(line)  # slices of it are compared with lists
    found: list[Numeral] = []
    at = 0
    while at < len(line):
        numeral = _at(line, at)
        if numeral is None:
            at += 1
            continue
        found.append(_signed(line, numeral))
        at = numeral.last
    return found


def _signed(line: Sequence[str], numeral: Numeral) -> Numeral:
    if numeral.first and line[numeral.first - 1] in _MINUS:
        return Numeral(numeral.first - 1, numeral.last, "-" + numeral.key.lstrip("-"))
    return numeral


def _at(line: Sequence[str], at: int) -> Numeral | None:
    match = _PRINTED.match(line[at])
    if match:
        sign = "-" if line[at][0] == "-" else ""
        figures = match[1].replace(",", "." if _lost_point(match[1]) else "")
        return _with_fraction(line, at, at + 1, sign + _plain(figures))
    if (ordinal := _ORDINAL.match(line[at])) and int(ordinal[1]) <= _LAST_OF_MONTH:
        return None
    if any(character.isdigit() for character in line[at]):
        return Numeral(at, at + 1, line[at])  # `17.1.5`, `4k`: figures that are no number anyone says
    return _spoken(line, at)


def _lost_point(figures: str) -> bool:
    """`1,69`: a comma that groups nothing."""
    return bool(re.fullmatch(r"\d,\d\d?", figures))


def _plain(figures: str) -> str:
    """`040.50` as `40.5`; a clock time as it is."""
    if ":" in figures:
        hour, _, minute = figures.partition(":")
        return f"{int(hour)}:{minute}"
    whole, point, rest = figures.partition(".")
    whole = str(int(whole or "0"))
    return f"{whole}.{rest}" if point and rest else whole


def _with_fraction(line: Sequence[str], first: int, last: int, key: str) -> Numeral:
    """Takes in `point five` and `and a half` after a whole number."""
    rest = line[last : last + 3]
    if rest[:1] == ["point"] and "." not in key:
        digits = ""
        end = last + 1
        while end < len(line) and len(digits) < 3 and (digit := _digit(line[end])) is not None:
            digits, end = digits + digit, end + 1
        if digits:
            return Numeral(first, end, f"{key}.{digits}")
    if len(rest) == 3 and rest[:2] == ["and", "a"] and rest[2] in _FRACTIONS and "." not in key:
        return Numeral(first, last + 3, f"{key}.{_FRACTIONS[rest[2]]}")
    return Numeral(first, last, key)


def _digit(word: str) -> str | None:
    if len(word) == 1 and word.isdigit():
        return word
    if word in _OH:
        return "0"
    return str(_ONES[word]) if _ONES.get(word, 10) < 10 else None


def _below_hundred(line: Sequence[str], at: int) -> tuple[int, int] | None:
    """Value and end of `five`, `fifteen`, `fifty`, `fifty five`."""
    if at >= len(line):
        return None
    if line[at] in _ONES:
        return _ONES[line[at]], at + 1
    if line[at] in _TENS:
        value = _TENS[line[at]]
        if at + 1 < len(line) and 0 < _ONES.get(line[at + 1], 0) < 10:
            return value + _ONES[line[at + 1]], at + 2
        return value, at + 1
    return None


def _spoken(line: Sequence[str], at: int) -> Numeral | None:
    if line[at] == "a" and line[at + 1 : at + 2] == ["hundred"]:
        head: tuple[int, int] | None = (1, at + 1)
    else:
        head = _below_hundred(line, at)
    if head is None:
        return _half(line, at)
    value, end = head
    following = line[end : end + 1]
    if following == ["hundred"]:
        value, end = value * 100, end + 1
        rest = _below_hundred(line, end + 1 if line[end : end + 1] == ["and"] else end)
        if rest:
            value, end = value + rest[0], rest[1]
        return _with_fraction(line, at, end, str(value))
    if following and following[0] in _OH:
        digit = _below_hundred(line, end + 1)
        if digit and digit[0] < 10:
            return _with_fraction(line, at, digit[1], f"{value}0{digit[0]}")
    rest = _below_hundred(line, end)
    if rest and rest[0] >= 10 and value <= 12 and rest[1] - end <= 2:  # one thirty five, nine fifteen
        return _with_fraction(line, at, rest[1], f"{value}{rest[0]}")
    if value == 1 and following and re.fullmatch(r"[1-9]\d(\.\d\d?)?", following[0]):  # `one 30`
        return _with_fraction(line, at, end + 1, f"1{following[0]}")
    if value == 1 and line[at] == "one" and end == at + 1:
        below_zero = at > 0 and line[at - 1] in _MINUS
        if not below_zero and not set(following) & _LONE_ONE_BEFORE:
            return None  # "that one"
    return _with_fraction(line, at, end, str(value))


def _half(line: Sequence[str], at: int) -> Numeral | None:
    if line[at] in _FRACTIONS and line[at + 1 : at + 3] in (["an", "inch"], ["a", "degree"], ["an", "hour"]):
        return Numeral(at, at + 1, f"0.{_FRACTIONS[line[at]]}")
    if line[at] == "point" and at + 1 < len(line) and (digit := _digit(line[at + 1])) is not None:
        return Numeral(at, at + 2, f"0.{digit}")
    return None

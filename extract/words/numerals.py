"""The words and signs that numbers are made of, and what a number of an utterance is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from extract.words.text import Token, word_set

SMALL = {
    "zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9,
}  # fmt: skip
FEW = {name: n for name, n in SMALL.items() if 2 <= n <= 6}
"""How many things are told together: `all three`, `same four`."""
TEENS = {
    "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16,
    "seventeen": 17, "eighteen": 18, "nineteen": 19,
}  # fmt: skip
TENS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60, "seventy": 70,
    "eighty": 80, "ninety": 90,
}  # fmt: skip
PARTS = {
    "half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fourths": 4, "fifths": 5,
    "eighth": 8, "eighths": 8, "sixteenth": 16, "sixteenths": 16, "tenth": 10, "tenths": 10,
}  # fmt: skip
SIGNS = {
    "½": 1 / 2,
    "¼": 1 / 4,
    "¾": 3 / 4,
    "⅓": 1 / 3,
    "⅔": 2 / 3,
    "⅛": 1 / 8,
    "⅜": 3 / 8,
    "⅝": 5 / 8,
    "⅞": 7 / 8,
}
PIPES = word_set("pipe line hose tube tubing inlet spout")
"""What is told by its width in inches, mostly without a word for them."""
OH = frozenset({"oh", "o"})
DECIMAL = ("point", "dot")
ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth")
MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september", "october",
    "november", "december",
)  # fmt: skip
BEFORE_ONE = word_set(
    """drawer cooler freezer door bay unit well shelf station warmer room case rack cabinet bar kitchen
    restroom bathroom prep table window in walk-in reach-in bucket pan tray cart stall sink this
    that other next last first second third each another blue red white black green yellow gray grey
    big small large little left right top bottom upper lower middle old new front back hanging
    inside outside thick thin fat tall short deep hot cold warm cool fresh raw cooked plain dark
    light thinner thicker bigger smaller larger colder warmer hotter closer nearer deeper higher
    lower"""
)
"""Places that are numbered, and words before `one` as a pronoun: it is no part of a printed figure then."""

_COLD_OR_PROBES = word_set(
    """cooler coolers fridge fridges refrigerator refrigerators freezer freezers drawer drawers lowboy probe
    probes thermometer thermometers dial pen"""
)
"""What is numbered and never reads a hundred and more."""
_SEVERAL = word_set(
    """carrier cart tank flume basket can pail box tray pan rack tote kettle pot vat crock tub bin bay machine
    unit line station table room window truck trailer booth batch lot oven grill warmer cabinet case well
    bucket sink kiosk stand hopper chiller smoker pit display door shelf bottle jar container insert"""
)
"""Things of which there are several by number, and no foods: `chicken 1 65` is hot."""
_FEW = frozenset("1234")
_AS_DIGIT = {"one": "1", "two": "2", "three": "3", "four": "4"}


def numbered(line: Sequence[Token], i: int) -> bool:
    """Whether the one digit at `i`, with a figure behind it, is the number of a thing: `probe one 32.5`, or,
    as another of its kind is told too, `carrier 1 41, carrier 2 36`."""
    if not i or i + 1 >= len(line) or line[i + 1].kind != "number":
        return False
    name = line[i - 1].low
    heated = i > 1 and line[i - 2].low in ("hot", "warm", "warming", "heated", "steam")
    cold = (name in _COLD_OR_PROBES and not heated) or (
        name == "in" and i > 1 and line[i - 2].low in ("walk", "reach")
    )
    return (cold and _digit(line[i]) in _FEW) or (name in _SEVERAL and one_of_several(line, i))


def one_of_several(line: Sequence[Token], i: int) -> bool:
    """`carrier one` where `carrier two` is told too."""
    digit = _digit(line[i])
    if not i or digit not in _FEW:
        return False
    name = line[i - 1]
    if name.kind != "word" or len(name.low) < 3 or name.low in _MEASURES:
        return False
    return any(
        one.stem == name.stem and _digit(other) in _FEW and _digit(other) != digit
        for one, other in pairwise(line)
        if one is not name
    )


def _digit(token: Token) -> str:
    return _AS_DIGIT.get(token.low, token.low)


_MEASURES = word_set("reads read reading shows showing says was and are the hit hits got get makes made for")


@dataclass(frozen=True, slots=True)
class Number:
    """One number: the tokens `first` to `last` (half-open) and what they mean."""

    first: int
    last: int
    value: float
    alternatives: tuple[float, ...] = ()
    """Other values the words could mean, most likely first."""
    codes: tuple[str, ...] = ()
    """What makes it doubtful: `split_number`, `lost_point`, `glued_time`."""
    clock: tuple[int, int] | None = None
    """Hour and minute if it can be a time of day."""
    glued: tuple[int, int] | None = None
    """Hour and minute printed into the same figure: 135.915 is 135 at 9:15."""
    sure_clock: bool = False
    needs_unit: bool = False
    """A `half`, a `quarter` or an `a`: a number only where a unit follows."""
    date: bool = False
    words: bool = False
    """Said in words rather than printed in digits."""
    decimals: int = 0
    lone_one: bool = False
    """The word `one` alone, which is mostly no number."""
    halved: bool = False
    """It has a fraction, as in `12 and a half`."""


def part_of_inch(line: Sequence[Token], i: int) -> bool:
    """`quarter` in `three quarter inch` and `three quarter line`, `quarters` in `3 quarters of an inch`."""
    low = line[i].low
    if low in ("quarters", "thirds", "eighths", "sixteenths"):
        return True
    after = line[i + 1].low if i + 1 < len(line) else ""
    parts = low in ("quarter", "third", "eighth", "sixteenth")
    return parts and (after in ("inch", "hour", "hours") or after in PIPES)

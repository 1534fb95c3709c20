"""Numbers as people say them and as a speech model prints them: `numbers(tokens)` gives every one of an
utterance with what it most likely means, what else it could mean and why; not what it measures.
"""

from __future__ import annotations

import re
from dataclasses import replace

from extract.figures.in_pieces import DIGITS, TENS_SAID, ends, single_digits, split_print
from extract.figures.printed_times import clock_of, colon, hour_minute, split_time
from extract.figures.tenths import with_tenths
from extract.words.numerals import (
    BEFORE_ONE,
    DECIMAL,
    OH,
    ORDINALS,
    PARTS,
    SIGNS,
    SMALL,
    TEENS,
    TENS,
    Number,
    numbered,
    part_of_inch,
)
from extract.words.text import Token, word_set

_STARTS = frozenset((*SMALL, *TEENS, *TENS, "hundred", "half", "quarter", "a", "an", "point"))

_GROUPED = re.compile(r"-?\d{1,3}(?:,\d{3})+(?:\.\d+)?$")
_PLAIN = re.compile(r"-?\d*\.?\d+$")


def numbers(line: list[Token]) -> list[Number]:
    """All numbers of the tokens, in order, none overlapping."""
    found: list[Number] = []
    i, size = 0, len(line)
    while i < size:
        token = line[i]
        number = None
        if token.kind == "number":
            number = _printed(line, i)
        elif token.low in _STARTS:
            number = _spoken(line, i)
        if number is None:
            i += 1
            continue
        number = _signed(line, number)
        found.append(number)
        i = number.last
    return with_tenths(line, found)


def _signed(line: list[Token], number: Number) -> Number:
    first, last, value = number.first, number.last, number.value
    if first and line[first - 1].low in ("minus", "negative"):
        first, value = first - 1, -value
    elif last < len(line) and line[last].low == "below" and _below_zero(line, last):
        value = -value
        last += 2 if last + 1 < len(line) and line[last + 1].low == "zero" else 1
    else:
        return number
    return replace(number, first=first, last=last, value=value, clock=None, alternatives=(), codes=())


def _below_zero(line: list[Token], at: int) -> bool:
    after = line[at + 1] if at + 1 < len(line) else None
    return after is None or after.low == "zero" or after.kind == "mark"


# ---------------------------------------------------------------- digits


def _printed(line: list[Token], i: int) -> Number | None:
    text = line[i].low
    if text in SIGNS:
        return Number(i, i + 1, SIGNS[text], needs_unit=True, halved=True)
    if i + 1 < len(line) and _ordinal(line, i):
        return None
    if ":" in text:
        return colon(text, i)
    if "/" in text:
        return _slash(text, i)
    if "," in text and not _GROUPED.match(text):
        whole, _, rest = text.partition(",")
        if rest.isdigit() and len(rest) <= 2:
            return Number(
                i, i + 1, float(f"{whole}.{rest}"), codes=("lost_point",), alternatives=(float(whole),)
            )
        return None
    text = text.replace(",", "")
    if text.count(".") > 1 or not _PLAIN.match(text) or len(text) > 12:
        return None
    value = float(text)
    decimals = len(text.partition(".")[2])
    number = _decimal(text, i, value, decimals) if decimals else _whole(line, text, i, value)
    return _with_fraction(line, number)


def _ordinal(line: list[Token], i: int) -> bool:
    return line[i + 1].low in ("st", "nd", "rd", "th") and line[i + 1].start == line[i].end


def _slash(text: str, i: int) -> Number | None:
    parts = [part for part in text.split("/") if part]
    if len(parts) == 2 and all(part.isdigit() for part in parts):
        top, bottom = int(parts[0]), int(parts[1])
        if bottom in (2, 3, 4, 8, 16) and 0 < top < bottom:
            return Number(i, i + 1, top / bottom, needs_unit=True, halved=True)
    return Number(i, i + 1, 0.0, date=True) if all(part.isdigit() for part in parts) else None


def _decimal(text: str, i: int, value: float, decimals: int) -> Number:
    whole, _, rest = text.lstrip("-").partition(".")
    clock = hour_minute(int(whole or "0"), rest) if decimals == 2 else None
    if decimals >= 3 and whole and (glued := clock_of(int(rest))) is not None and len(whole) >= 2:
        return Number(
            i,
            i + 1,
            float(whole),
            alternatives=(value,),
            codes=("glued_time",),
            glued=glued,
            decimals=decimals,
        )
    if decimals == 2 and len(whole) == 1 and whole in "123":
        joined = int(whole) * 100.0 + int(rest)
        return Number(i, i + 1, value, alternatives=(joined,), codes=("lost_point",), clock=clock, decimals=2)
    return Number(i, i + 1, value, clock=clock, decimals=decimals)


def _whole(line: list[Token], text: str, i: int, value: float) -> Number:
    after = line[i + 1] if i + 1 < len(line) else None
    if (
        after is not None
        and after.kind == "number"
        and text.isdigit()
        and line[i + 1].start - line[i].end == 1
    ):
        rest = after.low
        if numbered(line, i):
            return Number(i, i + 1, value)
        if (timed := split_time(line, i)) is not None:
            return timed
        if text in DIGITS and text != "0" and (single := single_digits(line, i)) is not None:
            return single
        if (
            text == "1" or (text in "234" and ((text == "2" and _told(line, i)) or float(rest) <= 25))
        ) and re.fullmatch(r"\d\d(?:\.\d)?", rest):
            joined = int(text) * 100 + float(rest)
            clock = (int(text), int(rest)) if rest.isdigit() and int(rest) < 60 else None
            return Number(i, i + 2, joined, alternatives=(float(rest),), codes=("split_number",), clock=clock)
    if text == "1" and (half := _half_spelled(line, i)) is not None:
        return half
    if text in TENS_SAID and after is not None and after.low in SMALL:
        single = single_digits(line, i)
        if single is not None:
            return single  # `4 one`
    if after is not None and after.low == "hundred" and value < 100:
        return _after_hundred(line, i, i + 1, value, words=False)
    if after is not None and after.low in OH and value < 24 and i + 2 < len(line):
        last = line[i + 2]
        digit = SMALL.get(last.low, int(last.low) if last.kind == "number" and len(last.low) == 1 else -1)
        if digit >= 0:
            return Number(i, i + 3, value * 100 + digit, clock=clock_of(int(value * 100 + digit)))
    if after is not None and after.low in DECIMAL and i + 2 < len(line):
        return _after_point(line, i, i + 1, value, words=False)
    if text.startswith("-"):
        return Number(i, i + 1, value)
    if after is not None and value < 16 and part_of_inch(line, i + 1):
        return Number(i, i + 2, value / PARTS[after.low], needs_unit=True, halved=True)
    if (split := split_print(line, i)) is not None:
        return split
    whole = int(value)
    clock = (
        (whole, 0)
        if 1 <= whole <= 12 and len(text) <= 2
        else clock_of(whole)
        if len(text) in (3, 4)
        else None
    )
    return Number(i, i + 1, value, clock=clock)


def _half_spelled(line: list[Token], i: int) -> Number | None:
    """`1 forty one`: a hundred printed as its digit and the rest in words."""
    group = _under_hundred(line, i + 1)
    if group is None or group[0] < 10:
        return None
    joined = 100 + group[0]
    return Number(
        i, group[1], float(joined), alternatives=(float(group[0]),), codes=("split_number",),
        clock=clock_of(joined),
    )  # fmt: skip


_MOST = re.compile(r"(?!chest|harvest)[a-z]{3,}(?<![aeo])est")
"""`warmest`, `thickest`: no `chest` and no `harvest`."""


def _told(line: list[Token], i: int) -> bool:
    """A word of measuring stands right before: `rinse reads 2 03`, and not `cooler 2 38`."""
    return i > 0 and line[i - 1].low in ("at", "reads", "read", "is", "'s", "hit", "was", "says", "shows")


# ---------------------------------------------------------------- words


_POINTS = word_set("set ice freezing boiling melting check dew critical control to the this that one at")
"""`set point 37`: a point that is no decimal one."""


def _zero_hours(line: list[Token], i: int) -> Number | None:
    """`zero six hundred`, `zero six thirty`: a time by 24 hours."""
    hour = SMALL.get(line[i + 1].low, 0) if i + 1 < len(line) else 0
    after = line[i + 2].low if i + 2 < len(line) else ""
    if hour and after == "hundred":
        return Number(i, i + 3, hour * 100.0, clock=(hour, 0), sure_clock=True, words=True)
    minutes = _under_hundred(line, i + 2) if hour and (after in TENS or after in TEENS) else None
    if minutes is None or minutes[0] > 59:
        return None
    clock = (hour, minutes[0])
    return Number(i, minutes[1], hour * 100.0 + minutes[0], clock=clock, sure_clock=True, words=True)


def _enumerates(line: list[Token], i: int) -> bool:
    """`Point four, date labels`: a sentence that begins with its number in a list, of one digit or word."""
    begins = not i or (line[i - 1].kind == "mark" and line[i - 1].low != ",")
    after = line[i + 1] if i + 1 < len(line) else None
    closed = i + 2 >= len(line) or line[i + 2].kind == "mark"
    return begins and closed and after is not None and (after.low in SMALL or len(after.low) == 1)


def _spoken(line: list[Token], i: int) -> Number | None:
    low = line[i].low
    after = line[i + 1].low if i + 1 < len(line) else ""
    if low == "point" and i and line[i - 1].low in _POINTS:
        return None
    if low == "point" and _enumerates(line, i):
        return None  # `Point 5. Light at the board 26`
    if low == "point":
        number = _after_point(line, i, i, 0, words=True)
        return number if number.last > i + 1 and number.value > 0 else None
    if low == "zero" and (hours := _zero_hours(line, i)) is not None:
        return hours
    if low in ("half", "quarter"):
        return Number(i, i + 1, 1 / PARTS[low], needs_unit=True, words=True, halved=True)
    if low in ("a", "an"):
        if after == "hundred":
            return _with_fraction(line, _after_hundred(line, i, i + 1, 1, words=True))
        if after == "thousand":
            return Number(i, i + 2, 1000.0, words=True)
        if after == "buck" and (rest := _under_hundred(line, i + 2)) is not None and rest[0] >= 10:
            return Number(i, rest[1], 100.0 + rest[0], words=True)  # `a buck forty-two`
        if after in ("half", "quarter", "third", "eighth"):
            return Number(i, i + 2, 1 / PARTS[after], needs_unit=True, words=True, halved=True)
        return None
    if low == "hundred":
        return _with_fraction(line, _after_hundred(line, i, i, 1, words=True))
    under = _under_hundred(line, i)
    if under is None:
        return None
    value, last = under
    follows = line[last].low if last < len(line) else ""
    if follows == "hundred":
        return _with_fraction(line, _after_hundred(line, i, last, value, words=True))
    if follows == "thousand":
        return Number(i, last + 1, value * 1000.0, words=True)
    if follows in PARTS and follows not in ("half", "third", "quarter", "eighth", "tenth") and value < 16:
        return Number(i, last + 1, value / PARTS[follows], needs_unit=True, words=True, halved=True)
    if value < 16 and follows in ("quarter", "third", "eighth", "sixteenth") and part_of_inch(line, last):
        return Number(i, last + 1, value / PARTS[follows], needs_unit=True, words=True, halved=True)
    if value == 1 and follows in ("half", "quarter", "third", "eighth"):
        return Number(i, last + 1, 1 / PARTS[follows], needs_unit=True, words=True, halved=True)
    return _with_fraction(line, _grouped_words(line, i, last, value))


def _under_hundred(line: list[Token], i: int) -> tuple[int, int] | None:
    """Value and end of a number word group under one hundred at `i`."""
    if i >= len(line):
        return None
    low = line[i].low
    if low in SMALL:
        return SMALL[low], i + 1
    if low in TEENS:
        return TEENS[low], i + 1
    if low in TENS:
        after = line[i + 1] if i + 1 < len(line) else None
        if after is not None and after.low in ORDINALS and i and line[i - 1].low == "the":
            return None  # `by the thirty first`
        if after is not None and after.low in SMALL and after.low != "zero":
            return TENS[low] + SMALL[after.low], i + 2
        if after is not None and after.low in DIGITS and after.low != "0" and ends(line, i + 2):
            return TENS[low] + int(after.low), i + 2
        return TENS[low], i + 1
    return None


def _grouped_words(line: list[Token], first: int, last: int, value: int) -> Number:
    """Groups said one after the other: `one thirty five`, `one oh four`, `nine fifteen`, `five zero`."""
    after = line[last] if last < len(line) else None
    if after is None:
        return _plain_words(first, last, value, line)
    if after.low in DECIMAL:
        return _after_point(line, first, last, value, words=True)
    if after.low in OH and value < 24 and value > 0:
        digit = SMALL.get(line[last + 1].low) if last + 1 < len(line) else None
        if digit is not None:
            whole = value * 100 + digit
            return Number(first, last + 2, float(whole), clock=clock_of(whole), words=True)
        if 1 < value < 10 and ends(line, last + 1):
            return Number(first, last + 1, value * 10.0, words=True)  # `five oh`
    before = line[first - 1].low if first else ""
    alone = last - first == 1 and numbered(line, first)
    if after.kind == "number" and value < 10 and (alone or before in BEFORE_ONE or _MOST.fullmatch(before)):
        return _plain_words(first, last, value, line)  # `drawer two 42`, `warmest one 76`
    if after.kind == "number" and value < 10 and re.fullmatch(r"\d\d(?:\.\d)?", after.low) and value > 0:
        return Number(
            first, last + 1, value * 100 + float(after.low), alternatives=(float(after.low),),
            codes=("split_number",), words=True,
        )  # fmt: skip
    if after.kind == "number" and 10 <= value <= 12 and re.fullmatch(r"[0-5]\d", after.low):
        minute = int(after.low)  # `ten 30`
        return Number(first, last + 1, value * 100.0 + minute, clock=(value, minute), words=True)
    single = value < 10 and last - first == 1
    if single and after.low in SMALL:
        return _digit_by_digit(line, first)
    if 10 <= value <= 19 and after.low in SMALL and after.low != "zero" and ends(line, last + 1):
        joined = value * 10.0 + SMALL[after.low]  # `thirteen nine`
        return Number(
            first, last + 1, joined, alternatives=(float(value),), codes=("split_number",), words=True
        )
    group = _under_hundred(line, last)
    if group is not None and group[0] >= 10 and 0 < value < 24 and (single or value >= 10):
        whole = value * 100 + group[0]
        clock = clock_of(whole)
        if value < 10 or clock is not None:
            number = Number(first, group[1], float(whole), clock=clock, words=True)
            if group[1] < len(line) and line[group[1]].low in DECIMAL:
                return _after_point(line, first, group[1], whole, words=True)
            return number
    return _plain_words(first, last, value, line)


def _plain_words(first: int, last: int, value: int, line: list[Token]) -> Number:
    clock = (value, 0) if 1 <= value <= 12 else None
    return Number(first, last, float(value), clock=clock, words=True, lone_one=line[first].low == "one")


def _digit_by_digit(line: list[Token], first: int) -> Number:
    i, digits = first, ""
    while i < len(line) and (line[i].low in SMALL or (digits and line[i].low in OH)) and len(digits) < 4:
        digits += str(SMALL.get(line[i].low, 0))
        i += 1
    if i < len(line) and (line[i].low in TENS or line[i].low in TEENS) and len(digits) > 1:
        # `one one forty`: the last digit opens a group of its own
        i, digits = i - 1, digits[:-1]
    number = Number(first, i, float(digits), words=True, clock=clock_of(int(digits)), lone_one=digits == "1")
    if i < len(line) and line[i].low in DECIMAL:
        return _after_point(line, first, i, int(digits), words=True)
    return number


def _after_hundred(line: list[Token], first: int, at: int, value: float, *, words: bool) -> Number:
    last = at + 1
    whole = value * 100
    group_at = last + 1 if last < len(line) and line[last].low == "and" else last
    if group_at < len(line):
        token = line[group_at]
        if token.kind == "number" and re.fullmatch(r"\d{1,2}(?:\.\d)?", token.low):
            return Number(first, group_at + 1, whole + float(token.low), words=words)
        group = _under_hundred(line, group_at)
        if group is not None:
            whole, last = whole + group[0], group[1]
    if last < len(line) and line[last].low in DECIMAL:
        return _after_point(line, first, last, whole, words=words)
    hour = int(value) if last == at + 1 and 13 <= value <= 23 else 0  # `at 16 hundred`
    return Number(first, last, whole, words=words, clock=(hour, 0) if hour else None)


def _after_point(line: list[Token], first: int, at: int, value: float, *, words: bool) -> Number:
    i, digits = at + 1, ""
    while i < len(line) and line[i].low in (SMALL.keys() | OH) and len(digits) < 3:
        digits += str(SMALL.get(line[i].low, 0))
        i += 1
    if not digits and i < len(line):
        token = line[i]
        if token.kind == "number" and token.low.isdigit() and len(token.low) <= 3:
            digits, i = token.low, i + 1
        elif (group := _under_hundred(line, i)) is not None:
            digits, i = str(group[0]), group[1]
    if not digits:
        return Number(first, max(at, first + 1), value, words=words)
    return Number(first, i, float(f"{value:.0f}.{digits}"), words=words, decimals=len(digits))


def _with_fraction(line: list[Token], number: Number) -> Number:
    """`12 and a half`, `7 1/2`, `4 ½`: the number with the fraction that follows it."""
    i = number.last
    if i >= len(line) or number.decimals or number.needs_unit:
        return number
    token = line[i]
    if token.low in SIGNS or (
        token.kind == "number" and "/" in token.low and token.start - line[i - 1].end == 1
    ):
        part = _printed(line, i)
        if part is not None and part.needs_unit:
            return replace(number, last=i + 1, value=number.value + part.value, clock=None, halved=True)
    if token.low != "and" or i + 1 >= len(line):
        return number
    part = _spoken(line, i + 1) if line[i + 1].low in _STARTS else None
    if part is None and line[i + 1].kind == "number":
        part = _printed(line, i + 1)
    if part is not None and part.needs_unit:
        return replace(
            number, last=part.last, value=number.value + part.value, clock=None, lone_one=False, halved=True
        )
    return number

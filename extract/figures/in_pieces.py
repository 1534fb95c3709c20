"""Figures that a speech model prints in pieces: `13 5`, `1-35`, `4 3`, `4 one`."""

from __future__ import annotations

import re

from extract.figures.printed_times import clock_of
from extract.words.numerals import SMALL, Number
from extract.words.text import Token

DIGITS = frozenset("0123456789")
_HYPHENS = frozenset("-‐‑")


def split_print(line: list[Token], i: int) -> Number | None:
    """`13 5`, `140 1`, `100 35`, `1-35`: one figure printed in two pieces, closed by a mark or the end."""
    one = line[i]
    if i + 2 < len(line) and line[i + 1].low in _HYPHENS and line[i + 2].kind == "number":
        rest = line[i + 2].low
        if i + 4 < len(line) and line[i + 3].low in _HYPHENS and {one.low, rest, line[i + 4].low} <= DIGITS:
            spelled = float(one.low + rest + line[i + 4].low)
            return Number(i, i + 5, spelled, codes=("split_number",))
        if one.low in ("1", "2") and re.fullmatch(r"\d\d", rest) and line[i + 2].start - one.end == 1:
            joined = int(one.low) * 100.0 + int(rest)
            return Number(
                i,
                i + 3,
                joined,
                alternatives=(float(rest),),
                codes=("split_number",),
                clock=clock_of(int(joined)),
            )
        return None
    if i + 1 >= len(line) or line[i + 1].start - one.end != 1:
        return None
    rest = str(SMALL.get(line[i + 1].low, "")) if line[i + 1].kind == "word" else line[i + 1].low
    after = line[i + 2] if i + 2 < len(line) else None
    closed = after is None or after.kind == "mark" or after.low in CLOSERS
    if not closed or not one.low.isdigit() or not rest.isdigit():
        return None
    round_tens = len(rest) == 1 and rest != "0" and re.fullmatch(r"[2-9]0|1[1-9]0", one.low)
    if round_tens or (one.low == "100" and len(rest) == 2):
        value = float(one.low) + int(rest)
    elif len(one.low) == 2 and len(rest) == 1 and 10 <= int(one.low) <= 21 and one.low != "20":
        value = float(one.low + rest)
    else:
        return None
    return Number(
        i, i + 2, value, alternatives=(float(one.low), float(one.low + rest)), codes=("split_number",)
    )


CLOSERS = frozenset(
    ("at", "degrees", "and", "but", "in", "on", "so", "f", "c", "celsius", "fahrenheit", "now", "for")
)


TENS_SAID = frozenset("23456789")


def single_digits(line: list[Token], i: int) -> Number | None:
    """`4 3`, `1 4 1`: a figure printed digit by digit, closed by a mark or the end."""
    j, digits = i, ""
    while j < len(line) and line[j].low in DIGITS and len(digits) < 4:
        digits += line[j].low
        j += 1
    if digits in TENS_SAID and j < len(line) and SMALL.get(line[j].low, 0) > 0 and ends(line, j + 1):
        digits, j = digits + str(SMALL[line[j].low]), j + 1  # `4 one`
    closed = (
        j >= len(line)
        or (line[j].kind == "mark" and line[j].low != "/")
        or line[j].low in (CLOSERS if len(digits) == 3 else ("and", "degrees", "but"))
    )
    if not 2 <= len(digits) <= 3 or not closed:
        return None
    return Number(i, j, float(digits), alternatives=(float(digits[-1]),), codes=("split_number",))


def ends(line: list[Token], i: int) -> bool:
    return i >= len(line) or line[i].kind == "mark" or line[i].low in CLOSERS

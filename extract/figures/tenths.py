"""Tenths said or printed without their point (`thirty nine five`), and hundredths apart (`0.8 7`)."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from extract.words.numerals import Number
from extract.words.text import Token

_LEAST, _MOST = 21, 199
"""Between which a whole figure may be followed by its tenths: common practice, no source. Smaller ones are
hours and counts, larger ones strengths."""


def with_tenths(line: list[Token], found: list[Number]) -> list[Number]:
    """The numbers, with a lone digit at the end of a clause taken for the tenths of the number before it.

    Behind round tens it is the last digit, which the caller has seen to; what is joined is doubted.
    """
    made = list(found)
    for one, two in pairwise(found):
        if one in made and _goes_on(line, one, two):
            at = made.index(one)
            made[at : at + 2] = [
                replace(
                    one, last=two.last, value=round(one.value + two.value / 100, 2), clock=None, decimals=2,
                    alternatives=(one.value,), codes=(*one.codes, "split_number"),
                )
            ]  # fmt: skip
            continue
        if one in made and _digit_apart(line, one, two):
            at = made.index(one)
            value = one.value * 10 + two.value
            made[at : at + 2] = [
                replace(
                    two, first=one.first, value=round(value, 1), clock=None, alternatives=(two.value,),
                    codes=(*two.codes, "split_number"),
                )
            ]  # fmt: skip
            continue
        if one in made and _behind_a_stop(line, one, two):
            at = made.index(one)
            tens = (one.value + two.value,) if one.value % 10 == 0 else ()
            made[at : at + 2] = [
                replace(
                    one, last=two.last, value=round(one.value + two.value / 10, 1), clock=None, decimals=1,
                    alternatives=(one.value, *tens), codes=(*one.codes, "split_number"),
                )
            ]  # fmt: skip
            continue
        if one in made and _joins(line, one, two):
            at = made.index(one)
            tenths = one.value + (two.value if one.value >= 0 else -two.value) / 10
            made[at : at + 2] = [
                replace(
                    one, last=two.last, value=round(tenths, 1), clock=None, decimals=1,
                    alternatives=(one.value,), codes=(*one.codes, "split_number"),
                )
            ]  # fmt: skip
    return made


def _goes_on(line: list[Token], one: Number, two: Number) -> bool:
    """`0.8 7`, of a water activity: the hundredths stand apart."""
    after = line[two.last] if two.last < len(line) else None
    return (
        one.last == two.first
        and one.decimals == 1
        and 0 < one.value < 1
        and line[two.first].low in _DIGITS
        and two.last - two.first == 1
        and (after is None or after.kind == "mark" or after.low == "and")
    )


_DIGITS = frozenset("123456789")


def _digit_apart(line: list[Token], one: Number, two: Number) -> bool:
    """`4 4.6`, `4 2 point 5`: the tens stand apart from a figure with tenths."""
    return (
        one.last == two.first
        and one.last - one.first == 1
        and line[one.first].low in _DIGITS
        and two.decimals == 1
        and 1 <= two.value < 10
        and line[two.first].kind == "number"
    )


def _behind_a_stop(line: list[Token], one: Number, two: Number) -> bool:
    """`Ham 43. 5. Turkey 40.`: the point is printed as a full stop, and the tenths stand alone behind it."""
    if two.first != one.last + 1 or line[one.last].low != "." or line[two.first].low not in _DIGITS:
        return False
    after = line[two.last] if two.last < len(line) else None
    before = line[one.first - 1] if one.first else None
    return (
        two.last - two.first == 1
        and one.last - one.first == 1
        and line[one.first].low.isdigit()
        and (before is None or before.kind != "number")
        and _LEAST <= one.value <= _MOST
        and line[two.first].start - line[one.last].end == 1
        and (after is None or after.kind == "mark")
    )


def _joins(line: list[Token], one: Number, two: Number) -> bool:
    after = line[two.last] if two.last < len(line) else None
    digit = (
        two.last - two.first == 1 and 1 <= two.value <= 9 and two.value == int(two.value) and not two.decimals
    )
    whole = one.value == int(one.value) and not (one.decimals or one.codes or one.date or one.halved)
    return (
        one.last == two.first
        and digit
        and whole
        and _LEAST <= abs(one.value) <= _MOST
        and one.value % 10 != 0
        and one.words == two.words
        and (after is None or after.kind == "mark" or after.low == "and")
    )

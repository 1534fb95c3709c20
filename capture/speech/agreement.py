"""Where two hearings of the same sound differ in a number."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

from capture.speech.numerals import Numeral, numerals

SOUND_LIKE = {"for": "4", "fore": "4", "to": "2", "too": "2", "won": "1", "ate": "8"}
"""Words that sound exactly like a number."""

_MISPRINTS = (
    (r"(?<=\d)(?:st|nd|rd|th)$", ""),
    (r"^(1[3-9])0([1-9](?:\.\d)?)$", r"\1\2"),  # `1806` is 186: no temperature, and no time
    (r"^(\d+\.(\d))\.\2$", r"\1"),  # `148.8.8`
)
_FEW = 3


@dataclass(frozen=True, slots=True)
class Difference:
    """A place where another hearing has other numbers."""

    first: int
    last: int
    """Tokens of this hearing, half-open; empty where only the other hearing has a number."""
    other: str
    """What the other hearing has there: its numbers, else its words when they are few; empty: nothing."""


def differences(line: Sequence[str], other: Sequence[str]) -> list[Difference]:
    """Every number of `line` that `other` hears differently or not at all, and every number only in `other`.

    Both are token lists (`numerals.tokens`). Ways to print the same sound (`1.35`, `135`, `1:35`) do not
    differ, nor do figures that are only grouped otherwise (`1 69`, `169`).
    """
    mine, theirs = _items(line), _items(other)
    found: list[Difference] = []
    matcher = SequenceMatcher(
        None, [item.label for item in mine], [item.label for item in theirs], autojunk=False
    )
    for kind, a, b, c, d in matcher.get_opcodes():
        if kind == "equal":
            continue
        here, there = mine[a:b], theirs[c:d]
        if _figures(here) == _figures(there) or _homophones(here, there):
            continue
        words = _said(other, there)
        numbers = [item for item in here if item.number]
        if not numbers:
            place = here[0].first if here else (mine[a - 1].last if a else 0)
            found.append(Difference(place, here[-1].last if here else place, words))
        for item in numbers:
            counterpart = [other_item for other_item in there if other_item.number]
            if len(numbers) == len(counterpart):
                twin = counterpart[numbers.index(item)]
                if twin.label == item.label:
                    continue
                words = _said(other, [twin])
            found.append(Difference(item.first, item.last, words))
    return found


def likeness(line: Sequence[str], other: Sequence[str]) -> float:
    """How much of their words two hearings share, 0 to 1; a number counts as one word."""
    mine, theirs = ([item.label for item in _items(row)] for row in (line, other))
    return SequenceMatcher(None, mine, theirs, autojunk=False).ratio()


def spelt_alike(line: Sequence[str], other: Sequence[str]) -> float:
    """How much of their letters two hearings share, 0 to 1: `mash potatoes`, `mashed the tito's`."""
    return SequenceMatcher(None, "".join(line), "".join(other), autojunk=False).ratio()


@dataclass(frozen=True, slots=True)
class _Item:
    """A word, or a number of one or more words."""

    label: str
    first: int
    last: int
    number: Numeral | None


def _items(line: Sequence[str]) -> list[_Item]:
    starts = {numeral.first: numeral for numeral in numerals(line)}
    items: list[_Item] = []
    at = 0
    while at < len(line):
        numeral = starts.get(at)
        if numeral:
            items.append(_Item("#" + numeral.sound, numeral.first, numeral.last, numeral))
            at = numeral.last
        else:
            items.append(_Item(line[at], at, at + 1, None))
            at += 1
    return items


def _said(line: Sequence[str], items: Sequence[_Item]) -> str:
    numbers = [item for item in items if item.number]
    chosen = numbers or (items if len(items) <= _FEW else [])
    return " ".join(" ".join(line[item.first : _after(line, item)]) for item in chosen)


def _after(line: Sequence[str], item: _Item) -> int:
    """Where what is said of the item ends: a `point` that lost its decimal belongs to a number."""
    lost = item.number is not None and list(line[item.last : item.last + 1]) in (["point"], ["points"])
    return item.last + lost


def _figures(items: Sequence[_Item]) -> str:
    """The figures of all numbers in a row; what is only grouped otherwise has the same."""
    figures: list[str] = []
    ended = -1
    for item in items:
        if item.number is None:
            continue
        beside, ended = item.first == ended, item.last
        sound = item.number.sound
        for misprint, instead in _MISPRINTS:
            sound = re.sub(misprint, instead, sound)
        if figures and re.fullmatch(r"\d00", figures[-1]) and re.fullmatch(r"\d\d?(\.\d)?", sound):
            whole, point, rest = sound.partition(".")
            figures[-1] = f"{int(figures[-1]) + int(whole)}{point}{rest}"  # `100 86` is 186
        elif beside and _tens_and_ones(figures[-1], sound):
            figures[-1] = figures[-1][:-1] + sound  # `30 7` is 37, `160 seven` 167
        else:
            figures.append(sound)
    if len(figures) == 2 and re.fullmatch(r"\d\d\d?", figures[0]) and re.fullmatch(r"\d", figures[1]):
        return ".".join(figures)  # `148. 8` is 148.8
    return "".join(figures)


def _tens_and_ones(tens: str, ones: str) -> bool:
    return bool(re.fullmatch(r"1?[2-9]0", tens) and re.fullmatch(r"[1-9](\.\d)?", ones))


def _homophones(here: Sequence[_Item], there: Sequence[_Item]) -> bool:
    """Whether the other side prints each number as the word that sounds the same: `4 inches`, `for inches`.

    Words between them may differ: `is at 2`, `is it too`.
    """
    if not any(item.number for item in here):
        return False
    mine, theirs = (
        [SOUND_LIKE.get(item.label, item.label.lstrip("#")) for item in row] for row in (here, there)
    )
    if set(mine) == set(theirs):
        return True
    return len(here) == len(there) and all(
        one == other
        for item, other_item, one, other in zip(here, there, mine, theirs, strict=True)
        if item.number or other_item.number
    )

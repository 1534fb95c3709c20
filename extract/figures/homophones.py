"""Numbers that were printed as words that sound like them: `for inches`, `to and a half inches`."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.words.lexicon import Lexicon
from extract.words.line import Line
from extract.words.numerals import Number

_SOUND_ALIKE = {
    "for": 4.0,
    "fore": 4.0,
    "to": 2.0,
    "too": 2.0,
    "ate": 8.0,
    "won": 1.0,
    "sex": 6.0,
    "sick": 6.0,
    "tree": 3.0,
    "free": 3.0,
    "fife": 5.0,
    "tin": 10.0,
}


def homophones(line: Line, found: list[Figure], words: Lexicon) -> list[Figure]:
    """`for inches` is four inches: a number that the speech model printed as another word."""
    for figure in found:
        _whole_of_half(line, figure)
        _two_hundreds(line, figure)
    taken = {i for figure in found for i in range(figure.first, figure.last)}
    for i, token in enumerate(line.tokens[:-1]):
        value = _SOUND_ALIKE.get(token.low)
        if value is None or i in taken or i + 1 in taken:
            continue
        hit = words.units_after.at(line.tokens, i + 1)
        if hit is None or hit[1].unit not in ("inch", "foot", "foot_candle", "ppm", "psi"):
            continue
        if token.low in ("to", "too") and hit[1].unit != "inch":
            continue
        found.append(
            Figure(Number(i, i + 1, value, words=True), i, hit[0], value, unit=hit[1].unit, kind=hit[1].kind,
                   codes=("homophone",))
        )  # fmt: skip
    return found


def _whole_of_half(line: Line, figure: Figure) -> None:
    """`to and a half inches` is two and a half: the whole before a fraction, printed as another word."""
    i = figure.first - 1
    if not figure.number.needs_unit or figure.unit is None:
        return
    if i >= 0 and line.tokens[i].low in ("a", "an"):
        i -= 1
    whole = _SOUND_ALIKE.get(line.tokens[i - 1].low) if i >= 1 and line.tokens[i].low == "and" else None
    if whole is not None:
        figure.value, figure.first, figure.codes = figure.value + whole, i - 1, (*figure.codes, "homophone")


_LEADS = frozenset(("at", "is", "'s", "reads"))


def _two_hundreds(line: Line, figure: Figure) -> None:
    """`bleach is at too fifty`: two fifty, with a doubt."""
    tens = figure.value % 10 == 0 and 20 <= figure.value <= 90
    n = figure.first - 1
    if tens and n > 0 and line.tokens[n].low == "too" and line.tokens[n - 1].low in _LEADS:
        figure.alternatives, figure.value = (figure.value, *figure.alternatives), figure.value + 200
        figure.first, figure.codes = n, (*figure.codes, "split_number")

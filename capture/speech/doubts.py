"""Which numbers of a hearing may be wrong, and why, in words an inspector can act on.

Some doubts come from the print alone (`1.69`, `for inches`), some from other hearings of the same seconds,
some from the model's own probability. How well each works is measured in docs/speech.md.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from capture.speech.agreement import Difference, differences
from capture.speech.numerals import Numeral, numerals, parts
from shared.types import Doubt, Word

UNSURE = 0.5
"""A number below this probability is doubted even where every hearing agrees."""
HALF_SURE = 0.7
"""A number below this probability is doubted when a single other hearing differs."""

_UNITS = frozenset(
    ["degree", "degrees", "inch", "inches", "foot", "feet", "ppm", "percent", "psi", "fahrenheit", "celsius"]
)
_SOUND_LIKE_NUMBERS = {
    "for": "4", "fore": "4", "to": "2", "too": "2", "won": "1", "ate": "8", "tin": "10", "sex": "6",
    "nigh": "9", "free": "3", "tree": "3", "fort": "40", "fortune": "14", "sick": "6", "sicks": "6",
    "heaven": "7",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Line:
    """The words of one voiced stretch as tokens, each knowing its word."""

    words: tuple[Word, ...]
    tokens: tuple[str, ...]
    owners: tuple[int, ...]
    """For each token the index of its word."""

    @classmethod
    def of(cls, words: Iterable[Word]) -> Line:
        """The line of some words."""
        row = tuple(words)
        pairs = [(part, index) for index, word in enumerate(row) for part in parts(word.text)]
        return cls(row, tuple(part for part, _ in pairs), tuple(index for _, index in pairs))

    def words_of(self, first: int, last: int) -> Sequence[Word]:
        """The words that hold the tokens `first` to `last`; for an empty run the words beside it."""
        if not self.tokens:
            return self.words[:1]
        if first >= last:
            first, last = max(0, first - 1), min(len(self.tokens), first + 1)
        return self.words[self.owners[first] : self.owners[last - 1] + 1]

    def probability(self, first: int, last: int) -> float:
        """The least probability of the words that hold the tokens."""
        return min((word.probability for word in self.words_of(first, last)), default=0.0)


def holds_numbers(line: Line) -> bool:
    """Whether the line has a number, or a place where one seems to have vanished."""
    return bool(numerals(line.tokens)) or any(True for _ in _vanished(line))


def doubts(line: Line, others: Sequence[Sequence[str]] = ()) -> list[Doubt]:
    """The doubts on the numbers of the line, in order, with seconds and without spans.

    `others` are the token lists of other hearings of the same stretch.
    """
    found = [*_printed(line), *_vanished(line)]
    found += _heard(line, [differences(line.tokens, other) for other in others])
    return sorted(found, key=lambda doubt: doubt.start or 0.0)


# ---------------------------------------------------------------- what the print shows


def _printed(line: Line) -> Iterable[Doubt]:
    row = numerals(line.tokens)
    for number, after in zip(row, [*row[1:], None], strict=True):
        key = number.key
        if re.fullmatch(r"[123]\.\d\d", key):
            hundred, clock = key.replace(".", ""), key.replace(".", ":")
            yield _doubt(
                line, number, "lost_point", f"“{key}” may be {hundred}, or the time {clock}", (hundred, clock)
            )
        elif match := re.fullmatch(r"(\d{2,3}(?:\.\d)?)[.:]([1-9]|1[0-2])([0-5]\d)", key):
            reading, clock = match[1], f"{match[2]}:{match[3]}"
            yield _doubt(
                line,
                number,
                "glued_time",
                f"“{key}” may be {reading} at {clock}",
                (f"{reading} at {clock}",),
            )
        elif not re.fullmatch(r"-?\d+(\.\d+)?|\d{1,2}:\d\d", key):
            yield _doubt(line, number, "odd_number", f"“{key}” is no number that anyone says; listen", ())
        if after is not None and after.first == number.last and re.fullmatch(r"[1-9]", key):
            joined = key + after.key
            if re.fullmatch(r"\d{3}(\.\d)?", joined):
                yield _doubt(
                    line,
                    Numeral(number.first, after.last, joined),
                    "split_number",
                    f"“{key} {after.key}” may be {joined}",
                    (joined,),
                )


def _vanished(line: Line) -> Iterable[Doubt]:
    """A unit after a word that sounds like a number: `for inches`, `to degrees`."""
    for at, token in enumerate(line.tokens[1:], 1):
        before = line.tokens[at - 1]
        if token in _UNITS and before in _SOUND_LIKE_NUMBERS:
            figure = _SOUND_LIKE_NUMBERS[before]
            yield _doubt(
                line,
                Numeral(at - 1, at + 1, before),
                "number_vanished",
                f"“{before} {token}” may be {figure} {token}",
                (f"{figure} {token}",),
            )


# ---------------------------------------------------------------- what the other hearings say


def _heard(line: Line, hearings: Sequence[Sequence[Difference]]) -> Iterable[Doubt]:
    for number in numerals(line.tokens):
        against = [
            difference for hearing in hearings for difference in _first(hearing, number.first, number.last)
        ]
        sure = line.probability(number.first, number.last)
        if len(against) >= 2 or (against and sure < HALF_SURE):
            others = _alternatives(against)
            heard = " or ".join(f"“{other}”" for other in others) if others else "no number"
            yield _doubt(
                line,
                number,
                "passes_disagree",
                f"heard again, “{_as_printed(line, number)}” came out as {heard}",
                others,
            )
        elif sure < UNSURE:
            yield _doubt(
                line,
                number,
                "unsure",
                f"the speech model was unsure of “{_as_printed(line, number)}” ({sure:.0%})",
                _alternatives(against),
            )
    yield from _only_elsewhere(line, hearings)


def _only_elsewhere(line: Line, hearings: Sequence[Sequence[Difference]]) -> Iterable[Doubt]:
    """Places where at least two other hearings have a number and this one has none."""
    numbered = {at for number in numerals(line.tokens) for at in range(number.first, number.last)}
    extra = [
        difference
        for hearing in hearings
        for difference in hearing
        if not numbered & set(range(difference.first, difference.last)) and numerals(difference.other.split())
    ]
    while extra:
        first = extra.pop(0)
        near = [other for other in extra if other.first <= first.last + 1 and other.last >= first.first - 1]
        extra = [other for other in extra if other not in near]
        if near:
            others = _alternatives([first, *near])
            yield _doubt(
                line,
                Numeral(first.first, first.last, ""),
                "number_missing",
                f"heard again, a number came out here: {' or '.join(others)}",
                others,
            )


def _first(hearing: Sequence[Difference], first: int, last: int) -> list[Difference]:
    """The hearing's own difference at these tokens, if it has one."""
    return [one for one in hearing if one.first < last and one.last > first][:1]


def _alternatives(against: Iterable[Difference]) -> tuple[str, ...]:
    """What was heard instead, most often first."""
    return tuple(text for text, _ in Counter(one.other for one in against if one.other).most_common())


def _as_printed(line: Line, number: Numeral) -> str:
    return " ".join(word.text.strip(".,;:!?") for word in line.words_of(number.first, number.last))


def _doubt(line: Line, number: Numeral, code: str, why: str, alternatives: tuple[str, ...]) -> Doubt:
    words = line.words_of(number.first, number.last)
    return Doubt(
        code,
        f"{why}.",
        None,
        alternatives,
        words[0].start if words else None,
        words[-1].end if words else None,
    )

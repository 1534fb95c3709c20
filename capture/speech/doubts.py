"""Which numbers of a hearing may be wrong, and why, in words an inspector can act on.

Some doubts come from the print alone (`1.69`, `for inches`), some from other hearings of the same seconds,
some from the model's own probability. Two other hearings against a number are always a doubt; one is where it
has a number that is easily taken for this one, or where the sound is poor or the model unsure. How well each
works is measured in docs/speech.md.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from capture.speech.agreement import SOUND_LIKE, Difference, differences, likeness
from capture.speech.numerals import Numeral, numerals, parts
from shared.types import Doubt, Word

UNSURE = 0.4
"""A number below this probability is doubted where the hearings are not much alike."""
HALF_SURE = 0.65
"""A number below this probability is doubted when a single other hearing has another number there."""
HALF_ALIKE = 0.75
"""Where the hearings share less than this of their words, an unsure number is doubted, and one that a single
other hearing has."""
ONE_ENOUGH = 0.65
"""Where they share less than this, one that differs in a number is enough."""
UNLIKE = 0.5
"""Where they share less than this, every number is doubted: the sound is too poor."""
SETTLED = 0.7
"""A hearing that shares this much and has the same numbers needs no third one."""
FAINT = 0.6
"""Words below this probability on average are heard again, numbers or not: one may have vanished."""

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
_SLOWEST = 5.5  # letters a second; slow talkers make 9
_PER_DIGIT = 5  # letters that a printed digit stands for, beyond itself
_LONG_ENOUGH_S = 1.5
_HOTTEST = 230
_NO_TEMPERATURE = frozenset(
    ["at", "since", "by", "until", "from", "to", "around", "before", "after", "ppm", "parts", "psi", "lux",
     "pounds", "grams", "am", "pm", "a.m", "p.m", "o'clock", "room", "number", "permit"]
)  # fmt: skip
_SOUND_LIKE_NUMBERS = SOUND_LIKE | {
    "tin": "10", "sex": "6", "nigh": "9", "free": "3", "tree": "3", "fort": "40", "fortune": "14",
    "sick": "6", "sicks": "6", "heaven": "7",
}  # fmt: skip
_ENDS = (("for",), ("for", "you"), ("fourth",), ("forth",), ("ford",))


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
        """The least probability of the words that hold the tokens; a sign does not count."""
        if self.tokens[first : first + 1] == ("minus",):
            first += 1
        return min((word.probability for word in self.words_of(first, last)), default=0.0)


def words_missing(line: Line, voiced_s: float) -> Doubt | None:
    """A doubt on the whole line where far fewer words were printed than somebody spoke in that time."""
    if voiced_s < _LONG_ENOUGH_S or not line.words:
        return None
    spoken = sum(len(token) + 1 for token in line.tokens)
    spoken += sum(_PER_DIGIT * sum(map(str.isdigit, number.key)) for number in numerals(line.tokens))
    if spoken >= _SLOWEST * voiced_s:
        return None
    why = f"only {len(line.words)} words came of {voiced_s:.0f} s of speech; some may be missing"
    return _doubt(line, Numeral(0, len(line.tokens), ""), "words_missing", why, ())


def worth_hearing_again(line: Line) -> bool:
    """Whether the line has a number, or one may have vanished from it."""
    if numerals(line.tokens) or any(True for _ in _vanished(line)):
        return True
    return sum(word.probability for word in line.words) < FAINT * len(line.words)


def undecided(line: Line, others: Sequence[Sequence[str]]) -> bool:
    """Whether one hearing more could change which numbers are doubted."""
    if not others:
        return True
    unsure = any(line.probability(number.first, number.last) < HALF_SURE for number in numerals(line.tokens))
    return unsure or any(
        differences(line.tokens, other) or likeness(line.tokens, other) < SETTLED for other in others
    )


def doubts(line: Line, others: Sequence[Sequence[str]] = ()) -> list[Doubt]:
    """The doubts on the numbers of the line, in order, with seconds and without spans.

    `others` are the token lists of other hearings of the same stretch.
    """
    alike = sum(likeness(line.tokens, other) for other in others) / len(others) if others else 1.0
    hearings = [differences(line.tokens, other) for other in others]
    found = [*_printed(line), *_vanished(line)]
    found += _heard(line, hearings, alike)
    found += _only_elsewhere(line, hearings, alike)
    if alike < UNLIKE and not found and line.tokens:
        why = "these words came out differently when heard again; a number may be missing"
        found.append(_doubt(line, Numeral(0, len(line.tokens), ""), "hard_to_hear", why, ()))
    return sorted(found, key=lambda doubt: doubt.start or 0.0)


# ---------------------------------------------------------------- what the print shows


def _printed(line: Line) -> Iterable[Doubt]:
    row = numerals(line.tokens)
    for index, number in enumerate(row):
        after = row[index + 1] if index + 1 < len(row) else None
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
            figures = re.match(r"(\d+)(?:st|nd|rd|th)$", key)
            others = (figures[1],) if figures else ()
            why = f"“{key}” may be {figures[1]}" if figures else f"“{key}” is no number that anyone says"
            yield _doubt(line, number, "odd_number", why, others)
        elif _too_hot(line, number):
            why = f"“{key}” is hotter than food gets; it may be {key[-2:]}, or the time {key[0]}:{key[1:]}"
            yield _doubt(line, number, "implausible", why, (key[-2:], f"{key[0]}:{key[1:]}"))
        if after is not None and re.fullmatch(r"[1-9]00", key) and re.fullmatch(r"\d\d?(\.\d)?", after.key):
            between = line.tokens[number.last : after.first]
            if between in ((), ("and",), ("an",), ("in",)):
                joined = f"{float(key) + float(after.key):g}"
                whole = Numeral(number.first, after.last, joined)
                yield _doubt(line, whole, "split_number", f"“{key} {after.key}” may be {joined}", (joined,))
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


def _too_hot(line: Line, number: Numeral) -> bool:
    """A bare figure of three digits that food never reaches, that is not round, and that no word of time or
    other unit is beside."""
    if not re.fullmatch(r"\d{3}", number.key) or int(number.key) <= _HOTTEST or not int(number.key) % 25:
        return False
    near = set(line.tokens[max(0, number.first - 1) : number.first]) | set(
        line.tokens[number.last : number.last + 1]
    )
    return not near & _NO_TEMPERATURE


def _vanished(line: Line) -> Iterable[Doubt]:
    """A unit after a word that sounds like a number (`for inches`), an ordinal where a time would be, a line
    that ends in what a number of forty or so loses its end to (`the grill fourth`)."""
    for at, token in enumerate(line.tokens[1:], 1):
        before = line.tokens[at - 1]
        if before in ("since", "at", "until") and re.fullmatch(r"\d{1,2}th", token):
            why = f"“{before} {token}” may have been a time"
            yield _doubt(line, Numeral(at - 1, at + 1, token), "number_vanished", why, ())
        if token in _UNITS and before in _SOUND_LIKE_NUMBERS:
            figure = _SOUND_LIKE_NUMBERS[before]
            yield _doubt(
                line,
                Numeral(at - 1, at + 1, before),
                "number_vanished",
                f"“{before} {token}” may be {figure} {token}",
                (f"{figure} {token}",),
            )
    end = next((tail for tail in _ENDS if line.tokens[-len(tail) :] == tail), None)
    if end and len(line.tokens) > len(end):
        first, last = len(line.tokens) - len(end), len(line.tokens)
        why = f"“{' '.join(end)}” at the end may be a number such as 4 or 40"
        yield _doubt(line, Numeral(first, last, ""), "number_vanished", why, ("4", "40"))


# ---------------------------------------------------------------- what the other hearings say


def _heard(line: Line, hearings: Sequence[Sequence[Difference]], alike: float) -> Iterable[Doubt]:
    for number in numerals(line.tokens):
        against = [
            difference for hearing in hearings for difference in _first(hearing, number.first, number.last)
        ]
        sure = line.probability(number.first, number.last)
        others = _alternatives(against)
        printed = _as_printed(line, number)
        enough = HALF_SURE if any(numerals(one.other.split()) for one in against) else UNSURE
        twins = any(confusable(number.key, one.other) for one in against)
        if _bare_hour(line, number):  # `at noon` and `at night` come out as `at 9`
            enough = HALF_SURE
        if len(against) >= 2 or (against and (twins or sure < enough or alike < ONE_ENOUGH)):
            heard = " or ".join(f"“{other}”" for other in others) if others else "no number"
            yield _doubt(
                line, number, "passes_disagree", f"heard again, “{printed}” came out as {heard}", others
            )
        elif alike < UNLIKE:
            why = f"the words around “{printed}” came out differently when heard again"
            yield _doubt(line, number, "hard_to_hear", why, others)
        elif sure < UNSURE and (alike < HALF_ALIKE or not hearings):
            why = f"the speech model was unsure of “{printed}” ({sure:.0%})"
            yield _doubt(line, number, "unsure", why, others)


def _bare_hour(line: Line, number: Numeral) -> bool:
    before = line.tokens[max(0, number.first - 1) : number.first]
    return before == ("at",) and bool(re.fullmatch(r"[1-9]|1[0-2]", number.key))


def confusable(key: str, other: str) -> bool:
    """Whether two numbers are easily taken for each other: `14` and `40`, `153` and `154`."""
    found = numerals(other.split())
    if len(found) != 1 or found[0].value is None:
        return False
    try:
        one, two = sorted((float(key), found[0].value))
    except ValueError:
        return False
    if one > 0 and two == one * 10:  # nine, ninety
        return True
    teen, tens = one % 100, two % 100
    teen_or_ty = one // 100 == two // 100 and 13 <= teen <= 19 and tens == (teen - 10) * 10
    return teen_or_ty or two - one == 1


def _only_elsewhere(line: Line, hearings: Sequence[Sequence[Difference]], alike: float) -> Iterable[Doubt]:
    """Places where other hearings have a number and this one has none."""
    numbered = {at for number in numerals(line.tokens) for at in range(number.first, number.last)}
    extra = [
        difference
        for hearing in hearings
        for difference in hearing
        if not numbered & set(range(difference.first - 1, difference.last + 1))
        and numerals(difference.other.split())
    ]
    while extra:
        first = extra.pop(0)
        near = [other for other in extra if other.first <= first.last + 1 and other.last >= first.first - 1]
        extra = [other for other in extra if other not in near]
        if near or alike < HALF_ALIKE:
            others = _alternatives([first, *near])
            why = f"heard again, a number came out here: {' or '.join(others)}"
            yield _doubt(line, Numeral(first.first, first.last, ""), "number_missing", why, others)


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

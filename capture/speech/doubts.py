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
from difflib import SequenceMatcher

from capture.speech.agreement import Difference, differences, likeness, spelt_alike
from capture.speech.line import Line
from capture.speech.numerals import Numeral, numerals
from capture.speech.printed import odd_figures, vanished
from capture.speech.twins import confusable, twinned
from shared.types import Doubt, Stretch, Word


@dataclass(frozen=True, slots=True)
class Rules:
    """When a number is doubted, by its probability and by how much of their words the hearings share."""

    half_sure: float
    """Below it a number is doubted when a single other hearing has another number there."""
    one_enough: float
    """Where they share less, one that differs in a number is enough."""
    never_sure: float
    """Below it a number is doubted whatever the other hearings say."""
    confirmed: float
    """Above it a number that two others have too is right, however unlike the words around it."""
    short: float
    """A hearing with less than this share of the words stopped short and does not count."""
    settled: float
    """A hearing that shares this much and has the same numbers needs no third one."""
    faint_word: float
    """A line with a word below this probability is heard again: it may have been a number. An end with such a
    word that no other hearing shares is doubted."""


CLEAR = Rules(
    half_sure=0.65, one_enough=0.65, never_sure=0.0, confirmed=0.85, short=0.34, settled=0.7, faint_word=0.35
)
POOR = Rules(
    half_sure=0.75, one_enough=0.8, never_sure=0.6, confirmed=1.0, short=0.0, settled=0.85, faint_word=0.5
)
"""For sound so poor (about 0 dB) that the hearings are often wrong alike: more is doubted."""

UNSURE = 0.4
"""A number below this probability is doubted where the hearings are not much alike."""
HALF_ALIKE = 0.75
"""Where the hearings share less than this of their words, an unsure number is doubted, and one that a single
other hearing has."""
TWIN_SURE = 0.95
"""A number below this that sounds like another one is heard a third time."""
BACKED = 0.9
"""A number above this that one hearing has too is not doubted for another that shares little of the words,"""
MUCH_ALIKE = 0.6
"""if the one that has it shares this much."""
UNLIKE = 0.5
"""Where they share less than this, every number is doubted: the sound is too poor."""
SPELT_ALIKE = 0.7
"""Unless two others have just the same numbers and share this much of the letters: a few words were only cut
otherwise."""
SURE_END = 0.85
"""A last word below this probability that no other hearing has may be the ones of the tens before it."""
FAINT = 0.7
"""Words below this probability on average are heard again, numbers or not: one may have vanished."""

_POOR_BELOW = 0.78  # mean probability of the words of a block; 0.85 and more at 10 dB
_SLOWEST = 5.5  # letters a second; slow talkers make 9
_PER_DIGIT = 5  # letters that a printed digit stands for, beyond itself
_LONG_ENOUGH_S = 1.5
_UNIT_S = 0.8  # what follows a number and takes no longer is its unit
_CORRECTS = frozenset(["correction", "corrections", "scratch", "make", "change", "meant"])
_COMPARTMENTS = (("compartment",), ("compartments",))
_BESIDE_S = 0.4  # words this near to two voices at once may be of either

Other = tuple[Sequence[str], Sequence[Difference]]
"""The tokens of another hearing, and where it differs."""


def rules_for(lines: Iterable[Line]) -> Rules:
    """How strictly to doubt in a block: by how sure the model is of its words."""
    sure = [word.probability for line in lines for word in line.words]
    return POOR if sure and sum(sure) < _POOR_BELOW * len(sure) else CLEAR


def words_missing(line: Line, voiced_s: float) -> Doubt | None:
    """A doubt on the whole line where far fewer words were printed than somebody spoke in that time."""
    if voiced_s < _LONG_ENOUGH_S or not line.words:
        return None
    spoken = sum(len(token) + 1 for token in line.tokens)
    spoken += sum(_PER_DIGIT * sum(map(str.isdigit, number.key)) for number in numerals(line.tokens))
    if spoken >= _SLOWEST * voiced_s:
        return None
    why = f"only {len(line.words)} words came of {voiced_s:.0f} s of speech; some may be missing"
    return line.doubt(line.whole, "words_missing", why)


def left_out(line: Line) -> Doubt:
    """A doubt on words that the model left out until their seconds were heard alone."""
    why = "this was left out at first, where somebody else talks or it is quiet; say the numbers again"
    return line.doubt(line.whole, "left_out", why)


def faint_voice(line: Line) -> Doubt:
    """A doubt on words where the voice detector heard nobody."""
    why = "this was whispered or said from far off; listen to it, and say the numbers again"
    return line.doubt(line.whole, "faint_voice", why)


def talked_over(words: Sequence[Word], at_once: Iterable[Stretch]) -> list[Doubt]:
    """A doubt on the words where two people talk at once, or on the nearest word."""
    found: list[Doubt] = []
    for place in at_once if words else ():
        first, last = place.start - _BESIDE_S, place.end + _BESIDE_S
        own = [word for word in words if word.start < last and word.end > first]
        own = own or [min(words, key=lambda word: abs(word.start + word.end - place.start - place.end))]
        why = "two people talk at once here, and only one of them is printed; say the numbers again."
        found.append(Doubt("talked_over", why, None, (), own[0].start, own[-1].end))
    return found


def worth_hearing_again(line: Line, rules: Rules = CLEAR) -> bool:
    """Whether the line has a number, or one may have vanished from it."""
    if numerals(line.tokens) or any(True for _ in vanished(line)) or _CORRECTS & set(line.tokens[:3]):
        return True
    sure = [word.probability for word in line.words]
    return min(sure, default=1.0) < rules.faint_word or sum(sure) < FAINT * len(sure)


def runs_on(line: Line, following: Line) -> bool:
    """Whether the sentence goes on in the next stretch: these words may belong there, and what was said here
    have been passed over."""
    if not line.words or not following.words:
        return False
    first = following.words[0].text[0]
    return line.words[-1].text[-1] not in ".?!" and (first.islower() or first.isdigit())


def undecided(line: Line, others: Sequence[Sequence[str]], rules: Rules = CLEAR) -> bool:
    """Whether one hearing more could change which numbers are doubted."""
    whole = _whole(line, others, rules)
    if not whole:
        return True
    numbers = numerals(line.tokens)
    if len(whole) < 2 and _unlike_end(line, whole, rules):
        return True
    doubted = {doubt.start for doubt in odd_figures(line)}
    for number in numbers:
        if line.words_of(number.first, number.last)[0].start in doubted:
            continue
        sure = line.probability(number.first, number.last)
        if sure < rules.half_sure or (sure < TWIN_SURE and twinned(number) and len(whole) < 2):
            return True
    return any(
        differences(line.tokens, other) or likeness(line.tokens, other) < rules.settled for other in whole
    )


def doubts(line: Line, others: Sequence[Sequence[str]] = (), rules: Rules = CLEAR) -> list[Doubt]:
    """The doubts on the numbers of the line, in order, with seconds and without spans.

    `others` are the token lists of other hearings of the same stretch.
    """
    whole = _whole(line, others, rules)
    alike = sum(likeness(line.tokens, other) for other in whole) / len(whole) if whole else 1.0
    hearings = [differences(line.tokens, other) for other in whole]
    found = [*odd_figures(line), *vanished(line)]
    both = list(zip(whole, hearings, strict=True))
    found += _heard(line, both, alike, rules)
    found += _only_elsewhere(line, hearings, alike)
    found += [end for end in _unlike_end(line, whole, rules) if not _told(found, end)]
    found += [end for end in _ones_vanished(line, whole) if not _told(found, end)]
    if alike < UNLIKE and not found and line.tokens and not _confirmed(line, both, rules):
        why = "these words came out differently when heard again; a number may be missing"
        found.append(line.doubt(line.whole, "hard_to_hear", why))
    return sorted(found, key=lambda doubt: doubt.start or 0.0)


def _whole(line: Line, others: Sequence[Sequence[str]], rules: Rules) -> list[Sequence[str]]:
    """The hearings that did not stop short."""
    return [other for other in others if len(other) >= rules.short * len(line.tokens)]


def _confirmed(line: Line, others: Sequence[Other], rules: Rules) -> bool:
    """Whether two other hearings have just the numbers of this one, and it is sure or all are spelt alike."""
    numbers = numerals(line.tokens)
    if not numbers or any(hearing for _, hearing in others):
        return False
    return all(_agreed(line, number, others, rules) for number in numbers)


def _heard(line: Line, hearings: Sequence[Other], alike: float, rules: Rules) -> Iterable[Doubt]:
    """Doubts on the numbers of the line; each hearing comes with its differences."""
    for number in numerals(line.tokens):
        against = [
            difference
            for _, hearing in hearings
            for difference in _first(hearing, number.first, number.last)
            if not _lost_its_decimal(number.key, difference.other)
        ]
        sure = line.probability(number.first, number.last)
        others = _alternatives(against)
        printed = _as_printed(line, number)
        twins = any(confusable(number.key, one.other) for one in against)
        has_number = any(numerals(one.other.split()) for one in against)
        if not has_number and _of_a_sink(line, number):
            continue
        hour = _bare_hour(line, number)  # `at noon` and `at night` come out as `at 9`
        enough = rules.half_sure if has_number else UNSURE
        backed = sure >= BACKED and any(
            likeness(line.tokens, other) >= MUCH_ALIKE and not _first(hearing, number.first, number.last)
            for other, hearing in hearings
        )
        one_is_enough = hour or twins or sure < enough or (alike < rules.one_enough and not backed)
        never_sure = rules.half_sure if hour else rules.never_sure
        if len(against) >= 2 or (against and one_is_enough):
            heard = " or ".join(f"“{other}”" for other in others) if others else "no number"
            why = f"heard again, “{printed}” came out as {heard}"
            yield line.doubt(number, "passes_disagree", why, others)
        elif alike < UNLIKE and not _agreed(line, number, hearings, rules):
            why = f"the words around “{printed}” came out differently when heard again"
            yield line.doubt(number, "hard_to_hear", why, others)
        elif sure < never_sure or (sure < UNSURE and (alike < HALF_ALIKE or not hearings)):
            why = f"the speech model was unsure of “{printed}” ({sure:.0%})"
            yield line.doubt(number, "unsure", why, others)


def _agreed(line: Line, number: Numeral, others: Sequence[Other], rules: Rules) -> bool:
    """Whether two other hearings have this number too, so that the words around it may differ."""
    hearings = [hearing for _, hearing in others]
    if len(hearings) < 2 or any(_first(hearing, number.first, number.last) for hearing in hearings):
        return False
    if line.probability(number.first, number.last) >= rules.confirmed:
        return True
    spelt = sum(spelt_alike(line.tokens, other) for other, _ in others) / len(others)
    return not any(hearings) and spelt >= SPELT_ALIKE


def _lost_its_decimal(key: str, other: str) -> bool:
    """`40 point tube` for 40.2 is no other number."""
    whole, _, end = other.rpartition(" ")
    return end in ("point", "points") and key.startswith(f"{whole}.")


def _of_a_sink(line: Line, number: Numeral) -> bool:
    """The 3 of a `3 compartment sink`, which names a thing that has no other number."""
    return number.key == "3" and line.tokens[number.last : number.last + 1] in _COMPARTMENTS


def _bare_hour(line: Line, number: Numeral) -> bool:
    before = line.tokens[max(0, number.first - 1) : number.first]
    return before == ("at",) and bool(re.fullmatch(r"[1-9]|1[0-2]", number.key))


def _only_elsewhere(line: Line, hearings: Sequence[Sequence[Difference]], alike: float) -> Iterable[Doubt]:
    """Places where other hearings have a number and this one has none."""
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
        if near or alike < HALF_ALIKE:
            others = _alternatives([first, *near])
            why = f"heard again, a number came out here: {' or '.join(others)}"
            yield line.doubt(Numeral(first.first, first.last, ""), "number_missing", why, others)


def _unlike_end(line: Line, others: Sequence[Sequence[str]], rules: Rules) -> list[Doubt]:
    """A doubt on a faint end that no other hearing shares: most lines end with their number."""
    if not others or not line.tokens:
        return []
    first = max(_shared(line.tokens, other) for other in others)
    numbered = max((number.last for number in numerals(line.tokens)), default=0)
    words = line.words_of(first, len(line.tokens))
    if first == len(line.tokens) or first < numbered:
        return []
    if first == numbered and words[-1].end - words[0].start < _UNIT_S:
        return []
    if min(word.probability for word in words) >= rules.faint_word:
        return []
    end = Numeral(first, len(line.tokens), "")
    printed = _as_printed(line, end)
    why = f"the end, “{printed}”, came out differently when heard again; a number may be missing"
    return [line.doubt(end, "unlike_end", why)]


def _ones_vanished(line: Line, others: Sequence[Sequence[str]]) -> Iterable[Doubt]:
    """A doubt on tens before a last word that no other hearing has: `130 bit` for 138."""
    last = len(line.tokens) - 1
    for number in numerals(line.tokens):
        if number.last != last or not re.fullmatch(r"1?[2-9]0", number.key) or not others:
            continue
        if line.probability(last, last + 1) < SURE_END and not any(
            line.tokens[last] in one for one in others
        ):
            whole = Numeral(number.first, last + 1, "")
            tens, printed = number.key[:-1], _as_printed(line, whole)
            why = f"“{printed}” may be one number, such as {tens}7 or {tens}8"
            yield line.doubt(whole, "number_vanished", why)


def _told(found: Iterable[Doubt], end: Doubt) -> bool:
    """Whether another doubt lies on the end already."""
    return any((one.end or 0.0) > (end.start or 0.0) for one in found)


def _shared(line: Sequence[str], other: Sequence[str]) -> int:
    """After how many tokens of the line the last one lies that the other hearing has too."""
    matching = SequenceMatcher(None, line, other, autojunk=False).get_matching_blocks()
    return max((block.a + block.size for block in matching if block.size), default=0)


def _first(hearing: Sequence[Difference], first: int, last: int) -> list[Difference]:
    """The hearing's own difference at these tokens, if it has one."""
    return [one for one in hearing if one.first < last and one.last > first][:1]


def _alternatives(against: Iterable[Difference]) -> tuple[str, ...]:
    """What was heard instead, most often first."""
    return tuple(text for text, _ in Counter(one.other for one in against if one.other).most_common())


def _as_printed(line: Line, number: Numeral) -> str:
    return " ".join(word.text.strip(".,;:!?") for word in line.words_of(number.first, number.last))

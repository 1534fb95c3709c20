"""What a transcript got right: words, numbers, doubts, inventions, losses."""

from __future__ import annotations

import bisect
import re
from collections.abc import Sequence
from dataclasses import dataclass, fields
from itertools import pairwise

from capture.bench.recordings import Line
from capture.speech.numerals import Numeral, numerals, parts, sound, tokens
from shared.types import Stretch, Transcript, Word

NEAR_S = 0.8
"""A word further than this from any spoken line is a word where nobody spoke."""

_OF_A_WHOLE_LINE = frozenset({"words_missing"})
"""Codes of doubts that say that something is missing, not that a printed number is wrong."""

_SPELLINGS = (
    (r"\bwalkin'?\b", "walk in"), (r"\bhotline\b", "hot line"), (r"\bcole slaw\b", "coleslaw"),
    (r"\bsanitiser\b", "sanitizer"), (r"\bdishmachine\b", "dish machine"), (r"\bppm\b", "parts per million"),
    (r"\bokay\b", "ok"), (r"\blabelled\b", "labeled"), (r"\bhandsink\b", "hand sink"), (r"%", " percent"),
    (r"°f?", " degrees"), (r"\bdegrees fahrenheit\b", "degrees"), (r"\bfoot-?candles\b", "foot candles"),
    (r"\bshell ?fish\b", "shellfish"), (r"\bcookline\b", "cook line"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Score:
    """Counts over one recording."""

    words: int = 0
    word_errors: int = 0
    numbers: int = 0
    right: int = 0
    wrong_doubted: int = 0
    wrong_silent: int = 0
    false_doubts: int = 0
    """Right numbers with a doubt on them."""
    invented_words: int = 0
    lost_lines: int = 0
    """Lines without a word that are not listed as not understood either."""
    told_lines: int = 0
    """Lines without a word that are listed."""

    @property
    def word_error_rate(self) -> float:
        return self.word_errors / max(1, self.words)

    def __add__(self, other: Score) -> Score:
        return Score(*(getattr(self, f.name) + getattr(other, f.name) for f in fields(Score)))


def score(lines: Sequence[Line], found: Transcript, *, misses: list[str] | None = None) -> Score:
    """How the transcript compares with what was said.

    `misses` takes a sentence for every line with a silent error or a doubt on a right number.
    """
    heard = _by_line(lines, [word for utterance in found.utterances for word in utterance.words])
    doubted, whole = doubted_stretches(found)
    total = Score(invented_words=_invented(lines, found))
    for line, words in zip(lines, heard, strict=True):
        told = any(overlap(line, stretch) for stretch in (*found.not_understood, *whole))
        part = _line(line, words, doubted, told)
        if misses is not None and (part.wrong_silent or part.false_doubts):
            kind = "silent error" if part.wrong_silent else "doubt on a right number"
            heard_as = " ".join(word.text for word in words)
            misses.append(f"{kind}: {line.voice}: “{line.text}” heard as “{heard_as}”")
        total += part
    return total


def _line(line: Line, words: Sequence[Word], doubted: Sequence[Stretch], told: bool) -> Score:
    pairs = [(part, word) for word in words for part in parts(word.text)]
    said = numerals([part for part, _ in pairs])
    matched = _matched(line.numbers, said)
    truth, print_ = _normal(line.text), _normal(" ".join(word.text for word in words))
    right = wrong_doubted = wrong_silent = false_doubts = 0
    loose = 0  # wrong figures in the transcript that stand for a number said
    right_words: list[Word] = []
    for index, numeral in enumerate(said):
        own = [word for _, word in pairs[numeral.first : numeral.last]]
        has_doubt = any(overlap(word, stretch) for word in own for stretch in doubted)
        if index in matched:
            right, false_doubts = right + 1, false_doubts + has_doubt
            right_words += own
        else:
            loose += 1
            wrong_doubted, wrong_silent = wrong_doubted + has_doubt, wrong_silent + (not has_doubt)
    vanished = max(0, len(line.numbers) - len(matched) - loose)
    elsewhere = told or any(
        overlap(line, stretch) and not any(overlap(word, stretch) for word in right_words)
        for stretch in doubted
    )
    wrong_doubted += vanished if elsewhere else 0
    wrong_silent += 0 if elsewhere else vanished
    return Score(
        words=len(truth),
        word_errors=_distance(truth, print_),
        numbers=len(line.numbers),
        right=right,
        wrong_doubted=wrong_doubted,
        wrong_silent=wrong_silent,
        false_doubts=false_doubts,
        lost_lines=int(not words and not told),
        told_lines=int(not words and told),
    )


def _by_line(lines: Sequence[Line], words: Sequence[Word]) -> list[list[Word]]:
    """Each word with the line it is nearest to, words far from all lines left out."""
    borders = [(one.end + other.start) / 2 for one, other in pairwise(lines)]
    rows: list[list[Word]] = [[] for _ in lines]
    for word in words:
        index = bisect.bisect(borders, (word.start + word.end) / 2)
        if _distance_s(lines[index], word) <= NEAR_S:
            rows[index].append(word)
    return rows


def _invented(lines: Sequence[Line], found: Transcript) -> int:
    return sum(
        min(_distance_s(line, word) for line in lines) > NEAR_S
        for utterance in found.utterances
        for word in utterance.words
    )


def _distance_s(line: Line, word: Word) -> float:
    middle = (word.start + word.end) / 2
    return max(line.start - middle, middle - line.end, 0.0)


def doubted_stretches(found: Transcript) -> tuple[list[Stretch], list[Stretch]]:
    """Where a printed number may be wrong, and where only something is missing."""
    doubted: list[Stretch] = []
    whole: list[Stretch] = []
    for doubt in (doubt for utterance in found.utterances for doubt in utterance.doubts):
        if doubt.start is not None and doubt.end is not None:
            row = whole if doubt.code in _OF_A_WHOLE_LINE else doubted
            row.append(Stretch(doubt.start, doubt.end))
    return doubted, whole


def overlap(one: Line | Word | Stretch, other: Stretch) -> bool:
    """Whether both have some moment in common."""
    return one.start < other.end and one.end > other.start


def _matched(wanted: Sequence[str], said: Sequence[Numeral]) -> dict[int, int]:
    """Index of a heard number → index of the said number that it is, in order, as many as can be."""
    best = [[0] * (len(said) + 1) for _ in range(len(wanted) + 1)]
    for i in range(len(wanted) - 1, -1, -1):
        for j in range(len(said) - 1, -1, -1):
            same = best[i + 1][j + 1] + 1 if same_number(wanted[i], said[j]) else 0
            best[i][j] = max(same, best[i + 1][j], best[i][j + 1])
    found: dict[int, int] = {}
    i = j = 0
    while i < len(wanted) and j < len(said):
        if same_number(wanted[i], said[j]) and best[i][j] == best[i + 1][j + 1] + 1:
            found[j] = i
            i, j = i + 1, j + 1
        elif best[i + 1][j] >= best[i][j + 1]:
            i += 1
        else:
            j += 1
    return found


def same_number(wanted: str, heard: Numeral) -> bool:
    """A clock time counts however it is printed (9:15, 9.15, 915); another number only by its value."""
    if ":" in wanted:
        return sound(wanted) == heard.sound
    return heard.value == float(wanted)


def _normal(text: str) -> list[str]:
    """Words as they are compared: lower case, numbers as figures, spellings that mean the same made one."""
    plain = text.lower().replace("-", " ")
    for pattern, instead in _SPELLINGS:
        plain = re.sub(pattern, instead, plain)
    line = tokens(plain)
    starts = {numeral.first: numeral for numeral in numerals(line)}
    words: list[str] = []
    at = 0
    while at < len(line):
        numeral = starts.get(at)
        words.append(numeral.sound if numeral else line[at].replace("'", ""))
        at = numeral.last if numeral else at + 1
    return words


def _distance(wanted: Sequence[str], heard: Sequence[str]) -> int:
    row = list(range(len(heard) + 1))
    for i, left in enumerate(wanted, 1):
        diagonal, row[0] = row[0], i
        for j, right in enumerate(heard, 1):
            diagonal, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, diagonal + (left != right))
    return row[-1]

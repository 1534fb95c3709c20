"""Two people talking at once: what becomes of the numbers of either.

Pairs of the bench's lines in two voices, the second falling into the first. The numbers of both count: a
printed number is right when one of the two said it; one that nobody said, or one that is gone, must have a
doubt or a stretch that is told as not understood beside it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from capture.audio import RATE, Samples
from capture.bench.recordings import Clip, Line, clips, in_kitchen
from capture.bench.scoring import doubted_stretches, overlap, same_number
from capture.speech.numerals import numerals, parts
from shared.types import Stretch, Transcript

_PAUSE_S = 2.0
_SNR_DB = 15.0


@dataclass(frozen=True, slots=True)
class Both:
    """A recording of pairs of lines, each pair at once."""

    samples: Samples
    pairs: tuple[tuple[Line, Line], ...]


@dataclass(frozen=True, slots=True)
class Result:
    """Counts over all pairs; the second speaker is the one who falls in."""

    said_first: int = 0
    right_first: int = 0
    said_second: int = 0
    right_second: int = 0
    wrong_silent: int = 0
    """Numbers that nobody said, without a doubt."""
    wrong_doubted: int = 0
    gone_silent_first: int = 0
    """Numbers of the first speaker that are nowhere, in a pair without any doubt."""
    gone_silent_second: int = 0


def both(*, after: float, second_db: float, seed: int = 3, chosen: slice = slice(None)) -> Both:
    """Pairs of lines with numbers; the second begins `after` (a share) into the first, `second_db` louder.

    All pairs, or those `chosen` by their place.
    """
    numbered = [clip for clip in clips() if clip.numbers]
    shuffled = [numbered[index] for index in np.random.default_rng(seed).permutation(len(numbered))]
    pieces: list[Samples] = [np.zeros(5 * RATE, np.float32)]
    pairs: list[tuple[Line, Line]] = []
    at = len(pieces[0])
    for one, other in _pairs(shuffled)[chosen]:
        begins = int(after * len(one.samples))
        length = max(len(one.samples), begins + len(other.samples))
        mixed = np.zeros(length + int(_PAUSE_S * RATE), np.float32)
        mixed[: len(one.samples)] += one.samples
        mixed[begins : begins + len(other.samples)] += other.samples * np.float32(10 ** (second_db / 20))
        pairs.append((_line(one, at), _line(other, at + begins)))
        pieces.append(mixed)
        at += len(mixed)
    return Both(in_kitchen(np.concatenate(pieces), snr_db=_SNR_DB, seed=seed), tuple(pairs))


def counted(made: Both, found: Transcript) -> Result:
    """What became of the numbers."""
    counts = dict.fromkeys(Result.__dataclass_fields__, 0)
    words = [word for utterance in found.utterances for word in utterance.words]
    doubted, whole = doubted_stretches(found)
    for first, second in made.pairs:
        around = Stretch(first.start - 0.5, max(first.end, second.end) + 0.5)
        near = [word for word in words if around.start <= (word.start + word.end) / 2 <= around.end]
        told = any(overlap(around, stretch) for stretch in (*found.not_understood, *doubted, *whole))
        tokens = [(part, word) for word in near for part in parts(word.text)]
        left = {"first": list(first.numbers), "second": list(second.numbers)}
        for who, numbers in left.items():
            counts[f"said_{who}"] += len(numbers)
        for numeral in numerals([part for part, _ in tokens]):
            own = [word for _, word in tokens[numeral.first : numeral.last]]
            for who, numbers in left.items():
                hit = next((number for number in numbers if same_number(number, numeral)), None)
                if hit is not None:
                    numbers.remove(hit)
                    counts[f"right_{who}"] += 1
                    break
            else:
                has_doubt = any(overlap(word, stretch) for word in own for stretch in doubted)
                counts["wrong_doubted" if has_doubt else "wrong_silent"] += 1
        if not told:
            for who, numbers in left.items():
                counts[f"gone_silent_{who}"] += len(numbers)
    return Result(**counts)


def _pairs(row: Sequence[Clip]) -> list[tuple[Clip, Clip]]:
    """Each clip once, beside the next one in another voice."""
    left = list(row)
    found: list[tuple[Clip, Clip]] = []
    while left:
        one = left.pop(0)
        other = next((clip for clip in left if clip.voice != one.voice), None)
        if other is not None:
            left.remove(other)
            found.append((one, other))
    return found


def _line(clip: Clip, at: int) -> Line:
    return Line(clip.text, clip.numbers, clip.voice, at / RATE, (at + len(clip.samples)) / RATE)

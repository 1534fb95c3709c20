"""Whispers over noise, and kitchens with nobody in them: what is lost, and what is listed without cause."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from capture.audio import RATE, Samples
from capture.bench.recordings import LEVEL, Made, in_kitchen, kitchen, recording, whispered
from capture.bench.scoring import Score, score
from shared.types import Transcript

_PAUSE_S = (1.2, 2.6)
_KITCHEN_DB = (10.0, 0.0, -6.0)
"""How loud speech would be over the kitchen in which nobody speaks."""


@dataclass(frozen=True, slots=True)
class Whispered:
    """What came of whispered lines."""

    lines: int
    score: Score
    doubted: int
    """Utterances that are said to be whispered."""
    listed: int
    """Stretches that were not understood."""


@dataclass(frozen=True, slots=True)
class Nobody:
    """What came of noise."""

    minutes: float
    words: int
    listed: int


def whispers(snr_db: float | None, *, seed: int) -> Made:
    """The whispered lines of the noise bench with pauses, as loud over the noise as speech would be."""
    return recording(whispered(), snr_db=snr_db, pause_s=_PAUSE_S, seed=seed)


def came_of(made: Made, found: Transcript) -> Whispered:
    """What the transcript has of the whispered lines."""
    codes = [{doubt.code for doubt in utterance.doubts} for utterance in found.utterances]
    doubted = sum("faint_voice" in row for row in codes)
    return Whispered(len(made.lines), score(made.lines, found), doubted, len(found.not_understood))


def empty_rooms(minutes: float, *, seed: int) -> Iterator[tuple[str, Samples]]:
    """Kitchens with nobody in them, and single sounds of kitchens, each of this length."""
    length = int(minutes * 60 * RATE)
    for count, level in enumerate(_KITCHEN_DB):
        yield (
            f"kitchen {level:g} dB",
            in_kitchen(np.zeros(length, np.float32), snr_db=level, seed=seed + count),
        )
    for count, kind in enumerate(kitchen().KINDS):
        sound = kitchen().nobody(kind, length, RATE, seed=seed + 100 + count)
        yield kind, (LEVEL * sound).astype(np.float32)


def heard_of_nobody(samples: Samples, found: Transcript) -> Nobody:
    """How much was heard where nobody speaks."""
    words = sum(len(utterance.words) for utterance in found.utterances)
    return Nobody(len(samples) / RATE / 60, words, len(found.not_understood))

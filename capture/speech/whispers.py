"""What is heard where the voice detector hears nobody (`capture.faint`): whispers, told from noise.

The speech model itself is the witness. Over noise it prints a word that it does not believe in ("Drill.");
in a whisper it is as sure as in speech. The smaller model is asked first, since most of these stretches are
noise; only what it leaves open is heard by the larger one. Where both have the same words, they are printed;
where one of them hears somebody, the stretch is listed as not understood; else it was noise.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from capture.audio import levelled
from capture.speech import cleaning
from capture.speech.agreement import likeness
from capture.speech.decode import Heard, short_frames, window
from capture.speech.ear import Ear, hear_alone, hear_windows
from capture.speech.numerals import tokens
from capture.voice import Block
from shared.types import Stretch, Word

OPEN = -2.0
"""Mean log probability of a token; what the smaller model hears below it is noise, and the larger one does
not listen again from another place."""
SOMEBODY = -1.1
"""Above it a hearing of two words is of somebody."""
BELIEVED = -1.3
"""Above it even one word of the larger model is: in noise it believes none that much."""
PRINTED = -0.6
"""Above it, and where both models have half of the words alike, they are printed."""

_FEW = 2  # words; a single one is what noise sounds like
_ALIKE = 0.5
_SOMEWHAT_ALIKE = 0.2
_POOR = -1.5
_NEAR_S = 1.0


@dataclass(frozen=True, slots=True)
class Whispers:
    """What came of the faint stretches of a block."""

    words: dict[Stretch, Sequence[Word]]
    not_understood: tuple[Stretch, ...]


def whispers(block: Block, ear: Ear) -> Whispers:
    """The words of the faint stretches that are understood, and those in which somebody may speak."""
    words: dict[Stretch, Sequence[Word]] = {}
    missed: list[Stretch] = []
    left: list[Stretch] = []
    checked = _checked(block, ear)
    for faint in block.faint:
        heard, part = checked.get(faint), faint
        if heard is None or heard.log_probability >= OPEN:
            ends = (one.end for one in (*block.stretches, *words, *missed) if one.end <= faint.start)
            said, where = hear_alone(faint, max(ends, default=block.start), block, ear, hopeless=OPEN)
            part = where.stretches[0]
            if heard is not None and understood(said, heard):
                words[part] = said.words
                continue
            if somebody(said, heard):
                missed.append(part)
                continue
        left.append(faint)
    told = [*words, *missed]
    missed += [one for one in left if any(_near(one, other) for other in told)]
    return Whispers(words, tuple(sorted(missed, key=lambda one: one.start)))


def understood(heard: Heard, checked: Heard) -> bool:
    """Whether the words can be printed: the model is sure of them, and the other model has them too."""
    if len(heard.words) < _FEW or heard.log_probability < PRINTED or cleaning.objection(heard):
        return False
    return _likeness(heard, checked) >= _ALIKE


def somebody(heard: Heard, checked: Heard | None) -> bool:
    """Whether somebody speaks, understood or not."""
    if heard.words and heard.log_probability > BELIEVED:
        return True
    hearings = [heard] if checked is None else [heard, checked]
    if any(len(one.words) >= _FEW and one.log_probability > SOMEBODY for one in hearings):
        return True
    if checked is None or heard.log_probability < _POOR:
        return False
    return _likeness(heard, checked) > _SOMEWHAT_ALIKE


def _checked(block: Block, ear: Ear) -> dict[Stretch, Heard]:
    """What the smaller model hears in each faint stretch; nothing where there is no smaller model."""
    if ear.model.checker is None:
        return {}
    windows = [window([(one, levelled(block.piece(one)))]) for one in block.faint]
    windows.sort(key=short_frames)
    return {where.stretches[0]: heard for heard, where in hear_windows(windows, ear.model.checker, ear.bias)}


def _likeness(heard: Heard, other: Heard) -> float:
    return likeness(tokens(heard.text), tokens(other.text))


def _near(one: Stretch, other: Stretch) -> bool:
    return one.start - other.end < _NEAR_S and other.start - one.end < _NEAR_S

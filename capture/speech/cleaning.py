"""Text that nobody said, told from text that somebody did.

Over noise a speech model prints tails ("Thank you very much.") and loops. The measured rule (see
docs/speech.md): drop a hearing that the model itself thinks is no speech, or that packs too well to be talk.
What is dropped is kept and logged; a stretch that loses all its words is heard again alone before it counts
as not understood.
"""

from __future__ import annotations

from collections.abc import Sequence

from capture.speech.decode import LOOP, Heard
from shared.types import Word

NO_SPEECH = 0.45
LONE = 0.15
"""A stretch with a single word less probable than this has none."""

_LOOPS = 4


def objection(heard: Heard) -> str | None:
    """Why the hearing is not believed; None when it is."""
    if heard.no_speech > NO_SPEECH:
        return f"the model gives {heard.no_speech:.0%} that nobody speaks here"
    if heard.compression > LOOP:
        return f"the text repeats itself ({heard.compression:.1f} times smaller when packed)"
    if _repeats(heard.text):
        return "the text repeats itself"
    return None


def lone_guess(words: Sequence[Word]) -> str | None:
    """Why the words of a stretch are no more than a guess; None when they are more."""
    if len(words) == 1 and words[0].probability < LONE:
        return f"a single word, of which the model is unsure ({words[0].probability:.0%})"
    return None


def _repeats(text: str) -> bool:
    """Whether up to four words come four times in a row."""
    words = [word.strip(".,!?").lower() for word in text.split()]
    return any(
        words[at : at + size] * _LOOPS == words[at : at + size * _LOOPS]
        for size in range(1, 5)
        for at in range(len(words) - size * _LOOPS + 1)
    )

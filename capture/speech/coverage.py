"""Voice that the printed words leave uncovered, so that nothing vanishes unsaid.

The aligner gives every moment of a window to some word. Where the model left speech out, the word before
it comes out much longer than anybody takes to say it: `degrees` for two seconds. What is left out most is a
quiet voice that begins while a loud one ends; heard alone, most of it is understood.
"""

from __future__ import annotations

from collections.abc import Sequence

from capture.speech.numerals import parts
from capture.voice import PAD_S
from shared.types import Stretch, Word

LEAST_S = 0.4
"""What is shorter is a drawl, or the room."""

_SLOW_LETTERS_PER_S = 12.0
_EACH_WORD_S = 0.3
_PER_DIGIT = 5  # letters that a printed digit stands for, beyond itself


def uncovered(stretch: Stretch, words: Sequence[Word]) -> list[tuple[int, Stretch]]:
    """The parts of a voiced stretch that no word accounts for: after how many words each lies, and where."""
    found: list[tuple[int, Stretch]] = []
    ends = stretch.end - PAD_S
    for count, word in enumerate(words, start=1):
        following = words[count].start if count < len(words) else ends
        said = word.start + _takes_s(word.text)
        if following - said > LEAST_S:
            found.append((count, Stretch(said, stretch.end if count == len(words) else following)))
    return found


def _takes_s(text: str) -> float:
    """About how long it takes to say a word at most, with the room's echo."""
    letters = sum(len(part) + 1 for part in parts(text)) + _PER_DIGIT * sum(map(str.isdigit, text))
    return _EACH_WORD_S + letters / _SLOW_LETTERS_PER_S

"""Text that nobody said is taken out and logged; its stretch is then without words, and so not understood.

What the model prints over noise: measured in docs/speech.md.
"""

import numpy as np

from capture.audio import RATE
from capture.speech.decode import Heard, window
from capture.speech.ear import take
from shared.types import Removed, Stretch, Word

FIRST, SECOND = Stretch(10.0, 12.0), Stretch(20.0, 22.0)


def taken(*words: Word) -> tuple[dict[Stretch, list[str]], list[Removed]]:
    """The words of each stretch, and what was taken out."""
    where = window([(one, np.zeros(2 * RATE, np.float32)) for one in (FIRST, SECOND)])
    found: dict[Stretch, list[Word]] = {}
    removed: list[Removed] = []
    take(Heard(words, 0.1, -0.3), where, found, removed)
    return {one: [word.text for word in row] for one, row in found.items()}, removed


def word(text: str, start: float, probability: float = 0.9) -> Word:
    return Word(text, start, start + 0.5, probability)


def test_words_go_to_the_stretch_in_whose_seconds_they_lie() -> None:
    found, removed = taken(word("Ham,", 10.2), word("41.", 10.8), word("Milk.", 20.3))
    assert found == {FIRST: ["Ham,", "41."], SECOND: ["Milk."]}
    assert removed == []


def test_a_loop_leaves_no_stretch_any_word_and_is_logged() -> None:
    found, (out,) = taken(*(word("3", 10.2 + at / 10) for at in range(8)), word("Milk.", 20.3))
    assert found == {}
    assert (out.text[:5], out.start, out.end) == ("3 3 3", 10.0, 22.0)


def test_a_lone_word_that_the_model_does_not_believe_is_no_word() -> None:
    found, (out,) = taken(word("Ham,", 10.2), word("41.", 10.8), word("Drill.", 20.3, 0.07))
    assert found == {FIRST: ["Ham,", "41."], SECOND: []}
    assert (out.text, out.start, out.end) == ("Drill.", 20.0, 22.0)
    assert "7%" in out.why


def test_an_unlikely_word_among_others_stays() -> None:
    found, removed = taken(word("Quat", 10.2, 0.05), word("200.", 10.8), word("40.", 20.3, 0.2))
    assert found == {FIRST: ["Quat", "200."], SECOND: ["40."]}
    assert removed == []

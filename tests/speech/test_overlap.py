"""Two people at once: how their numbers are counted.

Lines: common practice, no source.
"""

import numpy as np

from capture.bench.overlap import Both, both, counted
from capture.bench.recordings import Line
from shared.types import Doubt, Transcript, Utterance, Word

PAIR = Both(
    np.zeros(0, np.float32),
    ((Line("ham is forty", ("40",), "one", 1.0, 3.0), Line("rice is one fifty", ("150",), "two", 2.0, 4.0)),),
)


def said(*texts: str, doubts: tuple[Doubt, ...] = ()) -> Transcript:
    words = tuple(Word(text, 1 + at / 4, 1.25 + at / 4, 0.9) for at, text in enumerate(texts))
    return Transcript((Utterance(" ".join(texts), 1.0, 4.0, words, doubts),))


def test_numbers_of_either_are_right() -> None:
    found = counted(PAIR, said("rice", "150", "ham", "40"))
    assert (found.right_first, found.right_second, found.wrong_silent) == (1, 1, 0)
    assert (found.gone_silent_first, found.gone_silent_second) == (0, 0)


def test_a_number_that_nobody_said_and_one_that_is_gone() -> None:
    found = counted(PAIR, said("ham", "is", "44"))
    assert (found.wrong_silent, found.gone_silent_first, found.gone_silent_second) == (1, 1, 1)


def test_a_doubt_makes_both_known() -> None:
    doubt = Doubt("passes_disagree", "Heard again.", None, (), 1.5, 1.75)
    found = counted(PAIR, said("ham", "is", "44", doubts=(doubt,)))
    assert (found.wrong_silent, found.wrong_doubted) == (0, 1)
    assert (found.gone_silent_first, found.gone_silent_second) == (0, 0)


def test_pairs_are_two_voices_and_each_line_is_used_once() -> None:
    pairs = both(after=0.7, second_db=-6.0).pairs
    assert all(
        first.voice != second.voice and first.start < second.start < first.end for first, second in pairs
    )
    texts = [line.text for pair in pairs for line in pair]
    assert len(texts) == len(set(texts)) >= 50

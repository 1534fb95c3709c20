"""Voice without words, two voices at once, memory: what is found before a doubt is made.

How long words take: common practice, no source; measured in docs/speech.md.
"""

import subprocess
import sys

import numpy as np
import psutil
import pytest

from capture.audio import RATE
from capture.bench.fit_two_voices import fitted, mixed
from capture.bench.recordings import Clip
from capture.speech import load_model, memory
from capture.speech import model as loading
from capture.speech.coverage import uncovered
from capture.speech.two_voices import POOLED, pooled, regions
from shared.types import Stretch, Word

WHOLE = Stretch(0.0, 6.25)


def row(*words: tuple[str, float, float]) -> list[Word]:
    return [Word(text, start, end, 0.9) for text, start, end in words]


def test_a_word_much_longer_than_it_takes_hides_speech() -> None:
    ((count, gap),) = uncovered(WHOLE, row(("twelve", 0.2, 0.8), ("degrees.", 0.8, 6.0)))
    assert count == 2
    assert (gap.start, gap.end) == (pytest.approx(1.77, abs=0.01), 6.25)


def test_speech_hidden_in_the_middle_ends_where_the_next_word_begins() -> None:
    ((count, gap),) = uncovered(
        WHOLE, row(("soup.", 0.2, 3.0), ("Ham", 3.0, 3.4), ("at", 3.4, 3.6), ("145.5", 3.6, 6.0))
    )
    assert (count, gap.end) == (1, 3.0)


@pytest.mark.parametrize("last", ["145.5", "temperature,", "eighty-seven"])
def test_long_words_hide_nothing(last: str) -> None:
    assert uncovered(Stretch(0.0, 2.25), row(("at", 0.2, 0.6), (last, 0.6, 2.0))) == []


def test_a_stretch_without_words_hides_nothing_more() -> None:
    assert uncovered(WHOLE, []) == []


# ---------------------------------------------------------------- two voices


def test_states_are_taken_together_in_tenths_of_a_second() -> None:
    states = np.arange(23 * 2, dtype=np.float32).reshape(23, 2)
    assert pooled(states).tolist() == [
        states[at : at + POOLED].mean(axis=0).tolist() for at in (0, 5, 10, 15)
    ]


def test_where_the_weighted_states_say_two_for_half_a_second(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("capture.speech.two_voices._weights", lambda: (np.ones(1, np.float32), -1.0))
    states = np.zeros((200, 1), np.float32)
    states[50:75] = 2.0
    states[150:155] = 2.0  # a tenth of a second is an echo
    (found,) = regions(states, 100.0)
    assert found.start == pytest.approx(101.0, abs=0.31) and found.end == pytest.approx(101.5, abs=0.31)
    assert regions(states[:20], 100.0) == []


def test_the_shipped_weights_are_one_for_each_state_of_the_base_model() -> None:
    assert regions(np.zeros((50, 512), np.float32), 0.0) == []


def test_labels_say_where_both_talk() -> None:
    """Two tones for two voices; the second falls into the first at some place, by chance."""
    time = np.arange(2 * RATE) / RATE
    voices = [
        Clip("", (), name, (0.07 * np.sin(2 * np.pi * pitch * time)).astype(np.float32))
        for name, pitch in (("one", 200.0), ("other", 330.0))
    ]
    made = next(
        made for seed in range(20) if (made := mixed(voices, seed=seed, snr_db=None)).labels.max() == 1
    )
    frames = made.samples[: len(made.labels) * 320].reshape(-1, 320)
    spectra = np.abs(np.fft.rfft(frames * np.hanning(320), 1600))
    has = spectra[:, [20, 33]] > 1.0  # bins of 10 Hz
    both = has.all(axis=1)
    assert (made.labels == 1).sum() > 0
    assert (both & (made.labels == 1)).sum() >= 0.8 * (made.labels == 1).sum()
    assert not (made.labels[~has.any(axis=1)] == 1).any()


def test_the_fit_finds_what_tells_the_classes_apart() -> None:
    random = np.random.default_rng(4)
    labels = (random.random(600) < 0.2).astype(np.int8)
    states = random.normal(0, 1, (600, 8)).astype(np.float32)
    states[:, 3] += 3 * labels
    weights, bias = fitted(states, labels)
    assert int(np.abs(weights).argmax()) == 3
    assert ((states @ weights + bias > 0) == (labels == 1)).mean() > 0.93


# ---------------------------------------------------------------- memory


FREED = """
import sys
import numpy as np, psutil
from capture.speech import load_model, memory
from capture.speech import model as loading
if sys.argv[1] == "kept":
    memory.one_heap()
process = psutil.Process()
piece = np.ones(30_000_000, np.float32)
held = process.memory_info().rss
del piece
kept = held - process.memory_info().rss < 10e6
memory.give_back()
print(kept, held - process.memory_info().rss > 100e6)
"""


@pytest.mark.parametrize(("how", "told"), [("kept", "True True"), ("as it is", "False True")])
def test_a_large_piece_is_kept_until_it_is_given_back(how: str, told: str) -> None:
    if memory._glibc() is None:
        pytest.skip("only glibc keeps it")
    done = subprocess.run([sys.executable, "-c", FREED, how], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == told


@pytest.mark.parametrize(("threads", "settled"), [(1, "one_heap"), (7, "one_heap"), (8, "few_heaps")])
def test_windows_heard_side_by_side_keep_less_memory(
    monkeypatch: pytest.MonkeyPatch, threads: int, settled: str
) -> None:
    called: list[str] = []
    for name in ("one_heap", "few_heaps"):
        monkeypatch.setattr(loading, name, lambda name=name: called.append(name))
    monkeypatch.setattr(loading, "_load", lambda *_: None)
    load_model(threads=threads, checked=False)
    assert called == [settled]
    load_model(threads=threads, checked=False, keeps_memory=False)
    assert called == [settled]


def test_memory_that_is_free_goes_back_to_the_system() -> None:
    if memory._glibc() is None:
        pytest.skip("only glibc keeps it")
    held_by = psutil.Process()
    rows = [np.ones(2_000, np.float32) for _ in range(20_000)]  # too small to be mapped one by one
    keep = rows[::1000]
    held = held_by.memory_info().rss
    del rows
    memory.give_back()
    assert held - held_by.memory_info().rss > 100e6
    assert len(keep) == 20

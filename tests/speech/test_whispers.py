"""Whispers, in which the voice detector hears nobody: told from noise, printed where two models agree.

How whispers and noise sound to the models: measured in docs/speech.md.
"""

from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from capture.audio import RATE, Samples, levelled, wav_bytes
from capture.bench.faint import came_of, empty_rooms, heard_of_nobody, whispers
from capture.bench.recordings import LEVEL, in_kitchen, kitchen, recording, whispered
from capture.bench.scoring import overlap
from capture.faint import LEAST_S, LONGEST_S, searched, speechlike
from capture.speech import SpeechModel, load_model, transcribe
from capture.speech.decode import Heard, Window, window
from capture.speech.ear import Ear
from capture.speech.whispers import somebody, understood
from capture.speech.whispers import whispers as heard_whispers
from capture.voice import Block, spoken_blocks, stretches
from shared.types import Stretch, Word

MINUTE = 60 * RATE


def heard(text: str, log_probability: float) -> Heard:
    words = tuple(Word(word, index / 2, index / 2 + 0.5, 0.8) for index, word in enumerate(text.split()))
    return Heard(words, 0.1, log_probability)


# ---------------------------------------------------------------- where somebody may speak


@pytest.mark.parametrize("kind", ["compressor", "water", "frying", "rustling", "pans", "chopping", "beeps"])
def test_what_keeps_its_colour_and_what_knocks_is_nobody(kind: str) -> None:
    sound = (LEVEL * kitchen().nobody(kind, 2 * MINUTE, RATE, seed=1)).astype(np.float32)
    assert searched(sound, []) == ([], [])


def test_a_working_kitchen_is_seldom_taken_for_somebody() -> None:
    sound = in_kitchen(np.zeros(5 * MINUTE, np.float32), snr_db=0.0, seed=3)
    _, found = searched(sound, [])
    assert len(found) <= 5
    assert sum(one.end - one.start for one in found) < 0.05 * 5 * 60


@pytest.mark.parametrize("snr_db", [10.0, 5.0])
def test_every_whispered_line_is_a_stretch_to_ask_about(snr_db: float) -> None:
    made = whispers(snr_db, seed=4)
    sound = levelled(made.samples)
    voiced = stretches(sound)
    whole, faint = searched(sound, voiced)
    assert [line.text for line in made.lines if not any(overlap(line, one) for one in (*whole, *faint))] == []
    without_voice = [line for line in made.lines if not any(overlap(line, one) for one in voiced)]
    assert len(without_voice) > len(made.lines) / 2  # the detector alone loses them


def test_a_sound_that_is_too_short_holds_nobody() -> None:
    voice = Stretch(0.1, 0.4)
    assert searched(np.zeros(RATE // 2, np.float32), [voice]) == ([voice], [])
    assert searched(np.zeros(0, np.float32), []) == ([], [])


@pytest.fixture
def murmur(monkeypatch: pytest.MonkeyPatch) -> Samples:
    """A minute in which somebody seems to speak from 10 to 55 s."""

    def like(samples: Samples) -> np.ndarray:
        at = np.arange(len(samples) // 256) * 256 / RATE
        return np.where((at >= 10) & (at < 55), 1.2, 0.2)

    monkeypatch.setattr("capture.faint.speechlike", like)
    return np.zeros(MINUTE, np.float32)


def test_what_the_detector_hears_is_not_asked_about_again(murmur: Samples) -> None:
    voice = Stretch(12.0, 53.0)
    whole, (first, last) = searched(murmur, [voice])
    assert whole == [voice]
    assert (first.end, last.start) == (pytest.approx(11.6), pytest.approx(53.4))
    assert searched(murmur, [Stretch(10.2, 55.0)])[1] == []  # what is left is shorter than a word


def test_a_stretch_of_which_the_detector_cut_off_a_second_is_widened(murmur: Samples) -> None:
    ((whole,), faint) = searched(murmur, [Stretch(11.0, 35.0)])
    assert whole == Stretch(pytest.approx(10.0, abs=0.02), 35.0)
    assert [one.start for one in faint] == [pytest.approx(35.4)]


def test_a_stretch_is_not_widened_into_another_nor_beyond_what_is_heard_at_once(murmur: Samples) -> None:
    near = [Stretch(9.0, 10.5), Stretch(11.0, 35.0)]
    assert searched(murmur, near)[0] == near
    long = [Stretch(11.0, 39.0)]
    assert searched(murmur, long)[0] == long


def test_long_murmurs_are_cut_into_parts_that_can_be_heard_at_once(murmur: Samples) -> None:
    _, found = searched(murmur, [], start=100.0)
    assert (found[0].start, found[-1].end) == (pytest.approx(109.75, abs=0.1), pytest.approx(155.25, abs=0.1))
    assert all(LEAST_S <= one.end - one.start <= LONGEST_S for one in found)
    assert all(one.end == other.start for one, other in pairwise(found))


def test_likeness_to_speech_does_not_depend_on_the_level() -> None:
    sound = whispers(10.0, seed=4).samples[: 30 * RATE]
    assert speechlike(sound) == pytest.approx(speechlike(0.1 * sound), abs=0.05)


def test_a_block_is_not_cut_in_a_whisper(monkeypatch: pytest.MonkeyPatch) -> None:
    whisper = Stretch(28.0, 31.0)

    def found(samples: Samples, voiced: Iterable[Stretch], *, start: float) -> tuple[list[Stretch], ...]:
        end = start + len(samples) / RATE
        return [], [Stretch(whisper.start, min(end, whisper.end))] if start < whisper.start < end else []

    monkeypatch.setattr("capture.voice.BLOCK_S", 30.0)
    monkeypatch.setattr("capture.voice.searched", found)
    blocks = list(spoken_blocks([np.zeros(RATE, np.float32)] * 45))
    assert [(block.start, block.end) for block in blocks] == [(0.0, 28.0), (28.0, 45.0)]
    assert [block.faint for block in blocks] == [(), (whisper,)]


# ---------------------------------------------------------------- what is heard there


def test_words_that_both_models_have_and_the_larger_is_sure_of_are_understood() -> None:
    assert understood(heard("Final rinse at 183.", -0.3), heard("Final rinse and 183.", -0.6))


@pytest.mark.parametrize(
    ("said", "checked"),
    [
        (heard("Final rinse at 183.", -0.9), heard("Final rinse at 183.", -0.6)),
        (heard("Final rinse at 183.", -0.3), heard("Mop sink.", -1.2)),
        (heard("Drill.", -0.3), heard("Drill.", -0.3)),
        (heard("3 3 3 3 3 3 3 3 3 3", -0.3), heard("3 3 3 3 3 3 3 3 3 3", -0.3)),
    ],
    ids=["unsure", "other words", "one word", "a loop"],
)
def test_other_words_are_not_printed(said: Heard, checked: Heard) -> None:
    assert not understood(said, checked)


def test_noise_is_a_word_that_no_model_believes_in() -> None:
    assert not somebody(heard("Drill.", -2.1), heard("Mop sink.", -1.25))
    assert not somebody(heard("Slicer.", -1.4), None)


def test_two_words_that_one_model_is_fairly_sure_of_are_somebody() -> None:
    assert somebody(heard("R.", -3.3), heard("I count three flies", -0.3))
    assert somebody(heard("Sausage lids.", -0.8), None)


def test_a_word_that_the_larger_model_believes_is_somebody_whatever_the_smaller_one_hears() -> None:
    assert somebody(heard("Water.", -1.1), heard("Yeah, why?", -1.9))
    assert not somebody(heard("Slicer.", -1.5), heard("Water.", -1.2))
    assert not somebody(heard("", 0.0), heard("Mop.", -1.9))


def test_words_in_common_are_somebody_however_unsure() -> None:
    assert somebody(heard("Not the edge.", -1.4), heard("Another edge.", -1.2))


class Ears:
    """Two models that hear what they are told to, and what the larger one was asked about."""

    def __init__(
        self, monkeypatch: pytest.MonkeyPatch, smaller: list[Heard] | None, larger: list[Heard]
    ) -> None:
        self.asked: list[Stretch] = []
        checker = None if smaller is None else model_of("tiny.en", None)
        self.ear = Ear(model_of("base", checker), "", (), ())
        faint = [Stretch(10.0 * at + 5.0, 10.0 * at + 7.0) for at in range(len(larger))]
        self.block = Block(0, 0.0, np.zeros(MINUTE, np.float32), (), tuple(faint))
        answers = dict(zip(faint, larger, strict=True))

        def alone(
            gap: Stretch, after: float, block: Block, ear: Ear, *, hopeless: float
        ) -> tuple[Heard, Window]:
            self.asked.append(gap)
            return answers[gap], window([(gap, block.piece(gap))])

        def together(windows: list[Window], model: SpeechModel, bias: str) -> list[tuple[Heard, Window]]:
            assert model is checker
            return list(zip(smaller or [], windows, strict=True))

        monkeypatch.setattr("capture.speech.whispers.hear_alone", alone)
        monkeypatch.setattr("capture.speech.whispers.hear_windows", together)


def model_of(name: str, checker: SpeechModel | None) -> SpeechModel:
    return SpeechModel(None, name, None, True, "cpu", checker=checker)  # type: ignore[arg-type]


DRILL, MOP = heard("Drill.", -2.1), heard("Mop.", -2.1)
RINSE = heard("Final rinse at 183.", -0.3)


def test_only_what_the_smaller_model_leaves_open_is_heard_by_the_larger(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    ears = Ears(monkeypatch, [MOP, RINSE], [DRILL, RINSE])
    _, whisper = ears.block.faint
    found = heard_whispers(ears.block, ears.ear)
    assert ears.asked == [whisper]
    assert found.words == {whisper: RINSE.words}
    assert found.not_understood == ()


def test_who_is_heard_and_not_understood_is_listed(monkeypatch: pytest.MonkeyPatch) -> None:
    ears = Ears(monkeypatch, [heard("Need smells. It's 100.", -0.7)], [heard("Need smiles. It's 100.", -0.9)])
    found = heard_whispers(ears.block, ears.ear)
    assert (found.words, found.not_understood) == ({}, ears.block.faint)


def test_noise_beside_a_whisper_is_listed_since_it_may_be_the_rest_of_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    ears = Ears(monkeypatch, [MOP, RINSE, MOP], [DRILL, RINSE, DRILL])
    before, whisper, after = Stretch(5.0, 7.0), Stretch(15.0, 17.0), Stretch(17.5, 18.5)
    answers = {before: DRILL, whisper: RINSE, after: DRILL}
    block = replace(ears.block, faint=(before, whisper, after))
    monkeypatch.setattr(
        "capture.speech.whispers.hear_alone",
        lambda gap, after, block, ear, hopeless: (answers[gap], window([(gap, block.piece(gap))])),
    )
    found = heard_whispers(block, ears.ear)
    assert list(found.words) == [whisper]
    assert found.not_understood == (after,)


def test_without_a_second_model_nothing_is_printed(monkeypatch: pytest.MonkeyPatch) -> None:
    ears = Ears(monkeypatch, None, [RINSE, DRILL])
    found = heard_whispers(ears.block, ears.ear)
    assert (found.words, found.not_understood) == ({}, ears.block.faint[:1])


@pytest.mark.parametrize(("sure", "places"), [(-2.1, 1), (-1.9, 2)])
def test_what_is_noise_from_one_place_is_not_heard_from_another(
    monkeypatch: pytest.MonkeyPatch, sure: float, places: int
) -> None:
    asked: list[Window] = []

    class Listening:
        def __init__(self, model: SpeechModel, windows: list[Window], *, frames: int) -> None:
            asked.extend(windows)
            self.windows = windows

        def hear(self, *, hotwords: str) -> list[Heard]:
            return [heard("Drill.", sure) for _ in self.windows]

    monkeypatch.setattr("capture.speech.ear.Encoded", Listening)
    monkeypatch.setattr("capture.speech.whispers.hear_windows", lambda *_: [])
    block = Block(0, 0.0, np.zeros(MINUTE, np.float32), (), (Stretch(5.0, 7.0),))
    heard_whispers(block, Ear(model_of("base", None), "", (), ()))
    assert [round(one.stretches[0].start, 1) for one in asked] == [4.8, 4.6][:places]


# ---------------------------------------------------------------- with the real models


@pytest.fixture(scope="module")
def model() -> SpeechModel:
    return load_model()


@pytest.mark.slow
def test_no_whispered_line_is_lost_untold_and_every_printed_one_is_doubted(
    tmp_path: Path, model: SpeechModel
) -> None:
    made = recording(whispered()[7:14], snr_db=10.0, pause_s=(1.2, 2.6), seed=2)
    path = tmp_path / "whispers.wav"
    path.write_bytes(wav_bytes(made.samples))
    found = transcribe(path, model=model)
    result = came_of(made, found)
    assert (result.score.lost_lines, result.score.wrong_silent, result.score.invented_words) == (0, 0, 0)
    assert result.score.right >= 0.6 * result.score.numbers
    voiced = stretches(levelled(made.samples))
    for utterance in found.utterances:
        if not any(overlap(utterance, one) for one in voiced):
            assert "faint_voice" in {doubt.code for doubt in utterance.doubts}


@pytest.mark.slow
def test_nobody_is_heard_in_dishes_and_machines(tmp_path: Path, model: SpeechModel) -> None:
    path = tmp_path / "empty.wav"
    for name, samples in empty_rooms(0.75, seed=9):
        if name in ("kitchen 0 dB", "cutlery", "ice"):
            path.write_bytes(wav_bytes(samples))
            result = heard_of_nobody(samples, transcribe(path, model=model))
            assert (name, result.words, result.listed) == (name, 0, 0)

"""Words to utterances, blocks to stretches, checkpoints that survive."""

import json
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from capture.audio import RATE, load
from capture.speech.checkpoints import Checkpoints, Done
from capture.speech.cleaning import objection
from capture.speech.decode import Heard, pack, placed, window
from capture.speech.utterances import gather, spans_of, text_of
from capture.voice import Block, spoken_blocks, stretches
from shared.errors import InputError
from shared.types import Doubt, Removed, Stretch, Transcript, Utterance, Word

CLIPS = Path(__file__).parents[2] / "audio_fixtures" / "noise_bench" / "clips"


def words(text: str, start: float = 0.0, each: float = 0.5) -> list[Word]:
    return [Word(word, start + i * each, start + (i + 1) * each, 0.9) for i, word in enumerate(text.split())]


def lines(*runs: tuple[float, float, str]) -> list[str]:
    return [text_of(row) for row in gather((start, end, words(text, start)) for start, end, text in runs)]


def test_a_pause_of_a_second_ends_an_utterance() -> None:
    assert lines((0, 2, "turkey is 48.5"), (3.0, 4, "and ham 41")) == ["turkey is 48.5", "and ham 41"]


def test_a_short_pause_does_not() -> None:
    assert lines((0, 2, "turkey is"), (2.8, 4, "48.5")) == ["turkey is 48.5"]


def test_a_stretch_without_words_ends_nothing() -> None:
    assert lines((0, 2, "turkey is"), (2.3, 2.5, ""), (2.8, 4, "48.5")) == ["turkey is 48.5"]


def test_long_talk_is_cut_where_a_sentence_ends() -> None:
    talk = " ".join(["word"] * 45) + " end. And more."
    assert [len(line.split()) for line in lines((0, 30, talk))] == [46, 2]


def test_spans_point_at_their_words() -> None:
    row = words("Ham is 41.")
    text = text_of(row)
    assert [text[a:b] for a, b in spans_of(row)] == ["Ham", "is", "41."]


@pytest.mark.parametrize(
    ("heard", "believed"),
    [
        (Heard(tuple(words("turkey is 48.5")), 0.02, -0.2), True),
        (Heard(tuple(words("Thank you very much.")), 0.7, -0.4), False),
        (Heard(tuple(words("the cooler " * 12)), 0.01, -0.1), False),
        (Heard(tuple(words("no no no no that's fine")), 0.01, -0.1), False),
        (Heard(tuple(words("no no, that's fine, no thanks")), 0.01, -0.1), True),
    ],
    ids=["talk", "tail over noise", "loop", "short loop", "repeated word"],
)
def test_what_is_not_believed(heard: Heard, believed: bool) -> None:
    assert (objection(heard) is None) is believed


def test_stretches_are_packed_in_order_into_windows_of_at_most_28_s() -> None:
    pieces = [(Stretch(t, t + 12), np.ones(12 * RATE, np.float32)) for t in (0.0, 20.0, 40.0, 60.0)]
    windows = pack(pieces)
    assert [len(one.stretches) for one in windows] == [2, 2]
    assert all(one.duration_s <= 28 for one in windows)
    assert [stretch for one in windows for stretch in one.stretches] == [stretch for stretch, _ in pieces]


def test_a_second_in_a_window_leads_back_to_its_stretch() -> None:
    one = window([(Stretch(100, 102), np.ones(2 * RATE, np.float32)),
                  (Stretch(200, 203), np.ones(3 * RATE, np.float32))])  # fmt: skip
    assert one.stretch_at(1.0) == (Stretch(100, 102), 0.0)
    stretch, offset = one.stretch_at(3.0)
    assert (stretch, offset) == (Stretch(200, 203), pytest.approx(2.4))


# ---------------------------------------------------------------- voice


def test_silence_and_noise_hold_no_voice() -> None:
    assert stretches(np.zeros(5 * RATE, np.float32)) == ()
    noise = np.random.default_rng(3).normal(0, 0.05, 20 * RATE).astype(np.float32)
    assert stretches(noise) == ()
    assert stretches(np.zeros(0, np.float32)) == ()


def test_a_voice_is_found_where_it_is() -> None:
    voice = load(CLIPS / "001-bf_emma.opus")
    quiet = np.zeros(3 * RATE, np.float32)
    (one,) = stretches(np.concatenate([quiet, voice, quiet]), start=100.0)
    assert one.start == pytest.approx(103, abs=0.5)
    assert one.end == pytest.approx(103 + len(voice) / RATE, abs=0.5)


def blocks_of(samples: np.ndarray, seconds: float, monkeypatch: pytest.MonkeyPatch) -> list[Block]:
    monkeypatch.setattr("capture.voice.BLOCK_S", seconds)
    return list(spoken_blocks(samples[at : at + RATE] for at in range(0, len(samples), RATE)))


def test_blocks_cover_everything_and_cut_no_voice(monkeypatch: pytest.MonkeyPatch) -> None:
    voice = load(CLIPS / "001-bf_emma.opus")
    samples = np.concatenate([np.concatenate([voice, np.zeros(RATE, np.float32)]) for _ in range(6)])
    found = blocks_of(samples, 8.0, monkeypatch)
    assert len(found) > 2
    assert sum(len(block.samples) for block in found) == len(samples)
    assert [block.index for block in found] == list(range(len(found)))
    for one, after in pairwise(found):
        assert one.end == pytest.approx(after.start)
    cut = [stretch for block in found for stretch in block.stretches]
    whole = stretches(samples)
    assert len(cut) == len(whole)
    for mine, theirs in zip(cut, whole, strict=True):
        assert mine.start == pytest.approx(theirs.start, abs=0.3)
        assert mine.end == pytest.approx(theirs.end, abs=0.3)


# ---------------------------------------------------------------- checkpoints


PART = Transcript(
    (
        Utterance(
            "Turkey 48.5",
            1.0,
            2.0,
            tuple(words("Turkey 48.5")),
            (Doubt("unsure", "listen.", (7, 11), ("45.5",), 1.5, 2.0),),
            "turkey 48.5",
        ),
    ),
    (Stretch(4.0, 5.0),),
    (Removed("Thank you.", 6.0, 7.0, "nobody speaks"),),
)


def kept(tmp_path: Path, **settings: object) -> Checkpoints:
    recording = tmp_path / "walk.wav"
    if not recording.exists():
        recording.write_bytes(b"sound")
    return Checkpoints(tmp_path / "progress", recording, {"model": "base", **settings})


def test_what_is_kept_comes_back_the_same(tmp_path: Path) -> None:
    kept(tmp_path).keep(Done(0, 16_000, PART))
    kept(tmp_path).keep(Done(1, 32_000, Transcript(())))
    assert kept(tmp_path).done() == [Done(0, 16_000, PART), Done(1, 32_000, Transcript(()))]


def test_nothing_is_taken_over_from_other_settings_or_another_recording(tmp_path: Path) -> None:
    kept(tmp_path).keep(Done(0, 16_000, PART))
    assert kept(tmp_path, bias="Ham.").done() == []
    (tmp_path / "walk.wav").write_bytes(b"other sound")
    assert kept(tmp_path).done() == []


def test_blocks_after_a_damaged_one_are_done_again(tmp_path: Path) -> None:
    for index in range(3):
        kept(tmp_path).keep(Done(index, 16_000 * (index + 1), PART))
    (damaged,) = tmp_path.glob("progress/*/block-0001.json")
    damaged.write_text(json.dumps({"end": 1})[:-3])
    assert [done.index for done in kept(tmp_path).done()] == [0]


def test_clear_forgets(tmp_path: Path) -> None:
    kept(tmp_path).keep(Done(0, 16_000, PART))
    kept(tmp_path).clear()
    assert kept(tmp_path).done() == []


def test_no_room_is_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "progress").write_text("not a folder")
    with pytest.raises(InputError, match="progress cannot be kept"):
        kept(tmp_path).keep(Done(0, 1, PART))


def test_a_word_whose_end_was_aligned_into_the_next_stretch_stays_in_its_own() -> None:
    sound = np.zeros(2 * RATE, np.float32)
    where = window([(Stretch(10.0, 12.0), sound), (Stretch(30.0, 32.0), sound)])
    pieces = [
        {"word": " oven.", "start": 1.0, "end": 1.5, "probability": 0.9},
        {"word": " 165", "start": 1.6, "end": 1.9, "probability": 0.9},
        {"word": ".5", "start": 2.6, "end": 2.9, "probability": 0.8},
    ]
    _, number = placed(pieces, where)
    assert (number.text, number.start, number.end) == ("165.5", pytest.approx(11.6), 12.0)

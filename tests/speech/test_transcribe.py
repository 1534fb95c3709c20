"""The real model on short recordings: nothing invented, nothing lost, no silent wrong number."""

import json
import shutil
import signal
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from capture.audio import RATE, wav_bytes
from capture.bench.human import human_scores
from capture.bench.overlap import both, counted
from capture.bench.recordings import Made, clips, kitchen, recording
from capture.bench.scoring import overlap, score
from capture.speech import Progress, SpeechModel, load_model, transcribe
from capture.speech.checkpoints import Checkpoints
from capture.speech.decode import Encoded, window
from review_api.command import main
from shared.errors import InputError
from shared.types import Stretch, Transcript

pytestmark = pytest.mark.slow

BLOCK_S = 20.0
RUN = (
    f"import capture.voice; capture.voice.BLOCK_S = {BLOCK_S}\n"
    + """
import sys, pathlib
from capture.speech import load_model, transcribe
transcribe(pathlib.Path(sys.argv[1]), model=load_model(),
           checkpoints=pathlib.Path(sys.argv[2]))
"""
)


@pytest.fixture(scope="session")
def model() -> SpeechModel:
    return load_model()


@pytest.fixture(scope="session")
def made() -> Made:
    """Ten lines of four voices at 10 dB of kitchen noise, ten seconds without speech before and after."""
    return recording(clips()[:60:6], snr_db=10.0, pause_s=(1.5, 2.5))


@pytest.fixture(scope="session")
def walk(made: Made, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("speech") / "walk.wav"
    path.write_bytes(wav_bytes(made.samples))
    return path


@pytest.fixture(scope="session")
def heard(walk: Path, model: SpeechModel) -> Transcript:
    return transcribe(walk, model=model)


@pytest.fixture(scope="session")
def stroll(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three lines far apart, so that two of them lie in the first block and one in the second."""
    path = tmp_path_factory.mktemp("speech") / "stroll.wav"
    path.write_bytes(wav_bytes(recording(clips()[:18:6], snr_db=10.0, pause_s=(25.0, 26.0)).samples))
    return path


@pytest.fixture(scope="session")
def heard_in_blocks(stroll: Path, model: SpeechModel) -> tuple[Transcript, list[Progress]]:
    """The stroll in blocks, and what was told on the way."""
    told: list[Progress] = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("capture.voice.BLOCK_S", BLOCK_S)
        return transcribe(stroll, model=model, progress=told.append), told


def test_no_number_is_wrong_without_a_doubt(made: Made, heard: Transcript) -> None:
    result = score(made.lines, heard)
    assert result.wrong_silent == 0
    assert result.right >= 0.7 * result.numbers  # two of eight are doubted misprints: `97th`, `4k4`


def test_nothing_is_invented_and_nothing_lost(made: Made, heard: Transcript) -> None:
    result = score(made.lines, heard)
    assert (result.invented_words, result.lost_lines) == (0, 0)
    assert result.word_error_rate < 0.15


def test_words_carry_times_and_probabilities_and_spans_their_text(made: Made, heard: Transcript) -> None:
    before = 0.0
    for utterance in heard.utterances:
        assert utterance.start is not None and utterance.end is not None
        assert before <= utterance.start < utterance.end <= made.duration_s
        before = utterance.start
        assert " ".join(word.text for word in utterance.words) == utterance.text
        assert all(0 <= word.probability <= 1 and word.start <= word.end for word in utterance.words)
        for doubt in utterance.doubts:
            assert doubt.span is not None and utterance.text[slice(*doubt.span)]
            assert doubt.start is not None and doubt.end is not None and doubt.why.endswith(".")


def test_each_line_is_an_utterance_of_its_own(made: Made, heard: Transcript) -> None:
    assert abs(len(heard.utterances) - len(made.lines)) <= 1


def test_windows_encoded_one_after_the_other_come_out_as_in_one_batch(
    made: Made, model: SpeechModel, monkeypatch: pytest.MonkeyPatch
) -> None:
    lengths = (4, 7, 9)
    windows = [
        window([(Stretch(10.0, 10.0 + s), made.samples[10 * RATE : (10 + s) * RATE])]) for s in lengths
    ]
    sizes: list[int] = []
    encode = model.whisper.encode

    def counted(batch: NDArray[np.float32]) -> Any:
        sizes.append(len(batch))
        return encode(batch)

    monkeypatch.setattr(model.whisper, "encode", counted)
    apart = Encoded(model, windows, frames=1000).states()
    together = Encoded(replace(model, device="cuda"), windows, frames=1000)
    assert sizes == [1, 1, 1, 3]
    assert np.array_equal(apart, np.array(together._output, np.float32))


def test_a_kitchen_without_talk_has_no_words(tmp_path: Path, model: SpeechModel) -> None:
    noise = kitchen().kitchen(40 * RATE, RATE, [clip.samples for clip in clips()[:6]], seed=5)
    path = tmp_path / "empty.wav"
    path.write_bytes(wav_bytes((0.03 * noise).astype(np.float32)))
    found = transcribe(path, model=model)
    assert found.utterances == ()


def test_silence_has_no_words(tmp_path: Path, model: SpeechModel) -> None:
    path = tmp_path / "silence.wav"
    path.write_bytes(wav_bytes(np.zeros(5 * RATE, np.float32)))
    assert transcribe(path, model=model) == Transcript(())


def test_people_are_understood_or_doubted(model: SpeechModel) -> None:
    """Human speech. Source: PocketSphinx's test data and its transcriptions (BSD-2, Carnegie Mellon)."""
    rows = human_scores(model=model, shipped=True)
    assert len(rows) == 6
    assert [row.heard for row in rows if row.score.wrong_silent] == []
    assert sum(row.score.right for row in rows) >= 0.6 * sum(row.score.numbers for row in rows)


def test_a_run_that_is_killed_goes_on_where_it_was(
    stroll: Path,
    heard_in_blocks: tuple[Transcript, list[Progress]],
    tmp_path: Path,
    model: SpeechModel,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("capture.voice.BLOCK_S", BLOCK_S)
    whole, _ = heard_in_blocks
    progress = tmp_path / "progress"
    running = subprocess.Popen([sys.executable, "-c", RUN, str(stroll), str(progress)])
    deadline = time.monotonic() + 120
    while not list(progress.glob("*/block-*.json")) and time.monotonic() < deadline:
        time.sleep(0.02)
    running.send_signal(signal.SIGKILL)
    running.wait()
    done = len(list(progress.glob("*/block-*.json")))
    assert done >= 1
    told: list[Progress] = []
    found = transcribe(stroll, model=model, checkpoints=progress, progress=told.append)
    assert found == whole
    assert len(whole.utterances) == 3
    assert told[0].resumed_s > 0
    assert list(progress.glob("*/*")) == []


def test_progress_counts_up_to_the_end(heard_in_blocks: tuple[Transcript, list[Progress]]) -> None:
    _, told = heard_in_blocks
    assert len(told) > 2
    assert [one.done_s for one in told] == sorted(one.done_s for one in told)
    assert told[-1].done_s == pytest.approx(told[-1].total_s, abs=0.1)
    assert told[0].left_s is not None and told[-1].left_s == pytest.approx(0, abs=0.1)


def test_a_full_disk_is_a_sentence(
    tmp_path: Path, model: SpeechModel, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "quiet.wav"
    path.write_bytes(wav_bytes(np.zeros(RATE, np.float32)))

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Checkpoints, "_file", full)
    with pytest.raises(InputError, match="No space left"):
        transcribe(path, model=model, checkpoints=tmp_path)


# ---------------------------------------------------------------- the command


def test_json_of_the_command_and_a_bad_file_beside_a_good_one(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("capture.commands.transcribe.progress_folder", lambda: tmp_path / "progress")
    good = Path(__file__).parents[2] / "audio_fixtures/noise_bench/clips/001-bf_emma.opus"
    bad = tmp_path / "notes.wav"
    bad.write_text("milk, eggs")
    assert main(["transcribe", str(bad), str(good), "--json"]) == 2
    out, err = capsys.readouterr()
    (line,) = out.splitlines()
    told = json.loads(line)
    assert told["schema"] == "probeside/1"
    assert told["file"].endswith("001-bf_emma.opus")
    assert {"start", "end", "text", "words", "doubts"} <= set(told["utterances"][0])
    assert {"text", "start", "end", "probability"} == set(told["utterances"][0]["words"][0])
    assert told["not_understood"] == []
    assert "48.5" in " ".join(one["text"] for one in told["utterances"])
    assert str(bad) in err and "Traceback" not in err


def test_a_folder_that_is_no_model_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["transcribe", "x.wav", "--speech-model", str(tmp_path)]) == 2
    err = capsys.readouterr().err
    assert str(tmp_path) in err and "has no model.bin" in err


def test_weights_of_the_user_are_called_unverified(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    from capture.speech.weights import TINY_EN, ready

    monkeypatch.setattr("capture.commands.transcribe.progress_folder", lambda: tmp_path / "progress")
    folder = tmp_path / "own-model"
    folder.mkdir()
    for path in ready(TINY_EN).iterdir():
        if path.name != "model.bin":
            shutil.copy(path, folder)
    whole = bytearray((ready(TINY_EN) / "model.bin").read_bytes())
    whole[-1] ^= 1  # one bit in the last weight: a model that loads and is not the known one
    (folder / "model.bin").write_bytes(whole)
    clip = Path(__file__).parents[2] / "audio_fixtures/noise_bench/clips/001-bf_emma.opus"
    assert main(["transcribe", str(clip), "--speech-model", str(folder)]) == 0
    assert "not verified" in capsys.readouterr().err


# ---------------------------------------------------------------- two people at once


def test_one_voice_is_never_taken_for_two(heard: Transcript) -> None:
    codes = {doubt.code for utterance in heard.utterances for doubt in utterance.doubts}
    assert not codes & {"talked_over", "left_out"}


@pytest.mark.parametrize(
    ("after", "second_db"), [(0.7, -12.0), (0.4, 0.0)], ids=["quiet tail", "equally loud"]
)
def test_no_number_of_two_people_at_once_is_gone_unsaid(
    after: float, second_db: float, tmp_path: Path, model: SpeechModel
) -> None:
    made = both(after=after, second_db=second_db, chosen=slice(4, 6))
    path = tmp_path / "both.wav"
    path.write_bytes(wav_bytes(made.samples))
    found = transcribe(path, model=model)
    result = counted(made, found)
    assert (result.gone_silent_first, result.gone_silent_second) == (0, 0)
    for one, other in made.pairs:
        around = Stretch(one.start, max(one.end, other.end))
        said = [utterance for utterance in found.utterances if overlap(utterance, around)]
        codes = {doubt.code for utterance in said for doubt in utterance.doubts}
        told = any(overlap(stretch, around) for stretch in found.not_understood)
        assert told or codes & {"talked_over", "left_out"}, [utterance.text for utterance in said]

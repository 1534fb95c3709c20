"""Recordings with a damaged part: what follows it keeps its time, and the damage is told."""

import io
import json
import wave
from pathlib import Path

import numpy as np
import pytest

from capture.audio import RATE, Sound, clip, load
from capture.media_type import sniff
from capture.recordings import look
from capture.speech.utterances import gather
from capture.voice import spoken_blocks
from review_api.command import main
from review_api.playable import playable
from shared.types import Stretch, Word
from tests.speech.test_audio import tone, write

LENGTH_S, FIRST_S, SECOND_S = 45, 5, 40

KINDS = [
    ("a.ogg", "libopus", "ogg", 48_000),
    ("a.flac", "flac", "flac", 16_000),
    ("a.m4a", "aac", "ipod", 48_000),
    ("a.webm", "libopus", "webm", 48_000),
    ("a.mp3", "libmp3lame", "mp3", 44_100),
]


def damaged(path: Path, codec: str, container: str, rate: int, *, part: tuple[float, float]) -> Path:
    """Noise with a beep at 5 s and at 40 s, part of its file overwritten."""
    sound = np.random.default_rng(1).normal(0, 0.02, LENGTH_S * rate).astype(np.float32)
    for at in (FIRST_S, SECOND_S):
        sound[at * rate : at * rate + rate // 10] += tone(0.1, rate, hz=1000, level=0.5)
    whole = bytearray(write(path, sound[None], rate, codec, container).read_bytes())
    first, last = (round(len(whole) * at) for at in part)
    whole[first:last] = np.random.default_rng(2).bytes(last - first)
    path.write_bytes(whole)
    return path


def loud(samples: np.ndarray, rate: int) -> list[float]:
    return [float(at) / rate for at in np.flatnonzero(np.abs(samples) > 0.3)]


@pytest.mark.parametrize(("name", "codec", "container", "rate"), KINDS)
def test_what_is_played_keeps_the_times_of_the_transcript(
    tmp_path: Path, name: str, codec: str, container: str, rate: int
) -> None:
    path = damaged(tmp_path / name, codec, container, rate, part=(0.4, 0.6))
    played, _ = playable(path, "audio/ogg", kept_in=tmp_path / "kept")
    samples = load(played, level=False)
    assert len(samples) / RATE == pytest.approx(LENGTH_S, abs=0.1)
    assert next(at for at in loud(samples, RATE) if at > 30) == pytest.approx(SECOND_S, abs=0.05)


@pytest.mark.parametrize(("name", "codec", "container", "rate"), KINDS)
def test_what_follows_a_hole_keeps_its_time(
    tmp_path: Path, name: str, codec: str, container: str, rate: int
) -> None:
    path = damaged(tmp_path / name, codec, container, rate, part=(0.4, 0.6))
    sound = Sound(path)
    samples = np.concatenate(list(sound.blocks(level=False)))
    assert len(samples) / RATE == pytest.approx(LENGTH_S, abs=0.1)
    beeps = loud(samples, RATE)
    assert beeps[0] == pytest.approx(FIRST_S, abs=0.05)
    assert next(at for at in beeps if at > 30) == pytest.approx(SECOND_S, abs=0.05)
    (hole,) = sound.holes
    assert 16 < hole.start < 19 and 26 < hole.end < 31
    assert not samples[round(hole.start * RATE) + 800 : round(hole.end * RATE) - 800].any()
    (told,) = sound.warnings
    assert f"{hole.end - hole.start:.1f} s of it cannot be read: 00:1" in told
    assert ("estimates" in told) == (name == "a.mp3")


@pytest.mark.parametrize(("name", "codec", "container", "rate"), KINDS)
def test_a_clip_over_and_after_a_hole(
    tmp_path: Path, name: str, codec: str, container: str, rate: int
) -> None:
    path = damaged(tmp_path / name, codec, container, rate, part=(0.4, 0.6))
    for start, end, beep in ((16.0, 30.0, None), (39.5, 41.0, 0.5)):
        with wave.open(io.BytesIO(clip(path, start, end))) as heard:
            at = heard.getframerate()
            samples = np.frombuffer(heard.readframes(heard.getnframes()), "<i2") / 32768
        assert len(samples) / at == pytest.approx(end - start, abs=0.01)
        if beep is not None:
            assert loud(samples, at)[0] == pytest.approx(beep, abs=0.05)


@pytest.mark.parametrize(("name", "codec", "container", "rate"), KINDS)
def test_a_whole_recording_has_no_hole(
    tmp_path: Path, name: str, codec: str, container: str, rate: int
) -> None:
    sound = Sound(damaged(tmp_path / name, codec, container, rate, part=(0.5, 0.5)))
    assert sum(map(len, sound.blocks())) / RATE == pytest.approx(LENGTH_S, abs=0.1)
    assert (sound.holes, sound.warnings) == ([], [])


def test_an_end_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    sound = Sound(damaged(tmp_path / "a.flac", "flac", "flac", 16_000, part=(0.6, 1.0)))
    list(sound.blocks())
    (told,) = sound.warnings
    assert told.startswith("breaks off after 2") and " s of 45 s; " in told


def test_a_short_recording_goes_on_behind_the_hole_when_it_is_taken_in(tmp_path: Path) -> None:
    path = tmp_path / "a.ogg"
    write(path, tone(20, 48_000)[None], 48_000, "libopus", "ogg")
    whole = bytearray(path.read_bytes())
    whole[len(whole) * 4 // 10 : len(whole) * 6 // 10] = bytes(len(whole) * 6 // 10 - len(whole) * 4 // 10)
    path.write_bytes(whole)
    found = look(path, sha256="0" * 64, media=sniff(path, "a.ogg"), name="a.ogg")
    assert found.duration_s == pytest.approx(20, abs=0.1)
    assert not [warning for warning in found.warnings if "breaks off" in warning]


def test_words_on_both_sides_of_a_hole_are_utterances_of_their_own() -> None:
    words = [Word(text, at, at + 0.3, 0.9) for text, at in (("soup", 1.0), ("at", 1.4), ("forty", 2.1))]
    assert len(gather([(1.0, 2.4, words)])) == 1
    one, other = gather([(1.0, 2.4, words)], holes=[Stretch(1.75, 2.05)])
    assert [[word.text for word in row] for row in (one, other)] == [["soup", "at"], ["forty"]]


def test_a_block_knows_its_holes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("capture.voice.BLOCK_S", 8.0)
    pieces = [np.zeros(RATE, np.float32)] * 20
    found = list(spoken_blocks(pieces, holes=[Stretch(9.0, 9.5), Stretch(30.0, 31.0)]))
    assert [block.holes for block in found] == [(), (Stretch(9.0, 9.5),), ()]


@pytest.mark.slow
def test_a_damaged_recording_is_told_and_its_words_keep_their_times(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("capture.commands.transcribe.progress_folder", lambda: tmp_path / "progress")
    voice = load(Path(__file__).parents[2] / "audio_fixtures/noise_bench/clips/001-bf_emma.opus")
    sound = np.random.default_rng(1).normal(0, 0.001, 30 * RATE).astype(np.float32)
    sound[: len(voice)] += voice
    sound[22 * RATE : 22 * RATE + len(voice)] += voice
    path = write(tmp_path / "walk.flac", sound[None], RATE, "flac", "flac")
    whole = bytearray(path.read_bytes())
    whole[len(whole) * 45 // 100 : len(whole) * 55 // 100] = np.random.default_rng(2).bytes(
        len(whole) * 55 // 100 - len(whole) * 45 // 100
    )
    path.write_bytes(whole)
    assert main(["transcribe", str(path), "--json"]) == 0
    out, err = capsys.readouterr()
    told = json.loads(out)
    assert f"probeside: {path}: " in err and "cannot be read: 00:" in err
    assert len(told["warnings"]) == 1
    first, second = told["utterances"][0], told["utterances"][-1]
    assert second["start"] - first["start"] == pytest.approx(22, abs=0.3)

"""Sound from any container and rate, in bounded memory; bad files get a sentence."""

import io
import tracemalloc
import wave
from fractions import Fraction
from pathlib import Path

import av
import numpy as np
import pytest
from numpy.typing import NDArray

from capture.audio import RATE, Sound, clip, levelled, load, peaks
from shared.errors import InputError

Samples = NDArray[np.float32]


def tone(seconds: float, rate: int = RATE, *, hz: float = 440.0, level: float = 0.3) -> Samples:
    time = np.arange(int(seconds * rate)) / rate
    return (level * np.sin(2 * np.pi * hz * time)).astype(np.float32)


def write(path: Path, channels: NDArray[np.float32], rate: int, codec: str, container: str) -> Path:
    """Samples of shape (channels, n) through a real encoder."""
    layout = "mono" if len(channels) == 1 else "stereo"
    with av.open(str(path), "w", format=container) as out:
        stream = out.add_stream(codec, rate=rate, layout=layout)
        whole = (np.clip(channels, -1, 1) * 32767).astype(np.int16)
        frame = av.AudioFrame.from_ndarray(whole.T.reshape(1, -1).copy(), format="s16", layout=layout)
        frame.sample_rate, frame.time_base, frame.pts = rate, Fraction(1, rate), 0
        resampler = av.AudioResampler(stream.codec_context.format, layout, rate)
        for part in [*resampler.resample(frame), *resampler.resample(None)]:
            for packet in stream.encode(part):
                out.mux(packet)
        for packet in stream.encode(None):
            out.mux(packet)
    return path


def wav(path: Path, samples: Samples, rate: int = RATE) -> Path:
    return write(path, samples[None], rate, "pcm_s16le", "wav")


@pytest.mark.parametrize(
    ("name", "codec", "container", "rate"),
    [
        ("a.wav", "pcm_s16le", "wav", 8_000),
        ("a.flac", "flac", "flac", 44_100),
        ("a.mp3", "libmp3lame", "mp3", 44_100),
        ("a.m4a", "aac", "ipod", 48_000),
        ("a.ogg", "libopus", "ogg", 48_000),
        ("a.webm", "libopus", "webm", 16_000),
    ],
)
def test_containers_and_rates(tmp_path: Path, name: str, codec: str, container: str, rate: int) -> None:
    path = write(tmp_path / name, np.stack([tone(2, rate)] * 2), rate, codec, container)
    samples = load(path)
    assert samples.dtype == np.float32
    assert len(samples) / RATE == pytest.approx(2, abs=0.1)
    spectrum = np.abs(np.fft.rfft(samples[RATE // 2 : RATE // 2 + RATE]))
    assert int(spectrum.argmax()) == pytest.approx(440, abs=3)


@pytest.mark.parametrize(
    ("left", "right"),
    [(1.0, 0.0), (0.0, 1.0), (1.0, -1.0), (1.0, 1.0)],
    ids=["right dead", "left dead", "opposite phase", "both"],
)
def test_no_stereo_loses_the_voice(tmp_path: Path, left: float, right: float) -> None:
    voice = tone(1)
    path = write(tmp_path / "a.wav", np.stack([left * voice, right * voice]), RATE, "pcm_s16le", "wav")
    assert np.abs(load(path)).max() > 0.14


def test_very_quiet_speech_is_raised_and_loud_speech_left_alone() -> None:
    loud = tone(1, level=0.3)
    assert levelled(loud) is loud
    raised = levelled(tone(1, level=0.002))
    assert np.sqrt(np.mean(raised**2)) == pytest.approx(10 ** (-22 / 20), rel=0.1)
    assert not levelled(np.zeros(RATE, np.float32)).any()


def test_blocks_join_to_the_whole(tmp_path: Path) -> None:
    path = wav(tmp_path / "a.wav", tone(7))
    blocks = list(Sound(path).blocks(seconds=2))
    assert [len(block) / RATE for block in blocks] == [2, 2, 2, 1]
    assert np.array_equal(np.concatenate(blocks), load(path))


def test_memory_does_not_grow_with_the_length(tmp_path: Path) -> None:
    path = tmp_path / "long.wav"
    with wave.open(str(path), "wb") as out:
        out.setparams((1, 2, 8_000, 0, "NONE", ""))
        for _ in range(10):
            out.writeframes((tone(60, 8_000) * 32767).astype("<i2").tobytes())
    tracemalloc.start()
    longest = sum(len(block) for block in Sound(path).blocks(seconds=30))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert longest / RATE == pytest.approx(600, abs=1)
    assert peak < 25e6  # the whole would be 38 MB


@pytest.mark.parametrize(("codec", "container", "name"), [
    ("pcm_s16le", "wav", "a.wav"), ("libmp3lame", "mp3", "a.mp3"), ("libopus", "ogg", "a.ogg"),
    ("flac", "flac", "a.flac"), ("aac", "ipod", "a.m4a"),
])  # fmt: skip
def test_a_clip_is_exactly_the_seconds_asked_for(
    tmp_path: Path, codec: str, container: str, name: str
) -> None:
    rate = 48_000
    sound = np.zeros(30 * rate, np.float32)
    sound[20 * rate : 20 * rate + rate // 10] = tone(0.1, rate, hz=1000)  # a beep at 20.0 s
    path = write(tmp_path / name, sound[None], rate, codec, container)
    with wave.open(io.BytesIO(clip(path, 19.5, 21.0))) as heard:
        assert (heard.getnchannels(), heard.getframerate(), heard.getsampwidth()) == (1, rate, 2)
        samples = np.frombuffer(heard.readframes(heard.getnframes()), "<i2")
    assert len(samples) / rate == pytest.approx(1.5, abs=0.01)
    assert np.flatnonzero(np.abs(samples.astype(float)) > 3000)[0] / rate == pytest.approx(0.5, abs=0.03)


def test_peaks_follow_the_sound(tmp_path: Path) -> None:
    path = wav(tmp_path / "a.wav", np.concatenate([np.zeros(RATE, np.float32), tone(1, level=0.5)]))
    drawn = peaks(path, per_second=10)
    assert len(drawn) == 20
    assert drawn[:9].max() == 0
    assert drawn[11:].min() == pytest.approx(0.5, abs=0.01)


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "is empty"),
        (b"this is a shopping list, not a recording\n" * 50, "cannot be read as a recording"),
        (b"RIFF\x00\x00\x00\x00WAVEfmt ", "cannot be read as a recording"),
    ],
    ids=["empty", "text renamed", "header only"],
)
def test_bad_files_get_a_sentence_with_their_name(tmp_path: Path, content: bytes, says: str) -> None:
    path = tmp_path / "walk.wav"
    path.write_bytes(content)
    with pytest.raises(InputError, match=says) as caught:
        load(path)
    assert str(path) in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_missing_file_and_a_folder(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no such file"):
        Sound(tmp_path / "none.wav")
    with pytest.raises(InputError, match="is a folder"):
        Sound(tmp_path)


def test_a_picture_holds_no_sound(tmp_path: Path) -> None:
    from PIL import Image

    path = tmp_path / "photo.png"
    Image.new("RGB", (8, 8)).save(path)
    with pytest.raises(InputError, match="holds no sound"):
        Sound(path)


@pytest.mark.parametrize("name", ["a.wav", "a.flac", "a.mp3"])
def test_a_cut_off_recording_gives_what_is_there_and_a_warning(tmp_path: Path, name: str) -> None:
    codec = {"wav": "pcm_s16le", "flac": "flac", "mp3": "libmp3lame"}[name[2:]]
    noise = np.random.default_rng(1).normal(0, 0.1, 20 * RATE).astype(np.float32)
    path = write(tmp_path / name, noise[None], RATE, codec, name[2:])
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    sound = Sound(path)
    length = sum(len(block) for block in sound.blocks()) / RATE
    assert 8 < length < 12
    assert any("breaks off after" in warning for warning in sound.warnings)


def test_a_file_that_grows_while_it_is_read_is_refused(tmp_path: Path) -> None:
    path = wav(tmp_path / "a.wav", tone(5))
    blocks = Sound(path).blocks(seconds=1)
    next(blocks)
    with path.open("ab") as growing:
        growing.write(b"\x00" * 32_000)
    with pytest.raises(InputError, match="changed while it was being read"):
        list(blocks)

"""What a container tells of a recording, in every format that is taken in."""

from __future__ import annotations

import wave
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import av
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from capture import recordings
from capture.clock import TimeLine
from capture.media_type import sniff
from shared.errors import InputError
from shared.types import Recording
from tests.capture.making import CODECS, RATE, dated, recording, tone

LINE = TimeLine(ZoneInfo("America/Chicago"))
STARTED = "2026-10-13T10:12:00-05:00"


def look(path: Path, *, name: str | None = None, line: TimeLine = LINE) -> Recording:
    return recordings.look(path, sha256="0" * 64, media=sniff(path, path.name), name=name, line=line)


@pytest.mark.parametrize("ending", CODECS)
def test_every_format_gives_length_and_kind(tmp_path: Path, ending: str) -> None:
    found = look(recording(tmp_path / f"a{ending}", 3.0))
    assert found.duration_s == pytest.approx(3.0, abs=0.1)
    assert found.name == f"a{ending}"
    assert found.started_from == "file_date"


@pytest.mark.parametrize(
    ("ending", "tags"),
    [
        (".flac", {"date": STARTED}),
        (".ogg", {"date": STARTED}),
        (".mp3", {"date": STARTED}),
        (".m4a", {"creation_time": "2026-10-13T15:12:00Z"}),
        (".webm", {"creation_time": "2026-10-13T15:12:00Z"}),
        (".wav", {}),
    ],
)
def test_the_start_comes_from_the_containers_tags(tmp_path: Path, ending: str, tags: dict[str, str]) -> None:
    path = tmp_path / f"20261013_101205{ending}"
    if ending == ".wav":
        _broadcast_wave(path)
    else:
        recording(path, tags=tags)
    found = look(path)
    assert (found.started, found.started_from) == (datetime.fromisoformat(STARTED), "container")


def _broadcast_wave(path: Path) -> None:
    """A wave file with a `bext` part: EBU Tech 3285, date at byte 320 and time at byte 330 of it."""
    recording(path)
    whole = path.read_bytes()
    bext = bytearray(602)
    bext[320:330], bext[330:338] = b"2026-10-13", b"10:12:00"
    part = b"bext" + len(bext).to_bytes(4, "little") + bytes(bext)
    size = (len(whole) - 8 + len(part)).to_bytes(4, "little")
    path.write_bytes(b"RIFF" + size + b"WAVE" + part + whole[12:])


def test_without_tags_the_name_tells(tmp_path: Path) -> None:
    found = look(recording(tmp_path / "x.wav"), name="20261013_101200.wav")
    assert (found.started, found.started_from) == (datetime.fromisoformat(STARTED), "file_name")


def test_the_files_date_is_the_end_of_the_recording(tmp_path: Path) -> None:
    path = dated(recording(tmp_path / "a.wav", 30.0), datetime.fromisoformat("2026-10-13T10:12:30-05:00"))
    found = look(path)
    assert (found.started, found.started_from) == (datetime.fromisoformat(STARTED), "file_date")
    assert "has no time of its own" in found.warnings[0]


def test_a_tag_that_a_phone_wrote_at_the_end(tmp_path: Path) -> None:
    path = recording(tmp_path / "20261013_101200.m4a", 9.0, tags={"creation_time": "2026-10-13T15:12:09Z"})
    found = look(path)
    assert abs((found.started - datetime.fromisoformat(STARTED)).total_seconds()) < 1
    assert found.started_from == "container"
    assert found.warnings == ()


def test_the_device_is_named_by_its_tag_and_its_clock_put_right(tmp_path: Path) -> None:
    tags = {"creation_time": "2026-10-13T15:16:30Z", "model": "Tern 5"}
    found = look(recording(tmp_path / "a.m4a", tags=tags), line=TimeLine(LINE.zone, {"Tern 5": -270}))
    assert found.device == "Tern 5"
    assert found.started == datetime.fromisoformat(STARTED)


@pytest.mark.parametrize("ending", [".wav", ".flac", ".mp3", ".m4a"])
def test_a_recording_that_breaks_off_is_used_as_far_as_it_goes(tmp_path: Path, ending: str) -> None:
    path = recording(tmp_path / f"a{ending}", 20.0, tags={"date": STARTED})
    if ending == ".m4a":
        path = _index_first(path)
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    found = look(path)
    assert found.duration_s == pytest.approx(10.0, abs=1.5)
    assert any(warning.startswith(f"{path.name}: breaks off after ") for warning in found.warnings)


@pytest.mark.parametrize("ending", [".wav", ".flac", ".mp3", ".m4a", ".ogg"])
@pytest.mark.parametrize("lost", [0.0, 0.3])
def test_a_long_recording_is_measured_by_its_end(tmp_path: Path, ending: str, lost: float) -> None:
    path = recording(tmp_path / f"a{ending}", 50.0)
    if ending == ".m4a":
        path = _index_first(path)
    path.write_bytes(path.read_bytes()[: round(path.stat().st_size * (1 - lost))])
    found = look(path)
    assert found.duration_s == pytest.approx(50.0 * (1 - lost), abs=3.0 if lost else 0.1)
    # An ogg file that lost its end does not know that it had one.
    assert any("breaks off" in warning for warning in found.warnings) is (lost > 0 and ending != ".ogg")


def _index_first(path: Path) -> Path:
    """The m4a with its index before its data, so that losing the end loses only sound."""
    moved = path.with_name("moved.m4a")
    with av.open(str(path)) as source, av.open(str(moved), "w", options={"movflags": "faststart"}) as out:
        stream = out.add_stream_from_template(source.streams.audio[0])
        for packet in source.demux(source.streams.audio[0]):
            if packet.dts is not None:
                packet.stream = stream
                out.mux(packet)
    return moved


@pytest.mark.parametrize("ending", [".ogg", ".webm"])
def test_a_format_that_does_not_say_its_length_is_measured(tmp_path: Path, ending: str) -> None:
    path = recording(tmp_path / f"a{ending}", 20.0)
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    assert look(path).duration_s == pytest.approx(10.0, abs=2)


@pytest.mark.parametrize("ending", CODECS)
@pytest.mark.parametrize("kept", [40, 400])
def test_a_recording_cut_off_at_its_beginning_is_named_or_used(
    tmp_path: Path, ending: str, kept: int
) -> None:
    path = recording(tmp_path / f"a{ending}", 3.0)
    path.write_bytes(path.read_bytes()[:kept])
    try:
        assert look(path).duration_s < 3
    except InputError as error:
        assert str(error).startswith(f"a{ending}: ")
        assert "leave it out" in str(error)


def _film(path: Path, *, sound: bool) -> Path:
    """Two seconds of a grey picture, with a tone or without."""
    with av.open(str(path), "w") as out:
        picture = out.add_stream("mpeg4", rate=10)
        picture.width, picture.height, picture.pix_fmt = 64, 48, "yuv420p"
        streams = [(picture, [av.VideoFrame(64, 48, "yuv420p") for _ in range(20)])]
        if sound:
            track = out.add_stream("aac", rate=RATE, layout="mono")
            frame = av.AudioFrame.from_ndarray(tone(2.0).astype(np.float32)[None] / 32768, "fltp", "mono")
            frame.sample_rate = RATE
            fit = av.AudioResampler("fltp", "mono", RATE, frame_size=1024)
            streams.append((track, [*fit.resample(frame), *fit.resample(None)]))
        for stream, frames in streams:
            for frame in (*frames, None):
                out.mux(stream.encode(frame))
    return path


@pytest.mark.parametrize("ending", [".mp4", ".mov", ".mkv"])
def test_the_sound_of_a_film_is_taken(tmp_path: Path, ending: str) -> None:
    assert look(_film(tmp_path / f"a{ending}", sound=True)).duration_s == pytest.approx(2.0, abs=0.2)


def test_a_film_without_sound_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"a\.mp4: holds no sound; leave it out"):
        look(_film(tmp_path / "a.mp4", sound=False))


def test_a_wave_file_without_samples_holds_no_sound(tmp_path: Path) -> None:
    path = tmp_path / "a.wav"
    with wave.open(str(path), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(16_000)
    with pytest.raises(InputError, match=r"shown\.wav: holds no sound"):
        look(path, name="shown.wav")


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("whole")
    for ending in CODECS:
        recording(folder / f"a{ending}", 0.4, tags={"date": STARTED, "model": "Tern 5"})
    return folder


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(sorted(CODECS)), st.data())
def test_any_damage_gives_a_recording_or_a_sentence(whole: Path, ending: str, data: st.DataObject) -> None:
    damaged = bytearray((whole / f"a{ending}").read_bytes())
    near_its_head = st.integers(4, min(600, len(damaged) - 1))
    for _ in range(data.draw(st.integers(1, 6))):
        damaged[data.draw(near_its_head)] = data.draw(st.integers(0, 255))
    path = whole / f"damaged{ending}"
    path.write_bytes(damaged)
    try:
        assert look(path).duration_s > 0
    except InputError as error:
        assert str(error).startswith(f"damaged{ending}: ")

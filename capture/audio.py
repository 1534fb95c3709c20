"""Sound as the speech stage wants it: 16 kHz, one channel, evenly loud, a block at a time.

A recording is never held whole: `Sound.blocks` decodes as it goes, so that memory stays the same whatever
the length. PyAV decodes; every container and sample rate that it reads is taken.
"""

from __future__ import annotations

import io
import wave
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO

import av
import numpy as np
from numpy.typing import NDArray

from capture.damaged import BREAKS_OFF, COUNTED, Frames, said_length
from shared.errors import InputError
from shared.types import Stretch

RATE = 16_000
"""Samples a second of all audio between the parts of `capture`."""

Samples = NDArray[np.float32]

_FRAME = RATE // 50  # 20 ms, the frame whose level counts
_QUIET_DBFS = -30.0
_WANTED_DBFS = -22.0
_MOST_GAIN_DB = 40.0
_LOUD_SHARE = 95  # percentile of the frames' level that stands for speech
_SILENCE_S = 60.0  # of a hole at once
_TOLD_S = 0.1  # a shorter hole takes no word
_NAMED = 5
_CANCELS = 0.5  # a mean of channels weaker than this share of the louder one has cancelled out


@dataclass(frozen=True, slots=True)
class SoundInfo:
    """What the container says of a recording, before it is decoded."""

    duration_s: float | None
    """None when the container does not say; decoding tells."""
    rate: int
    channels: int
    codec: str


class Sound:
    """A readable recording. Raises `InputError` when the file is missing, empty, or holds no sound."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.warnings: list[str] = []
        """What was found wrong while decoding, such as a missing end: sentences that follow the name."""
        self.holes: list[Stretch] = []
        """What could not be read so far; silence stands there, so that all that follows keeps its time."""
        self.info = _probe(path)

    def blocks(self, *, seconds: float = 60.0, level: bool = True) -> Iterator[Samples]:
        """Float32 samples at 16 kHz in one channel, in blocks of about `seconds`, in order, without gaps.

        `level` raises very quiet speech. A file that ends in the middle of its data gives all that can be
        read and a warning; a file that changes while it is read raises `InputError`.
        """
        before = _state(self.path)
        wanted = int(seconds * RATE)
        held: list[Samples] = []
        count = 0
        for piece in self._pieces():
            held.append(piece)
            count += len(piece)
            while count >= wanted:
                whole = np.concatenate(held)
                yield _finished(whole[:wanted], level)
                held, count = [whole[wanted:]], count - wanted
        if _state(self.path) != before:
            raise InputError(
                f"{self.path}: the file changed while it was being read; "
                "wait until it is copied or recorded to the end, then start again"
            )
        if count:
            yield _finished(np.concatenate(held), level)

    def _pieces(self) -> Iterator[Samples]:
        """Decoded mono samples as they come, not yet levelled."""
        decoded, estimated = 0, False
        unplaced: list[float] = []
        try:
            with av.open(str(self.path)) as container:
                frames = Frames(container, said_s=self.info.duration_s, holes=self.holes, unplaced=unplaced)
                estimated = container.format.name in COUNTED
                for piece in in_place(frames, RATE):
                    decoded += len(piece)
                    yield piece
        except (av.error.FFmpegError, OSError) as error:
            if not decoded:
                raise InputError(_unreadable(self.path, error)) from error
            self._warn(f"{BREAKS_OFF} {decoded / RATE:.0f} s; what was there was used")
        if not decoded:
            raise InputError(f"{self.path}: holds no sound at all; leave it out or copy it again")
        self._tell_holes(unplaced, estimated=estimated)
        said = self.info.duration_s
        if said is not None and said - decoded / RATE > max(2.0, 0.02 * said):
            self._warn(
                f"{BREAKS_OFF} {decoded / RATE:.0f} s of {said:.0f} s; what is there is used. "
                "Copy it again from the device if more was recorded"
            )
        elif _wav_is_cut(self.path):
            self._warn(f"{BREAKS_OFF} {decoded / RATE:.0f} s; copy it again if more was recorded")

    def _tell_holes(self, unplaced: Sequence[float], *, estimated: bool) -> None:
        """Says where something is missing in the middle."""
        wide = [hole for hole in self.holes if hole.end - hole.start >= _TOLD_S]
        if wide:
            places = _listed([f"{_clock(hole.start)} to {_clock(hole.end)}" for hole in wide])
            self._warn(
                f"{sum(hole.end - hole.start for hole in wide):.1f} s of it cannot be read: {places}. "
                "What was said there is missing; copy it again from the device, or type what was said"
                + (". Times after that are estimates" if estimated else "")
            )
        if unplaced:
            self._warn(
                f"something could not be decoded at {_listed([_clock(at) for at in unplaced])}; words may be "
                "missing there, and later times may be early. Copy it again from the device"
            )

    def _warn(self, sentence: str) -> None:
        if sentence not in self.warnings:
            self.warnings.append(sentence)


def load(path: Path, *, level: bool = True) -> Samples:
    """The whole recording, float32 at 16 kHz in one channel. Long ones go by `Sound.blocks` instead."""
    return np.concatenate(list(Sound(path).blocks(level=level)))


def clip(path: Path, start: float, end: float) -> bytes:
    """The seconds `start` to `end` as a WAV file: one channel, 16 bits, own rate up to 48 kHz."""
    info = _probe(path)
    if not 0 <= start < end:
        raise InputError(f"{path}: {start:g} to {end:g} s is not a stretch of a recording")
    rate = min(info.rate, 48_000)
    parts: list[Samples] = []
    at = 0.0
    try:
        with av.open(str(path)) as container:
            sought = start > 5 and _sought(container, start - 2)
            frames = Frames(container, said_s=info.duration_s, start=None if sought else 0.0)
            for piece in in_place(frames, rate):
                if not parts:
                    at = frames.began
                parts.append(piece)
                if frames.at > end + 0.1:
                    break
    except (av.error.FFmpegError, OSError) as error:
        if not parts:
            raise InputError(_unreadable(path, error)) from error
    whole = np.concatenate(parts) if parts else np.zeros(0, np.float32)
    skip = round((start - at) * rate)
    if skip < 0:  # what was sought cannot be read: the sound begins later
        whole, skip = np.concatenate([np.zeros(-skip, np.float32), whole]), 0
    return wav_bytes(whole[skip : skip + round((end - start) * rate)], rate=rate)


def peaks(path: Path, *, per_second: int = 20) -> Samples:
    """The loudest sample (0 to 1) of each 1/`per_second` s, for drawing the wave."""
    width = RATE // per_second
    found: list[Samples] = []
    for block in Sound(path).blocks(seconds=60.0, level=False):
        padded = np.pad(np.abs(block), (0, -len(block) % width))
        found.append(padded.reshape(-1, width).max(axis=1))
    return np.minimum(np.concatenate(found), 1.0)


def wav_bytes(samples: Samples, *, rate: int = RATE) -> bytes:
    """A WAV file of one channel and 16 bits."""
    whole = io.BytesIO()
    write_wav(whole, [samples], rate=rate)
    return whole.getvalue()


def write_wav(target: BinaryIO, pieces: Iterable[Samples], *, rate: int = RATE) -> int:
    """How many samples were written: a WAV file of one channel and 16 bits, one piece after the other."""
    count = 0
    with wave.open(target, "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(rate)
        for samples in pieces:
            out.writeframes((np.clip(samples, -1, 1) * 32767).astype("<i2").tobytes())
            count += len(samples)
    return count


def levelled(samples: Samples) -> Samples:
    """The samples, raised until their loud frames lie at -22 dBFS when they are very quiet."""
    frames = samples[: len(samples) // _FRAME * _FRAME].reshape(-1, _FRAME)
    if not len(frames):
        return samples
    loud = float(np.percentile(np.sqrt(np.mean(frames**2, axis=1)), _LOUD_SHARE))
    if loud <= 0 or 20 * np.log10(loud) >= _QUIET_DBFS:
        return samples
    gain_db = min(_WANTED_DBFS - 20 * np.log10(loud), _MOST_GAIN_DB)
    raised: Samples = np.clip(samples * np.float32(10 ** (gain_db / 20)), -1, 1)
    return raised


def in_place(frames: Frames, rate: int) -> Iterator[Samples]:
    """The samples of the frames in one channel at `rate`, with silence where something is missing."""
    mono = _Mono(rate)
    for frame, missing_s in frames:
        if missing_s:
            yield from mono.take(None)
            mono = _Mono(rate)
            left = round(missing_s * rate)
            while left > 0:
                now = min(left, round(_SILENCE_S * rate))
                yield np.zeros(now, np.float32)
                left -= now
        yield from mono.take(frame)
    yield from mono.take(None)


def _sought(container: Any, at: float) -> bool:
    """Whether `container` now stands where its packets say, about `at` seconds into its sound."""
    stream = container.streams.audio[0]
    if not stream.time_base or container.format.name in COUNTED:  # counted times miss what is damaged before
        return False
    try:
        container.seek(int(at / stream.time_base) + (stream.start_time or 0), stream=stream, backward=True)
    except (av.error.FFmpegError, OSError):
        container.seek(0)
        return False
    return True


def _clock(seconds: float) -> str:
    return f"{int(seconds) // 60:02d}:{int(seconds) % 60:02d}"


def _listed(places: Sequence[str]) -> str:
    more = f" and {len(places) - _NAMED} more places" if len(places) > _NAMED else ""
    return ", ".join(places[:_NAMED]) + more


class _Mono:
    """Frames of any layout and rate to one channel of float32 at `rate`."""

    def __init__(self, rate: int = RATE) -> None:
        self._resampler = av.AudioResampler(format="fltp", rate=rate)

    def take(self, frame: Any) -> Iterator[Samples]:
        """The samples of a frame; None flushes what the resampler still holds."""
        if frame is not None:
            frame.pts = None  # gaps in time stamps must not stop the resampler
        for done in self._resampler.resample(frame):
            yield _one_channel(done.to_ndarray())


def _one_channel(planes: NDArray[Any]) -> Samples:
    """The mean of the channels; the louder one where they cancel out or one of them is dead."""
    if len(planes) == 1:
        return np.asarray(planes[0], np.float32)
    mean: Samples = planes.mean(axis=0).astype(np.float32)
    levels = np.sqrt(np.mean(planes.astype(np.float32) ** 2, axis=1))
    if np.sqrt(np.mean(mean**2)) < _CANCELS * levels.max():
        return np.asarray(planes[int(levels.argmax())], np.float32)
    return mean


def _finished(samples: Samples, level: bool) -> Samples:
    clean = np.nan_to_num(samples, nan=0.0, posinf=1.0, neginf=-1.0)
    return levelled(clean) if level else clean


def _probe(path: Path) -> SoundInfo:
    if not path.exists():
        raise InputError(f"{path}: there is no such file; check the name")
    if path.is_dir():
        raise InputError(f"{path}: is a folder; name the recordings in it, or use `probeside process`")
    if path.stat().st_size == 0:
        raise InputError(f"{path}: is empty; copy it again from the device or leave it out")
    try:
        with av.open(str(path)) as container:
            if not container.streams.audio:
                raise InputError(f"{path}: holds no sound; leave it out or name a recording")
            context = container.streams.audio[0].codec_context
            return SoundInfo(
                said_length(container), int(context.sample_rate), int(context.channels), str(context.name)
            )
    except (av.error.FFmpegError, OSError) as error:
        raise InputError(_unreadable(path, error)) from error


def _unreadable(path: Path, error: BaseException) -> str:
    if isinstance(error, PermissionError):
        return f"{path}: may not be read; change its permissions"
    return (
        f"{path}: cannot be read as a recording (not an audio file, or cut off at its beginning or end); "
        "copy it again from the device, or leave it out"
    )


def _wav_is_cut(path: Path) -> bool:
    """Whether a WAV file is shorter than its own header says."""
    with path.open("rb") as file:
        head = file.read(8)
    size = int.from_bytes(head[4:], "little")
    return head[:4] == b"RIFF" and size not in (0, 0xFFFFFFFF) and size + 8 > path.stat().st_size + 1


def _state(path: Path) -> tuple[int, int]:
    try:
        found = path.stat()
    except OSError:
        return (-1, -1)
    return (found.st_size, found.st_mtime_ns)

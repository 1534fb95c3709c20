"""A recording as its container tells of it: kind, length, device, and when it began. Nothing is decoded."""

from __future__ import annotations

import struct
from dataclasses import dataclass, replace
from datetime import timedelta
from pathlib import Path

import av
from av.container import InputContainer

from capture import clock, stamps
from capture.clock import TimeLine
from capture.damaged import BREAKS_OFF, packets, said_length
from capture.media_type import MediaType
from shared.errors import InputError
from shared.types import Recording

_MISSING_S = 2.0
_MISSING_PART = 0.02
_UNKNOWN_SIZE = 0xFFFF_FF00
_TAIL_S = 10.0
_LONGEST_S = 7 * 86400
_GUESSED = {"mp3", "mp3float"}
"""Codecs whose place in the file is guessed when seeking."""
_DEVICE_TAGS = ("com.apple.quicktime.model", "model", "device", "originator", "encoded_by")


@dataclass(frozen=True, slots=True)
class _Container:
    tags: dict[str, str]
    length_s: float
    """As far as there is data."""
    said_s: float | None
    """As the header says."""


def look(
    path: Path, *, sha256: str, media: MediaType, name: str | None = None, line: TimeLine | None = None
) -> Recording:
    """The recording at `path`, which the user knows as `name`, on the time line.

    Raises `InputError` when it holds no sound or cannot be read. A recording that breaks off is taken as
    far as it goes, with a warning.
    """
    name = name or path.name
    line = line or TimeLine()
    container = _read(path, name)
    promised_s = _wave_promises(path) if media.name == "audio/wav" else container.said_s
    device = _device(container.tags)
    tag = stamps.of_tags(container.tags, line.zone)
    by_name = stamps.of_name(name, line.zone)
    written = stamps.of_file(path, line.zone)
    # A file's date is when it was written last: the end of the recording.
    by_file = replace(written, at=written.at - timedelta(seconds=container.length_s))
    warnings = []
    if tag and clock.written_at_end(tag, by_name, container.length_s):
        tag = replace(tag, at=tag.at - timedelta(seconds=container.length_s))
    moment = line.settle((tag, by_name, by_file), name=name, device=device, verb="began")
    if promised_s and _cut_off(container.length_s, promised_s):
        warnings.append(
            f"{name}: {BREAKS_OFF} {container.length_s:.0f} s of {promised_s:.0f} s; what is there "
            "is used. Copy it again from the device if more was recorded"
        )
    return Recording(
        sha256=sha256,
        name=name,
        media_type=media.name,
        duration_s=round(container.length_s, 3),
        started=moment.at,
        started_from=moment.origin,
        device=device,
        warnings=(*warnings, *moment.warnings),
    )


def _cut_off(length_s: float, said_s: float) -> bool:
    return said_s - length_s > max(_MISSING_S, _MISSING_PART * said_s)


def _device(tags: dict[str, str]) -> str | None:
    lower = {key.lower(): value.strip() for key, value in tags.items()}
    return next((lower[tag] for tag in _DEVICE_TAGS if lower.get(tag)), None)


def _read(path: Path, name: str) -> _Container:
    try:
        # A broken container may fail anywhere; what it has given by then counts.
        with av.open(str(path), metadata_errors="replace") as container:
            if not container.streams.audio:
                raise InputError(f"{name}: holds no sound; leave it out, or copy the recording itself")
            return _told(container, name, size=path.stat().st_size)
    except (av.error.FFmpegError, OSError, ValueError) as error:
        raise InputError(
            f"{name}: cannot be read as a recording (damaged, or cut off at its beginning or end); "
            "copy it again from the device, or leave it out"
        ) from error


def _told(container: InputContainer, name: str, *, size: int) -> _Container:
    stream = container.streams.audio[0]
    tags = {**stream.metadata, **container.metadata}
    said = said_length(container)
    length = _length(container, size, said)
    if length > _LONGEST_S:
        raise ValueError("no recording is that long")
    if length < 0.001:
        raise InputError(f"{name}: holds no sound at all; copy it again from the device, or leave it out")
    return _Container(tags, length, said)


def _wave_promises(path: Path) -> float | None:
    """The seconds that the header of a wave file announces; None when it does not know, as after a crash."""
    byte_rate = 0
    with path.open("rb") as source:
        source.seek(12)
        while len(header := source.read(8)) == 8:
            part, size = struct.unpack("<4sI", header)
            if part == b"data":
                known = byte_rate and 0 < size < _UNKNOWN_SIZE
                return size / byte_rate if known else None
            if part == b"fmt ":
                byte_rate = int.from_bytes(source.read(12)[8:], "little")
                size -= 12
            source.seek(size + size % 2, 1)
    return None


def _length(container: InputContainer, size: int, said_s: float | None) -> float:
    """The end of the last packet that lies whole inside the file, in seconds from the first."""
    stream = container.streams.audio[0]
    first = float((stream.start_time or 0) * (stream.time_base or 0))
    if said_s and said_s > 4 * _TAIL_S and stream.time_base and stream.codec_context.name not in _GUESSED:
        # Hours of packets take seconds to go through; the last ones where they should be are enough.
        try:
            container.seek(int((first + said_s - _TAIL_S) / stream.time_base), stream=stream)
            end = _last_end(container, size) - first
            if not _cut_off(end, said_s):
                return end
            container.seek(stream.start_time or 0, stream=stream)
        except (av.error.FFmpegError, OSError):
            pass
    return _last_end(container, size) - first


def _last_end(container: InputContainer, size: int) -> float:
    """The end, by its own clock, of the last whole packet from here on; 0 when there is none."""
    end = 0.0
    try:
        for packet in packets(container):
            if packet.pts is None or packet.time_base is None or not packet.size:
                continue
            if packet.pos is not None and packet.pos + packet.size > size:
                break
            end = max(end, float((packet.pts + (packet.duration or 0)) * packet.time_base))
    except (av.error.FFmpegError, OSError):
        pass  # cut off: what came before counts
    return end

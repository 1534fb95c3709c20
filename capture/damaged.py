"""The frames of a recording in their places, also where a part of the file cannot be read.

A container goes on after a damaged part, and most tell the time of each packet: the seconds that are missing
before a frame follow from it. MPEG audio and bare AAC only count their frames: there the missing bytes are
taken for as many seconds as the bytes before them held.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import av
from av.container import InputContainer

from shared.types import Stretch

_MOST_STOPS = 1000
"""A container that stops more often in the middle of its data is given up."""
_JUMP_S = 0.5
"""Times of packets waver, and pauses may be left out by the encoder; less than this is followed only where
something could not be decoded."""
_LEAST_S = 0.05
_LONGEST_S = 3600.0
"""The longest hole that is believed of a container that does not say how long it is."""
_SLACK_S = 2.0
COUNTED = {"mp3", "aac"}
"""Formats whose times are counted frames, not kept in the file."""

_NO_LENGTH = {"aac"}
"""Formats whose length is only estimated from their first packets."""
BREAKS_OFF = "breaks off after"
"""So begins what is told of a missing end, once, at whichever step it is found."""


def said_length(container: InputContainer) -> float | None:
    """Seconds that the container says it lasts; None where it does not say, or only guesses."""
    stream = container.streams.audio[0]
    if container.format.name in _NO_LENGTH:
        return None
    if stream.duration and stream.time_base:
        return float(stream.duration * stream.time_base)
    return container.duration / av.time_base if container.duration else None


def packets(container: InputContainer) -> Iterator[Any]:
    """The packets of the first sound in `container`, going on behind what cannot be read.

    Raises what av raises where it cannot go on, which is the end of what can be used.
    """
    stops = 0
    while True:
        came = False
        try:
            for packet in container.demux(container.streams.audio[0]):
                came = True
                yield packet
            return
        except av.error.InvalidDataError:
            stops += 1
            if stops > _MOST_STOPS or not came:
                raise


@dataclass
class Frames:
    """The decoded frames of a recording, each with the seconds of silence to be put before it."""

    container: InputContainer
    said_s: float | None = None
    """Length as the container says."""
    start: float | None = 0.0
    """Where the first frame should lie; None after seeking, where it lies where it says."""
    holes: list[Stretch] = field(default_factory=list)
    """What was missing so far, in seconds from the beginning of the recording."""
    unplaced: list[float] = field(default_factory=list)
    """Where something could not be decoded and no time was missing; never the end of the file."""

    def __post_init__(self) -> None:
        stream = self.container.streams.audio[0]
        self._first = float((stream.start_time or 0) * (stream.time_base or 0))
        self._counts = self.container.format.name in COUNTED
        self._at = self.start
        self.began = self.start or 0.0
        self._shift = 0.0
        self._read = 0.0  # seconds that were decoded, and of how many bytes
        self._bytes = 0
        self._end: int | None = None  # of the last packet that could be decoded, in bytes
        self._bad = False

    def __iter__(self) -> Iterator[tuple[Any, float]]:
        for packet in packets(self.container):
            try:
                frames = packet.decode()
            except av.error.EOFError:
                continue
            except av.error.FFmpegError:
                self._bad = True
                continue
            for frame in frames:
                yield frame, self._missing(frame, packet.pos)
                length = frame.samples / frame.sample_rate
                self._at = (self._at or 0.0) + length
                self._read += length
            if frames and packet.size:
                self._bytes += packet.size
                self._end = None if packet.pos is None else packet.pos + packet.size

    @property
    def at(self) -> float:
        """Where the next sample lies, in seconds from the beginning."""
        return self._at or 0.0

    def _missing(self, frame: Any, position: int | None) -> float:
        """The seconds that are missing before `frame`, which are noted."""
        bad, self._bad = self._bad, False
        if frame.time is None:
            if bad:
                self.unplaced.append(self.at)
            return 0.0
        told = float(frame.time) - self._first
        if self._at is None:
            self._at = self.began = max(0.0, told)
            return 0.0
        if self._counts and bad:
            self._shift = self._at + self._guessed(position) - told
        gap = told + self._shift - self._at
        most = _LONGEST_S if self.said_s is None else self.said_s + _SLACK_S - self._at
        if (_LEAST_S if bad else _JUMP_S) <= gap <= most:
            self.holes.append(Stretch(self._at, self._at + gap))
            self._at += gap
            return gap
        if bad and self._at > 0:
            self.unplaced.append(self._at)
        return 0.0

    def _guessed(self, position: int | None) -> float:
        """The seconds that the undecoded bytes before `position` would have held."""
        if position is None or self._end is None or not self._bytes:
            return 0.0
        return max(0, position - self._end) * self._read / self._bytes

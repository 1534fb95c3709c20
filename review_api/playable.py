"""Recordings in a form that every browser plays."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from tempfile import NamedTemporaryFile

import av
import numpy as np
from av.container import InputContainer

from capture.audio import Samples, in_place
from capture.damaged import Frames
from shared.errors import InputError

_AS_THEY_ARE = frozenset(("audio/wav", "audio/flac", "audio/mpeg", "audio/x-wav"))
"""Played everywhere and sought exactly; other containers are not sure to be."""

_RATE = 48_000
_FRAME = 4096
"""Samples of one frame of FLAC."""


def playable(original: Path, media_type: str, *, kept_in: Path) -> tuple[Path, str]:
    """A file to play and its media type: the original, or FLAC made of it once, with the same seconds.

    FLAC loses nothing, so what is heard at the desk is what was recorded, with silence where it cannot be
    read, as in the transcript. Raises InputError when nothing of it can.
    """
    if media_type in _AS_THEY_ARE:
        return original, media_type
    path = kept_in / f"{original.name}.flac"
    if not path.exists():
        _as_flac(original, path)
    return path, "audio/flac"


def _as_flac(original: Path, path: Path) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    with NamedTemporaryFile(dir=path.parent, prefix=".making-", suffix=".flac", delete=False) as coming:
        pass
    try:
        with av.open(str(original)) as source, av.open(coming.name, "w", format="flac") as target:
            stream = target.add_stream("flac", rate=_RATE)
            stream.layout = "mono"
            shaped = av.AudioResampler(format="s16", layout="mono", rate=_RATE, frame_size=_FRAME)
            for samples in _as_far_as_it_goes(source):
                frame = av.AudioFrame.from_ndarray(samples[np.newaxis], format="fltp", layout="mono")
                frame.rate = _RATE
                for piece in shaped.resample(frame):
                    piece.pts = None
                    target.mux(stream.encode(piece))
            for piece in shaped.resample(None):
                piece.pts = None
                target.mux(stream.encode(piece))
            target.mux(stream.encode(None))
        Path(coming.name).replace(path)
    except (av.FFmpegError, OSError) as error:
        Path(coming.name).unlink(missing_ok=True)
        raise InputError("the recording cannot be played; the original is kept as it came") from error


def _as_far_as_it_goes(source: InputContainer) -> Iterator[Samples]:
    came = False
    try:
        for samples in in_place(Frames(source), _RATE):
            came = True
            yield samples
    except (av.FFmpegError, OSError):
        if not came:
            raise

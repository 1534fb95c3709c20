"""Sound files as a device writes them: format, rate and tags."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import av
import numpy as np
from numpy.typing import NDArray

_BLOCK = 24_000


def write(
    path: Path,
    sound: NDArray[np.float32],
    rate: int,
    *,
    codec: str,
    out_rate: int,
    bit_rate: int | None = None,
    tags: Mapping[str, str] | None = None,
    container_options: Mapping[str, str] | None = None,
) -> None:
    """Writes mono `sound` to `path`; the container follows the file's name, `tags` go into it as they are."""
    whole = (np.clip(sound, -1, 1) * 32767).astype(np.int16)
    options = {"fflags": "+bitexact", **(container_options or {})}
    with av.open(str(path), "w", container_options=options) as out:
        stream = out.add_stream(codec, rate=out_rate, layout="mono")
        if bit_rate:
            stream.bit_rate = bit_rate
        out.metadata.update(tags or {})
        out.start_encoding()
        context = stream.codec_context
        fit = av.AudioResampler(
            context.format, context.layout, out_rate, frame_size=context.frame_size or None
        )
        for start in range(0, whole.size, _BLOCK):
            frame = av.AudioFrame.from_ndarray(
                whole[None, start : start + _BLOCK], format="s16", layout="mono"
            )
            frame.sample_rate, frame.pts = rate, start
            for part in fit.resample(frame):
                out.mux(stream.encode(part))
        for part in fit.resample(None):
            out.mux(stream.encode(part))
        out.mux(stream.encode(None))

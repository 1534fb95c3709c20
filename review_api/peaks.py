"""The loudness of a recording through time, to draw its wave: computed once."""

from __future__ import annotations

import json
from pathlib import Path

from capture import audio as sound
from review_api.api.looked_up import Peaks
from review_api.derived import kept

_LONG_S = 1800.0


def peaks(original: Path, duration_s: float, *, kept_in: Path) -> Peaks:
    """The loudest sample of each part of a second. Raises InputError where it cannot be read."""
    per_second = 20 if duration_s < _LONG_S else 4

    def make() -> bytes:
        found = sound.peaks(original, per_second=per_second)
        return json.dumps([round(float(peak), 3) for peak in found]).encode()

    path = kept(kept_in / f"{original.name}-{per_second}.json", make)
    return Peaks(duration_s=duration_s, per_second=per_second, peaks=json.loads(path.read_text()))

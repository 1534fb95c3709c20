"""A day of hours in one recording: memory, progress, and a run that is stopped and goes on.

`python -m capture.bench.long_day FILE FOLDER` transcribes one file with its progress kept in the folder and
prints one JSON object.
"""

from __future__ import annotations

import hashlib
import json
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from capture.audio import RATE, Samples, write_wav
from capture.bench.contest import peak_mb
from capture.bench.recordings import long_recording
from capture.speech import Progress, load_model, transcribe

_PART_MIN = 20.0
_SILENCE_MIN = 10.0
_QUIET_S = (60.0, 150.0)


@dataclass(frozen=True, slots=True)
class Day:
    """What one run cost and told."""

    wall_s: float
    peak_mb: float
    words: int
    digest: str
    """Of the whole transcript: two runs that heard the same have the same."""
    reports: int
    """How often progress was told."""
    resumed_s: float
    """What an earlier run had done."""
    halfway_off: float
    """Time left as told halfway, in parts of what it then took."""


def write_day(path: Path, *, hours: float, quiet: bool = False) -> float:
    """The seconds written: talk without end, a visit with pauses, and silence in turn, for about `hours`.

    `quiet`: a kitchen at work all day, in which somebody says a line every two minutes or so.
    """
    length = _PART_MIN if quiet else _PART_MIN + _SILENCE_MIN
    parts = (_quiet_parts if quiet else _parts)(max(1, round(hours * 60 / length)))
    with path.open("wb") as file:
        return write_wav(file, parts) / RATE


def _parts(count: int) -> Iterator[Samples]:
    silence = np.zeros(int(_SILENCE_MIN * 60 * RATE), np.float32)
    for part in range(count):
        yield long_recording(minutes=_PART_MIN, sparse=part % 2 == 1, seed=20 + part).samples
        yield silence


def _quiet_parts(count: int) -> Iterator[Samples]:
    for part in range(count):
        yield long_recording(minutes=_PART_MIN, sparse=True, seed=40 + part, pause_s=_QUIET_S).samples


def day_of(recording: Path, folder: Path, *, stop_after: int | None = None) -> Day | None:
    """One run in a process of its own; killed once `stop_after` blocks are kept, and then None."""
    run = subprocess.Popen(
        [sys.executable, "-m", "capture.bench.long_day", str(recording), str(folder)],
        stdout=subprocess.PIPE,
        text=True,
    )
    while stop_after is not None and run.poll() is None:
        if len(list(folder.glob("*/block-*.json"))) >= stop_after:
            run.kill()
            run.communicate()
            return None
        time.sleep(0.05)
    told, _ = run.communicate()
    if run.returncode:
        raise RuntimeError(f"the run over {recording} failed")
    return Day(**json.loads(told))


def main(recording: Path, folder: Path) -> None:
    """Transcribes and prints a `Day`."""
    told: list[Progress] = []
    began = time.perf_counter()
    found = transcribe(recording, model=load_model(), progress=told.append, checkpoints=folder)
    wall = time.perf_counter() - began
    goal = ((told[-1].total_s or 0.0) + told[0].resumed_s) / 2
    half = next(one for one in told if one.done_s >= goal)
    print(
        json.dumps(
            {
                "wall_s": wall,
                "peak_mb": peak_mb(),
                "words": sum(len(utterance.words) for utterance in found.utterances),
                "digest": hashlib.sha256(repr(found).encode()).hexdigest(),
                "reports": len(told),
                "resumed_s": told[0].resumed_s,
                "halfway_off": (half.left_s or 0.0) / max(0.001, told[-1].spent_s - half.spent_s),
            }
        )
    )


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))

"""One transcription in a process of its own, so that its time and peak memory are its own.

`python -m capture.bench.contest ours|plain FILE` prints one JSON object.
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

from capture.speech import load_model, transcribe


@dataclass(frozen=True, slots=True)
class Cost:
    """What one transcription cost. Loading the models is not in the seconds, but is in the memory."""

    wall_s: float
    cpu_s: float
    peak_mb: float
    words: int


def cost_of(contestant: str, recording: Path) -> Cost:
    """The cost of `ours` (all checks on) or `plain` in a new process."""
    done = subprocess.run(
        [sys.executable, "-m", "capture.bench.contest", contestant, str(recording)],
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode:
        raise RuntimeError(f"{contestant} failed on {recording}: {done.stderr.strip()[-400:]}")
    return Cost(**json.loads(done.stdout))


def main(contestant: str, recording: Path) -> None:
    """Transcribes and prints the cost."""
    from capture.bench import plain

    ours = contestant == "ours"
    model = load_model(checked=ours, keeps_memory=ours)
    wall, cpu = time.perf_counter(), time.process_time()
    hear = transcribe if ours else plain.transcribe
    found = hear(recording, model=model)
    wall, cpu = time.perf_counter() - wall, time.process_time() - cpu
    words = sum(len(utterance.words) for utterance in found.utterances)
    print(json.dumps({"wall_s": wall, "cpu_s": cpu, "peak_mb": peak_mb(), "words": words}))


def peak_mb() -> float:
    """The most memory that this process has held, in MB."""
    try:
        import resource
    except ImportError:  # Windows
        import psutil

        return float(psutil.Process().memory_info().peak_wset) / 1e6
    status = Path("/proc/self/status")
    if status.is_file():  # ru_maxrss of a new process begins with that of the one that started it
        kept = re.search(r"VmHWM:\s+(\d+) kB", status.read_text(encoding="ascii"))
        if kept:
            return int(kept[1]) / 1e3
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return peak / 1e6 if sys.platform == "darwin" else peak / 1e3


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))

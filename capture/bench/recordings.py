"""Recordings with a known truth, made from the clips in `audio_fixtures/noise_bench` when a benchmark runs.

The clips are synthetic voices that the shipped inspection does not use; the noise is the kitchen of
`audio_fixtures/make/noise.py`, from a fixed seed. Synthetic voices are easier than people: expect worse.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from capture.audio import RATE, Samples, load
from shared.errors import InputError

FIXTURES = Path(__file__).parents[2] / "audio_fixtures"

LEVEL = 0.05
"""Of the speech, in every recording."""
_DIRECT_DB = 6.0  # mild reverberation, as in a tiled kitchen at arm's length
_TAIL_S = 0.35


@dataclass(frozen=True, slots=True)
class Line:
    """One spoken line of a recording."""

    text: str
    numbers: tuple[str, ...]
    """Every number said: plain figures, clock times as `9:15`."""
    voice: str
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Made:
    """A recording and what is said in it."""

    samples: Samples
    lines: tuple[Line, ...]

    @property
    def duration_s(self) -> float:
        return len(self.samples) / RATE


@dataclass(frozen=True, slots=True)
class Clip:
    """One line as spoken, without noise, in the room."""

    text: str
    numbers: tuple[str, ...]
    voice: str
    samples: Samples


@cache
def clips() -> tuple[Clip, ...]:
    """All clips of the noise bench, at one level. Raises `InputError` when the fixtures are not there."""
    return _spoken("lines.txt", "clips")


@cache
def whispered() -> tuple[Clip, ...]:
    """The whispered clips, at the same level."""
    return _spoken("whispers.txt", "whispers")


def _spoken(table: str, clips_in: str) -> tuple[Clip, ...]:
    folder = FIXTURES / "noise_bench"
    if not (folder / table).is_file():
        raise InputError(f"{folder / table}: is missing; run the benchmark in a checkout of the project")
    rows = (folder / table).read_text(encoding="utf-8").splitlines()
    found: list[Clip] = []
    for number, row in enumerate((row for row in rows if row and row[0] != "#"), start=1):
        voice, text, numbers = (part.strip() for part in row.split("|"))
        sound = load(folder / clips_in / f"{number:03d}-{voice}.opus", level=False)
        found.append(Clip(text, tuple(numbers.split()), voice, in_the_room(sound)))
    return tuple(found)


def in_the_room(voice: Samples) -> Samples:
    """A voice at the level of all recordings, in the room."""
    noise = kitchen()
    level = noise.speech_level(voice, RATE)
    return np.asarray(noise.in_room(voice / level * LEVEL, RATE, direct_db=_DIRECT_DB), np.float32)


def recording(
    chosen: Sequence[Clip], *, snr_db: float | None, pause_s: tuple[float, float], seed: int = 1
) -> Made:
    """The clips one after another with pauses of random length, and kitchen noise; None: no noise.

    The signal-to-noise ratio is that of the frames with speech. Ten seconds without speech begin and end it.
    """
    random = np.random.default_rng(seed)
    parts: list[Samples] = [np.zeros(10 * RATE, np.float32)]
    lines: list[Line] = []
    at = len(parts[0])
    for clip in chosen:
        end = (at + len(clip.samples)) / RATE - _TAIL_S
        lines.append(Line(clip.text, clip.numbers, clip.voice, at / RATE, end))
        pause = np.zeros(int(random.uniform(*pause_s) * RATE), np.float32)
        parts += [clip.samples, pause]
        at += len(clip.samples) + len(pause)
    parts.append(np.zeros(10 * RATE, np.float32))
    samples = np.concatenate(parts)
    return Made(samples if snr_db is None else in_kitchen(samples, snr_db=snr_db, seed=seed), tuple(lines))


def in_kitchen(speech: Samples, *, snr_db: float, seed: int) -> Samples:
    """Speech made of clips, with kitchen noise."""
    far = [clip.samples for clip in clips()[::3]]
    hum = kitchen().kitchen(len(speech), RATE, far, seed=seed)
    noisy = speech + np.asarray(hum, np.float32) * np.float32(LEVEL * 10 ** (-snr_db / 20))
    return noisy.astype(np.float32)


def long_recording(
    *,
    minutes: float,
    sparse: bool,
    snr_db: float = 15.0,
    seed: int = 2,
    pause_s: tuple[float, float] | None = None,
) -> Made:
    """Talk without end (pauses of about a second), or a visit: about a quarter of the time is talk.

    Other pauses, if they are given.
    """
    pause = pause_s or ((8.0, 20.0) if sparse else (0.6, 1.6))
    random = np.random.default_rng(seed)
    chosen: list[Clip] = []
    length = 0.0
    while length < minutes * 60 - 20:
        clip = clips()[random.integers(len(clips()))]
        chosen.append(clip)
        length += len(clip.samples) / RATE + sum(pause) / 2
    return recording(chosen, snr_db=snr_db, pause_s=pause, seed=seed)


@cache
def kitchen() -> Any:
    """The module `audio_fixtures/make/noise.py`, which is no part of the installed packages."""
    path = FIXTURES / "make" / "noise.py"
    spec = importlib.util.spec_from_file_location("kitchen_noise", path)
    if spec is None or spec.loader is None or not path.is_file():
        raise InputError(f"{path}: is missing; run the benchmark in a checkout of the project")
    module = importlib.util.module_from_spec(spec)
    try:
        spec.loader.exec_module(module)
    except ImportError as error:
        raise InputError(f"{path}: needs {error.name}; install the test tools with `make test`") from error
    return module

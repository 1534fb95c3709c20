"""Fits the weights of `capture/speech/two_voices.py`: lines alone and falling into each other.

`python -m capture.bench.fit_two_voices [CLIPS.npz] > two_voices.csv`. The clips are those of the noise bench;
or an `.npz` with arrays `sound_0`, `sound_1`, … (int16, 16 kHz, without a room) and `voices`, one name each.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from capture.audio import RATE, Samples
from capture.bench.recordings import LEVEL, Clip, clips, in_kitchen, in_the_room
from capture.speech import SpeechModel, load_model
from capture.speech.decode import Encoded, pack
from capture.speech.two_voices import POOLED, STATES_PER_S, States, pooled
from capture.voice import spoken_blocks

_NOISES_DB = (None, 20.0, 15.0, 10.0, 5.0, 0.0)
_TURNS = 3
_LINES = 60
_FALLS_IN = 0.55
_LOUDER_DB = (0.0, 0.0, 0.0, -6.0, 6.0, -10.0)
_AS_LOUD_DB = 12.0  # two voices further apart in level are no example of either
_RIDGE = 1e-3
_STEPS = 12

Labels = NDArray[np.int8]


@dataclass(frozen=True, slots=True)
class Mixed:
    """A recording, and for each state of the encoder 1 for two voices, 0 for one or none, -1 for unclear."""

    samples: Samples
    labels: Labels


def mixed(voices: Sequence[Clip], *, seed: int, snr_db: float | None) -> Mixed:
    """Lines with pauses between them; into about every second one another voice falls."""
    random = np.random.default_rng(seed)
    order = list(random.permutation(len(voices)))[:_LINES]
    placed: list[tuple[int, Samples, int]] = []
    at = 3 * RATE
    while order:
        one = voices[order.pop()]
        placed.append((at, one.samples, 0))
        end = at + len(one.samples)
        other = next((index for index in order if voices[index].voice != one.voice), None)
        if other is not None and random.random() < _FALLS_IN:
            order.remove(other)
            begin = at + int(random.uniform(0.0, 1.05) * len(one.samples))
            louder = np.float32(10 ** (random.choice(_LOUDER_DB) / 20))
            placed.append((begin, voices[other].samples * louder, 1))
            end = max(end, begin + len(voices[other].samples))
        at = end + int(random.uniform(1.0, 2.6) * RATE)
    tracks = np.zeros((2, at + 3 * RATE), np.float32)
    for begin, sound, track in placed:
        tracks[track, begin : begin + len(sound)] += sound
    speech: Samples = tracks.sum(axis=0)
    noisy = speech if snr_db is None else in_kitchen(speech, snr_db=snr_db, seed=seed)
    return Mixed(noisy, _labels(tracks))


def examples(made: Mixed, model: SpeechModel) -> tuple[States, Labels]:
    """The pooled states of the stretches with voice, and their labels, the unclear ones left out."""
    found: list[States] = []
    labels: list[int] = []
    for block in spoken_blocks([made.samples]):
        for one in pack([(stretch, block.piece(stretch)) for stretch in block.stretches]):
            states = Encoded(model, [one]).states()[0]
            for stretch, offset in zip(one.stretches, one.offsets, strict=True):
                first = round(offset * STATES_PER_S)
                length = int((stretch.end - stretch.start) * STATES_PER_S)
                begin = round(stretch.start * STATES_PER_S)
                for index, row in enumerate(pooled(states[first : first + length])):
                    own = made.labels[begin + index * POOLED : begin + (index + 1) * POOLED]
                    if len(own) == POOLED and own[0] >= 0 and (own == own[0]).all():
                        found.append(row)
                        labels.append(int(own[0]))
    return np.array(found, np.float32), np.array(labels, np.int8)


def fitted(states: States, labels: Labels) -> tuple[States, float]:
    """Weights and bias of a logistic regression with a ridge on the scaled states, by Newton's method."""
    mean, spread = states.mean(axis=0), states.std(axis=0) + 1e-3
    rows = np.hstack([(states - mean) / spread, np.ones((len(states), 1))]).astype(np.float64)
    ridge = np.full(rows.shape[1], 2 * _RIDGE * len(rows))
    ridge[-1] = 0.0
    weights = np.zeros(rows.shape[1])
    for _ in range(_STEPS):
        sure = 1 / (1 + np.exp(-np.clip(rows @ weights, -30, 30)))
        slope = rows.T @ (sure - labels) + ridge * weights
        curve = (rows * (sure * (1 - sure))[:, None]).T @ rows + np.diag(ridge + 1e-9)
        weights -= np.linalg.solve(curve, slope)
    plain = weights[:-1] / spread
    return plain.astype(np.float32), float(weights[-1] - mean @ plain)


def main(given: str | None) -> None:
    """Fits and prints the table."""
    voices = list(_clips_of(Path(given)) if given else clips())
    model = load_model(checked=False)
    parts = [
        examples(mixed(voices, seed=100 * turn + index, snr_db=snr_db), model)
        for turn in range(_TURNS)
        for index, snr_db in enumerate(_NOISES_DB)
    ]
    states, labels = (np.concatenate(row) for row in zip(*parts, strict=True))
    weights, bias = fitted(states, labels)
    names = sorted({clip.voice for clip in voices})
    print(f"# Fitted by capture/bench/fit_two_voices.py on {len(voices)} lines.")
    print(f"# Voices: {', '.join(names)}.")
    print(f"# Tenths of a second: {len(labels)}, {labels.mean():.1%} of them with two voices.")
    print("# The bias, then the weights.")
    print("\n".join(f"{value:.5g}" for value in (bias, *weights)))


def _labels(tracks: Samples) -> Labels:
    """By the level of either track in each state's 20 ms, evened out over a tenth of a second."""
    size = RATE // STATES_PER_S
    count = tracks.shape[1] // size
    frames = tracks[:, : count * size].reshape(2, count, size)
    level = np.sqrt((frames**2).mean(axis=2))
    talks = np.array([_evened(row > 0.1 * LEVEL, 5) >= 0.6 for row in level])
    loud = 20 * np.log10(np.array([_evened(row, 9) for row in level]) + 1e-6)
    both = talks.all(axis=0)
    near = np.abs(loud[0] - loud[1]) < _AS_LOUD_DB
    return np.where(both, np.where(near, 1, -1), 0).astype(np.int8)


def _evened(row: NDArray[np.generic], width: int) -> NDArray[np.float64]:
    return np.convolve(row.astype(np.float64), np.ones(width) / width, "same")


def _clips_of(path: Path) -> Iterator[Clip]:
    with np.load(path) as kept:
        for index, voice in enumerate(kept["voices"]):
            yield Clip("", (), str(voice), in_the_room(kept[f"sound_{index}"].astype(np.float32)))


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else None)

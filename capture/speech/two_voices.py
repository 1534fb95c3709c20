"""Where two people talk at once, told from the speech model's own encoding of the sound.

Of two voices the model prints one and says nothing of the other. Its encoder hears both: a weight for each
of its 512 outputs tells two voices from one, also of people whom it was not fitted on (docs/speech.md). The
weights belong to the base model and to no other; `capture/bench/fit_two_voices.py` makes them.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

from capture.speech.weights import BASE
from shared.types import Stretch

MODEL = BASE.sha256
"""The model whose encoder the weights were fitted on."""
STATES_PER_S = 50
POOLED = 5
"""States that are taken together: a tenth of a second."""
_POOLS_PER_S = STATES_PER_S // POOLED
_WIDTH = 5  # pools whose mean counts: a shorter meeting of two voices is mostly an echo

States = NDArray[np.float32]


def regions(states: States, start: float) -> list[Stretch]:
    """Where two voices are heard, in seconds; the first state lies at `start`."""
    weights, bias = _weights()
    scores = pooled(states) @ weights + bias
    if len(scores) < _WIDTH:
        return []
    means = np.convolve(scores, np.ones(_WIDTH) / _WIDTH, "valid")
    places = np.flatnonzero(means > 0)
    if not len(places):
        return []
    runs = np.split(places, np.flatnonzero(np.diff(places) > _WIDTH) + 1)
    return [
        Stretch(start + float(run[0]) / _POOLS_PER_S, start + float(run[-1] + _WIDTH) / _POOLS_PER_S)
        for run in runs
    ]


def pooled(states: States) -> States:
    """The means over each tenth of a second."""
    count = len(states) // POOLED
    means: States = states[: count * POOLED].reshape(count, POOLED, states.shape[1]).mean(axis=1)
    return means


@cache
def _weights() -> tuple[States, float]:
    text = (files("capture.speech") / "two_voices.csv").read_text(encoding="utf-8")
    row = [float(line) for line in text.splitlines() if line and line[0] != "#"]
    return np.array(row[1:], np.float32), row[0]

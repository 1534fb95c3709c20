"""The learned weights, and what they say of a figure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from extract.figure import Figure
from extract.line import Line
from extract.purpose.features import features, words_of
from shared.errors import InputError

WEIGHTS = Path(__file__).with_name("weights.npz")


@dataclass(frozen=True, slots=True)
class Purpose:
    """A linear rule over what is counted around a figure."""

    weights: Mapping[str, float]
    level: float
    learned_from: str
    """SHA-256 of the sayings."""

    def measured(self, line: Line, found: Sequence[Figure]) -> list[float]:
        """For each figure of an utterance, roles settled, the log-odds that it was measured now."""
        words = words_of(line, found)
        known = self.weights.get
        return [
            self.level + sum(known(each, 0.0) for each in set(features(line, found, at, words)))
            for at in range(len(found))
        ]


def save(made: Purpose, path: Path = WEIGHTS) -> None:
    """Writes the weights, compressed."""
    np.savez_compressed(
        path,
        features=np.array("\n".join(made.weights)),
        weights=np.array(list(made.weights.values()), np.float16),
        level=np.float32(made.level),
        learned_from=np.array(made.learned_from),
    )


def load(path: Path = WEIGHTS) -> Purpose:
    """The weights of a file. InputError says what to do when they are missing or damaged."""
    try:
        with np.load(path, allow_pickle=False) as kept:
            names = str(kept["features"]).split("\n")
            weights = dict(zip(names, kept["weights"].astype(float).tolist(), strict=True))
            return Purpose(weights, float(kept["level"]), str(kept["learned_from"]))
    except (OSError, ValueError, KeyError) as error:
        raise InputError(f"{path}: the learned weights cannot be read ({error}); run make weights") from error


@cache
def purpose() -> Purpose:
    """The weights that ship, read at first use."""
    return load()

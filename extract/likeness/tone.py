"""A linear rule with two outcomes, over all that sentences are counted as."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import chain

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True)
class Tone:
    """What it counts, how much each counts for, and where it starts from."""

    counted: str
    """All that is counted, one a line."""
    idf: NDArray[np.floating]
    """Of each line its inverse document frequency."""
    weights: NDArray[np.floating]
    level: float

    @cached_property
    def _table(self) -> tuple[NDArray[np.int64], NDArray[np.float64], NDArray[np.float64]]:
        """The hashes of the lines in order, with their frequencies and weights.

        There are hundreds of thousands; so they take less room, and are found faster, than in a dictionary.
        That two have one hash of 64 bits is not to be feared.
        """
        lines = self.counted.split("\n")
        hashes = np.fromiter(map(hash, lines), np.int64, len(lines))
        order = np.argsort(hashes)
        return hashes[order], self.idf[order].astype(np.float64), self.weights[order].astype(np.float64)

    def of(self, told: Sequence[Sequence[str]]) -> list[float]:
        """Log-odds of the first outcome for each of several sentences, given as what is counted in them.

        Each sentence is a tf-idf vector of length 1. Many at once cost far less than one after another.
        """
        hashes, idf, weights = self._table
        sizes = np.array([len(each) for each in told], np.int64)
        heard = np.fromiter(map(hash, chain.from_iterable(told)), np.int64, sizes.sum())
        at = np.minimum(np.searchsorted(hashes, heard), len(hashes) - 1)
        known = hashes[at] == heard
        sentence = np.repeat(np.arange(len(told)), sizes)
        pairs, times = np.unique(sentence[known] * len(hashes) + at[known], return_counts=True)
        sentence, at = np.divmod(pairs, len(hashes))
        values = idf[at] * (1 + np.log(times))
        length = np.sqrt(np.bincount(sentence, values * values, len(told)))
        spoken = np.bincount(sentence, values * weights[at], len(told))
        odds: list[float] = (self.level + spoken / np.where(length > 0, length, 1)).tolist()
        return odds

"""How large the networks of the second reader are: the one that ships, and the guide that teaches it."""

from __future__ import annotations

from typing import NamedTuple


class Shape(NamedTuple):
    """A network's size."""

    width: int
    inner: int
    """Width between the two dense layers."""
    layers: int
    epsilon: float
    """Of the normalising layers."""
    distances: int = 0
    """How many distances between pieces attention tells apart; 0: none."""
    farthest: int = 0
    """The distance from which on all are one."""


ATTENTION_HEADS, PLACES = 12, 512
READER = Shape(384, 1536, 6, 1e-12)
"""The shape of all-MiniLM-L6-v2."""
GUIDE = Shape(768, 3072, 12, 1e-5, 32, 128)
"""The shape of all-mpnet-base-v2."""

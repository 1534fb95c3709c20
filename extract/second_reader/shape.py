"""How large the network of the second reader is: that of all-mpnet-base-v2."""

from __future__ import annotations

WIDTH, ATTENTION_HEADS = 768, 12
PLACES = 512
"""Where a piece may stand, from 0."""
DISTANCES, FARTHEST = 32, 128
"""How many distances between pieces attention tells apart, and from which on all are one."""
EPSILON = 1e-5
"""Of the normalising layers."""

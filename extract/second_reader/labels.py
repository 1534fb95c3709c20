"""What the second reader tells apart, in the order of its weights."""

from __future__ import annotations

from typing import get_args

from shared.types import Kind, Stage

MEANT = ("r", "l", "p", "w", "n", "u")
"""What a figure is for, by the letters of `marked.Mark`; `n` stands for times, dates and spans too."""
STAGES: tuple[str, ...] = get_args(Stage)
CELSIUS = "celsius"
KINDS: tuple[str, ...] = (*get_args(Kind), CELSIUS)
"""Kinds of measures that a figure may tell of; `temperature` is one in °F."""
TOLD = ("violation", "in order", "nothing", "put right", "promised")
"""What a sentence tells."""

ON_TOP = (
    "meant", "stage", "item_first", "item_last", "place_first", "place_last", "violates", "told", "section",
    "corrected", "misheard", "kind",
)  # fmt: skip
"""The layers on top of the encoder, one for each question."""

UNKNOWN, NOT_MEASURED, NO_VIOLATION, NOT_PUT_RIGHT = -1, -2, -3, -4
"""Labels of examples of which nothing is known, or only what they are not."""

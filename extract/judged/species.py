"""Of which animal a food may be, where words leave it open: `patty 159, might be beef or chicken`."""

from __future__ import annotations

from extract.scene import Draft
from shared.foods import classify

_OPEN = (
    ("might", "be"), ("could", "be"), ("may", "be"), ("maybe",), ("either",), ("if", "they"), ("if", "it"),
    ("whether", "they"), ("whether", "it"), ("no", "idea"), ("nobody", "knows"), ("not", "sure"),
)  # fmt: skip
_PLANT = frozenset(("plant", "veggie", "vegan", "vegetarian", "vegetable", "meatless"))
_REACH = 2
"""Sentences, the figure's own among them, in which the words still speak of it."""


def may_be(draft: Draft) -> tuple[str, ...]:
    """The names it would have as each animal that the words leave open; none where they do not."""
    food = classify(draft.item) if draft.item else None
    if draft.chunk is None or draft.line.index < 0 or (food is not None and "comminuted" not in food.tags):
        return ()
    line = draft.line
    own = line.sentence[draft.first]
    lows = [token.low for token in line.tokens]
    hedge = next(
        (
            n
            for n in range(draft.last, len(lows))
            if line.sentence[n] < own + _REACH and any(tuple(lows[n : n + len(o)]) == o for o in _OPEN)
        ),
        None,
    )
    if hedge is None:
        return ()
    named = [
        line.words(chunk.first, chunk.last)
        for chunk in line.chunks
        if chunk.first > hedge and line.sentence[chunk.first] == line.sentence[hedge] and chunk.known_food
    ]
    kinds = {kind.kind for name in named if (kind := classify(name)) is not None and "animal" in kind.tags}
    plants = any(
        line.sentence[n] == line.sentence[hedge] and lows[n] in _PLANT for n in range(hedge, len(lows))
    )
    if len(kinds) + plants < 2:
        return ()
    return (*(f"{name} {draft.item}" for name in named), *(("veggie burger",) if plants else ()))

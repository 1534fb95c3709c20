"""Of which animal a food may be, where words leave it open: `patty 159, might be beef or chicken`."""

from __future__ import annotations

from extract.scene import Draft
from extract.words.text import word_set
from shared.foods import classify

_INSIDE = word_set("inside stuffed cavity")


def stuffed_into(draft: Draft) -> str | None:
    """What the stuffing of `turkey, and the stuffing inside of it 144` is: stuffing with meat in or around it
    is cooked like what it is in (FDA Food Code 2022, 3-401.11(A)(3)). None for all else."""
    item = (draft.item or "").lower()
    if draft.stage != "cooking" or not item.endswith("stuffing"):
        return None
    line = draft.line
    foods = [classify(line.words(c.first, c.last)) for c in line.chunks if c.known_food]
    animal = any(food is not None and "animal" in food.tags for food in foods)
    inside = any(token.low in _INSIDE for token in line.tokens)
    return f"stuffed {item}" if animal and inside else None


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

"""Which foods carry a date mark: ready-to-eat food that needs temperature control, but for those that
3-501.17(G) leaves out."""

from __future__ import annotations

from collections.abc import Sequence

from extract.scene import Draft
from extract.words.text import word_set
from shared.foods import classify

DATE_MARKING = ("3-501.17", "3-501.18")
_RAW = "raw "
_NEEDS_NONE = frozenset({"no_date_mark", "shelf_stable"})


def dated(foods: Sequence[str]) -> bool:
    """Whether any of the foods may need a date mark; food that is not known, or none named, may."""
    return not foods or any(_may_need(food) for food in foods)


def _may_need(name: str) -> bool:
    food = classify(name)
    if food is None:
        return True
    raw_meat = name.lower().startswith(_RAW) and "animal" in food.tags and not food.ready_to_eat
    return not raw_meat and not _NEEDS_NONE & food.tags


_SINCE = word_set("ago back")


def day_of_use(draft: Draft) -> float | None:
    """Which day it is of food made so many days `ago`: the day that it was made is the first (3-501.17(A)).
    None where a span is told in another way."""
    if draft.kind != "duration" or draft.stage != "storage" or draft.unit != "day":
        return None
    after = {token.low for token in draft.line.tokens[draft.last : draft.last + 2]}
    return draft.value + 1 if after & _SINCE else None


_MADE = word_set(
    """sous vide pulled cooked cooks roasted grilled smoked braised made sliced leftover leftovers opened open
    deli"""
)


def kept_raw(draft: Draft) -> frozenset[str]:
    """`raw` of days told of a piece of raw meat, which carries no date mark."""
    if draft.kind != "duration" or draft.stage != "storage":
        return frozenset()
    food = classify(draft.item) if draft.item else None
    made = any(token.low in _MADE for token in draft.line.tokens)
    piece = food is not None and "intact_meat" in food.tags and not food.ready_to_eat
    return frozenset(("raw",)) if piece and not made else frozenset()


def was_opened(draft: Draft) -> bool:
    """`the vac packed ham, opened nine days ago`."""
    return draft.stage == "storage" and any(token.low in ("opened", "open") for token in draft.line.tokens)

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

"""Readings of one food that cools, of which one was changed: the others were judged with it as it was."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from review_api.api.shown import Reading

_JUDGED = ("meets", "violates", "borderline")
_COUNTS = frozenset(("value", "unit", "kind", "stage", "item", "clock"))


def outdated(readings: Sequence[Reading]) -> Iterator[tuple[str, str]]:
    """Each reading whose verdict rests on another that was changed or rejected since, with the sentence that
    says so. Food is told apart by its name as the program had it."""
    foods: dict[str, list[Reading]] = {}
    for reading in readings:
        stage = reading.proposed.get("stage", reading.stage)
        if reading.kind == "temperature" and stage == "cooling":
            food = str(reading.proposed.get("item", reading.item) or "food")
            foods.setdefault(food.lower(), []).append(reading)
    for food, together in foods.items():
        for reading in together:
            others = [other for other in together if other is not reading and _is_changed(other)]
            if not others or _is_changed(reading) or reading.check is None:
                continue
            if reading.check.verdict in _JUDGED:
                first = others[0].said
                yield (
                    reading.id,
                    f"the reading “{reading.said}” of {food} was judged with “{first}”, changed since: "
                    "look at the cooling of both, then edit or reject what no longer holds",
                )


def _is_changed(reading: Reading) -> bool:
    return reading.decision.state == "rejected" or bool(_COUNTS & set(reading.proposed))

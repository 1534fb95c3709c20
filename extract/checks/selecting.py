"""Which limits apply to a reading, by its food and by the conditions that were said."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from extract.checks.measured import Measured
from extract.checks.surroundings import conditions
from shared.foods import Food, classify
from shared.rules.model import Ambiguity, Limit, Rules, TimeTemperature

HOT_ON_ARRIVAL = {"degF": 88.0, "degC": 31.0}
"""Food received above this was sent hot: half-way between the two limits. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Subject:
    """A reading's food and conditions, as the words that rules rows use."""

    food: Food | None
    known: frozenset[str]
    """Kinds of food and conditions in one: what was said of a food counts as its kind."""
    doubtful: str | None = None
    """What would settle whether it is TCS food; it is treated as such until then."""

    def with_option(self, option: str) -> Subject:
        """The subject if `option` were known of it."""
        return replace(self, known=(self.known - {"unknown"}) | {option})


def subject(measured: Measured) -> Subject:
    """The food and conditions of a reading. Food that is not known is treated as TCS, as the code asks."""
    food = measured.food if measured.food is not None else _classified(measured.item)
    known = measured.says | conditions(measured.item, measured.place)
    if measured.stage == "receiving" and measured.kind == "temperature":
        hot = HOT_ON_ARRIVAL.get(measured.unit)
        if hot is not None and measured.value > hot:
            known |= {"hot"}
    if food is None:
        what = f"whether {measured.item} is food that needs temperature control" if measured.item else None
        return Subject(None, known | {"unknown", "tcs"}, what)
    cooked = measured.stage == "receiving" and "hot" in known
    needs = food.needs_control("hot_holding" if cooked else measured.stage)
    known |= food.tags if needs is False else food.tags | {"tcs"}
    return Subject(food, known, food.asks if needs is None else None)


def _classified(item: str | None) -> Food | None:
    return classify(item) if item else None


def applies(row: Limit | TimeTemperature, about: Subject) -> bool:
    """Whether a limit or a table is for this food under these conditions."""
    if row.foods and row.foods.isdisjoint(about.known):
        return False
    if not row.not_foods.isdisjoint(about.known):
        return False
    return about.known.issuperset(row.when) and row.unless.isdisjoint(about.known)


def limits_for(measured: Measured, about: Subject, rules: Rules) -> list[Limit]:
    """The limits in force for the reading; of rows with one section and direction, the most special."""
    found = [
        limit
        for limit in rules.by_stage.get((measured.stage, measured.kind), ())
        if applies(limit, about) and _printed(limit, measured.unit)
    ]
    return [limit for limit in found if _most_special(limit, found)]


def _printed(limit: Limit, unit: str) -> bool:
    return unit in limit.values or limit.quantity in ("duration", "length")


def _most_special(limit: Limit, found: Iterable[Limit]) -> bool:
    return all(
        len(other.when) <= len(limit.when)
        for other in found
        if other.section == limit.section and other.operator == limit.operator
    )


def open_question(measured: Measured, about: Subject, rules: Rules) -> Ambiguity | None:
    """What was left unsaid and may decide which limit applies; None when nothing was."""
    for item in rules.ambiguities.get((measured.stage, measured.kind), ()):
        if item.foods and item.foods.isdisjoint(about.known):
            continue
        if item.not_foods.isdisjoint(about.known) and item.unless.isdisjoint(about.known):
            return item
    return None


def tables_for(
    measured: Measured, about: Subject, limits: Iterable[Limit], rules: Rules
) -> list[TimeTemperature]:
    """Time-temperature tables in force that stand beside these limits or rule this food alone."""
    names = {limit.id for limit in limits}
    return [
        table
        for table in rules.tables.values()
        if table.in_force
        and measured.stage in table.stages
        and applies(table, about)
        and (table.foods or not table.alternative_to.isdisjoint(names))
    ]

"""Cooked food that is held to the limit that was said for it: `pierogi 158. Stuffed, so 165`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from extract.figures.figure import Figure
from extract.judged.roasts import is_held_roast, is_roast
from extract.meant_for.said_limits import beside, is_limit
from extract.of_what.staging import heads_agree
from extract.scene import Draft, Read
from extract.settled.in_order import PERHAPS_IN_ORDER
from extract.words.line import Line
from extract.words.text import word_set
from shared.foods import classify
from shared.rules.model import Limit, Rules
from shared.types import Check
from shared.units import written

AS_SAID = "limit_as_said"
"""The doubt on a reading that breaks no limit of the rules but the one said aloud for it."""
_SUPPOSES = word_set("if unless not never would were no nobody thinks thought claims says")
"""Words with which a limit is spoken of otherwise than asked for: common practice, no source."""


_OF_ROASTS = "hot_holding_roasts"
"""The limit of roasts that were cooked by the roast table."""


def take_roast_as_said(draft: Draft, reads: Sequence[Read], rules: Rules) -> None:
    """Takes a roast for one that was cooked by the table, in place, where the speaker says that 130 °F do for
    it: `prime rib 131, whole roast so they only need 130`. It is doubted."""
    row = rules.limits.get(_OF_ROASTS)
    least = row.values.get(draft.unit) if row is not None else None
    if least is None or draft.cooked is not None or not is_held_roast(draft) or draft.said is not None:
        return
    at = draft.line.index
    for read in reads[at : at + 2]:
        for figure in read.figures:
            own = read.line is draft.line
            if figure.value != least or not (is_limit(figure) or figure.role in ("mentioned", "count")):
                continue
            if own and not beside(read.line, read.figures, draft.figure, figure):
                continue
            if _asked_of_it(draft, figure, read.line, named=not own):
                draft.facts = draft.facts | {"roast_table"}
                asked = written(least, draft.unit)
                draft.codes.append((AS_SAID, f"{asked} was said to do for it: was it cooked so?", ()))
                return


_OF_COOKING = frozenset((145.0, 155.0, 158.0, 165.0))
"""°F that the rules ask of cooked food, and of no food that is held: FDA Food Code 2022, 3-401.11."""


def take_as_cooked(draft: Draft, reads: Sequence[Read]) -> None:
    """Takes food for cooked food, in place, where nothing tells its stage and the next utterance begins with
    what such food is cooked to: `Duck breast 141 in the pan`, then `It's poultry, 165`. It is doubted."""
    guessed = draft.stage == "hot_holding" and not (draft.stage_told or draft.stage_fixed) and draft.food
    after = reads[draft.line.index + 1 : draft.line.index + 2]
    if not guessed or not after or after[0].drafts or draft.unit != "degF" or draft.line.index < 0:
        return
    line = after[0].line
    for figure in after[0].figures:
        named = [c for c in line.chunks if c.known_food and c.last < figure.first]
        its = all(_of_a_kind(draft.item or "", line.words(c.first, c.last)) for c in named)
        opens = line.sentence[figure.first] == 0 and its
        short = figure.value in _OF_COOKING and draft.value < figure.value
        if opens and short and figure.role in ("limit", "mentioned") and figure.unit in (None, "deg", "degF"):
            draft.stage = "cooking"
            asked = written(figure.value, draft.unit)
            draft.codes.append((AS_SAID, f"{asked} was said for it, so it was taken for cooked food", ()))
            return


def _of_a_kind(item: str, name: str) -> bool:
    """Whether a name is of the kind of the food: the `poultry` of a duck breast."""
    one, two = classify(item), classify(name)
    return one is not None and two is not None and bool((one.tags & two.tags) - {"animal"})


def spared_by_what_was_asked(draft: Draft, check: Check, read: Read) -> Check:
    """The verdict on food that breaks the limit of what it was taken for, and keeps the one that the speaker
    names for it: `being a bought soup it had only to make 135`. It is doubted, and asked about."""
    if (
        check.verdict not in ("violates", "undetermined")
        or draft.kind != "temperature"
        or draft.said is not None
    ):
        return check
    if draft.stage not in _HOT | _COLD or draft.carries(PERHAPS_IN_ORDER):
        return check
    for figure in read.figures:
        kept = draft.value >= figure.value if draft.stage in _HOT else draft.value <= figure.value
        near = abs(draft.value - figure.value) <= _NEAR
        if not (kept and near and is_limit(figure) and beside(read.line, read.figures, draft.figure, figure)):
            continue
        if figure.unit not in (None, "deg", draft.unit) or not _asked_of_it(draft, figure):
            continue
        said = f"{written(figure.value, draft.unit)} was said to do for it"
        draft.codes.append((PERHAPS_IN_ORDER, said, ()))
        return replace(check, why=f"{check.why}, but {said}")
    return check


_HOT = frozenset(("hot_holding", "reheating", "cooking"))
_COLD = frozenset(("cold_holding", "receiving"))
_NEAR = 40.0
"""Degrees between a figure and a limit that may be of it: common practice, no source."""


def held_to_what_was_asked(draft: Draft, check: Check, read: Read, rules: Rules) -> Check:
    """The verdict on food out of the fire that meets the limit of what it was taken for, and breaks the one
    that the speaker names for it, who may know better what it is."""
    if draft.stage != "cooking" or draft.kind != "temperature" or draft.said is not None:
        return check
    if check.verdict not in ("meets", "borderline", "undetermined"):
        return check
    for figure in read.figures:
        if not (is_limit(figure) and beside(read.line, read.figures, draft.figure, figure)):
            continue
        row = _row(figure, draft.unit, rules)
        if row is None or draft.value >= figure.value or not _asked_of_it(draft, figure):
            continue
        short = written(figure.value - draft.value, draft.unit)
        asked = written(figure.value, draft.unit)
        why = f"{written(draft.value, draft.unit)} is {short} below the {asked} that was said for it"
        draft.codes.append((AS_SAID, f"{asked} was said for it, and the rules ask less of such food", ()))
        margin = draft.value - figure.value
        return Check(
            "violates",
            row.section,
            row.operator,
            figure.value,
            draft.unit,
            margin,
            why=why,
        )
    return check


def _row(figure: Figure, unit: str, rules: Rules) -> Limit | None:
    """The rule for cooking that asks for just this temperature."""
    if figure.unit not in (None, "deg", unit):
        return None
    rows = (
        row
        for row in rules.limits.values()
        if row.stage == "cooking" and row.in_force and row.values.get(unit) == figure.value and not row.when
    )
    return min(rows, key=lambda row: row.section, default=None)


def _asked_of_it(draft: Draft, limit: Figure, line: Line | None = None, *, named: bool = False) -> bool:
    """Whether the sentence of a limit asks it, and of no other food. `named`: it has to name the food."""
    line = line if line is not None else draft.line
    first, end = line.sentence_span(limit.first)
    lows = [token.low for token in line.tokens[first:end]]
    if ("i", "say") not in pairwise(lows) and not _SUPPOSES.isdisjoint(lows):
        return False
    foods = [c for c in line.chunks if first <= c.first < end and c.known_food]
    its = [bool(draft.item) and _alike(draft.item or "", line.words(c.first, c.last)) for c in foods]
    return all(its) and (bool(its) or not named)


def _alike(item: str, name: str) -> bool:
    return heads_agree(item, name) or (is_roast(item) and is_roast(name))

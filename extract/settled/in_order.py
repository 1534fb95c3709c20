"""Broken limits of which the words sound as if all were in order: doubted, and asked about."""

from __future__ import annotations

from dataclasses import replace

from extract.of_what.staging import HELD
from extract.scene import Draft
from extract.words.text import word_set
from shared.types import Check

PERHAPS_IN_ORDER = "perhaps_in_order"
"""The doubt on such a reading."""
_IN_ORDER, _NO_LIMIT = 0.04, 0.02
"""Share of a violation up to which the words sound so, and up to which food held cold or hot is then without
a limit. Chosen on walks that the network asked had not seen (`docs/extraction.md`)."""
_JUDGED_BY_WORDS = HELD | word_set("cooking reheating receiving thermometer_check")


PERHAPS_THE_LIMIT = "perhaps_the_limit"
"""The doubt on a figure that is just the limit, said right behind a reading that breaks it."""
_NOT_OF_LIMITS = word_set("now back again after later up")


def doubt_limit(draft: Draft, verdict: Check, before: Draft | None) -> None:
    """`livers 149. Poultry, one sixty five`: doubts, in place, a figure that may be the limit said aloud;
    `before`: the reading before it, judged."""
    if before is None or draft.said is not None or verdict.margin != 0:
        return
    if before.verdict not in ("violates", "undetermined"):
        return
    if before.stage != draft.stage or draft.kind != before.kind or draft.figure.codes or draft.unit_said:
        return
    first, end = draft.line.sentence_span(draft.first)
    lows = {token.low for token in draft.line.tokens[first:end]}
    if draft.line.index - before.line.index <= 1 and not lows & _NOT_OF_LIMITS:
        draft.codes.append((PERHAPS_THE_LIMIT, "It may be the limit said aloud, and not what was read", ()))


def doubt_verdict(draft: Draft, verdict: Check) -> Check:
    """The verdict on a reading that breaks a limit, doubted where its words sound as if it were in order.

    Mostly it is then of another stage or food than was understood; of food held, that no limit holds for it
    (`52, but that's all vinegar`). What rests on figures more than on words is left alone: solutions, light,
    pressures, cooling.
    """
    told = draft.figure.told if draft.said is None else None
    held = draft.stage in HELD
    if verdict.verdict != "violates" or told is None or told.violates >= (_NO_LIMIT if held else _IN_ORDER):
        return verdict
    if draft.kind != "temperature" or draft.stage not in _JUDGED_BY_WORDS or draft.cooked is not None:
        return verdict
    draft.codes.append((PERHAPS_IN_ORDER, "Its words sound as if it were in order", ()))
    why = f"{verdict.why}, but the words sound as if it were in order"
    return Check("none", verdict.section, why=why) if held else replace(verdict, why=why)

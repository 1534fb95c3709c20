"""Food that its own pH or water activity, told beside it, frees of temperature limits."""

from __future__ import annotations

from collections.abc import Sequence

from extract.checks.tcs import by_table
from extract.of_what.staging import HELD, heads_agree
from extract.scene import Draft
from shared.rules.model import Rules
from shared.types import Check

_KINDS = {"ph": "ph", "water_activity": "aw"}


def sour_enough(draft: Draft, near: Sequence[Draft], found: Check, rules: Rules) -> Check | None:
    """The verdict on food that breaks a holding limit but whose pH or water activity, measured beside it,
    says that it needs no temperature control, packaged or not (1-201.10), or that its pH decides; None where
    nobody measured it."""
    if draft.kind != "temperature" or draft.stage not in HELD or draft.item is None:
        return None
    if found.verdict not in ("violates", "borderline"):
        return None
    facts = {
        _KINDS[d.kind]: d
        for d in near
        if d.kind in _KINDS and d.stage != "sanitizer" and d.item and heads_agree(d.item, draft.item)
    }
    if not facts:
        return None
    aw, ph = (facts[name].value if name in facts else None for name in ("aw", "ph"))
    answers = [by_table(rules, packaged=each, aw=aw, ph=ph) for each in (True, False)]
    told = " and ".join(f"{d.value:g} {d.unit}" for d in facts.values())
    if aw is not None and ph is None and all(answer.answer != "product_assessment" for answer in answers):
        missing = tuple(dict.fromkeys(fact for answer in answers for fact in answer.missing))
        if missing:
            why = f"at {told} {' and '.join(missing)} decides whether it needs temperature control (1-201.10)"
            return Check("undetermined", found.section, missing=missing, why=why)
    if any(answer.treat_as_tcs for answer in answers):
        return None
    return Check("none", why=f"at {told} it needs no temperature control (1-201.10)")

"""What was observed, in the program's own words: its figures are those of the readings as they stand."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from extract.proposed.findings import stage_words
from review_api.api.shown import Reading
from shared.units import written

Pair = tuple[Mapping[str, Any], Reading]
"""A reading as the program proposed it, and as it stands."""


def observed(what: str, pairs: Sequence[Pair]) -> str:
    """The program's sentence with food, figure, clock, stage and limit of each reading as it stands now.

    `pairs`: the readings that the finding rests on, in its order. What the sentence does not say in the
    program's way stays as it is.
    """
    at = 0
    for base, now in pairs:
        found = _figure(written(base["value"], base["unit"]), what, at)
        if found is None or now.decision.state == "rejected":
            at = found[1] if found else at
            continue
        head = what[at : found[0]]
        named = _renamed(head, _name(base), _name(now.model_dump()), opens=at == 0)
        figure = written(now.value, now.unit)
        tail = _swapped(what[found[1] :], _clock(base.get("clock")), _clock(now.clock))
        done = what[:at] + named + figure
        at = len(done) + (len(_clock(now.clock)) if tail.startswith(_clock(now.clock)) else 0)
        what = done + tail
    if pairs:
        what = what[:at] + _circumstances(what[at:], *pairs[0])
    return what


def _figure(text: str, what: str, at: int) -> tuple[int, int] | None:
    """Where the figure stands from `at` on, and is no part of a longer number."""
    found = re.compile(rf"(?<![\d.]){re.escape(text)}(?![\d.]*\d)").search(what, at)
    return found.span() if found else None


def _name(reading: Mapping[str, Any]) -> str:
    return str(reading.get("item") or reading.get("agent") or reading.get("place") or "")


def _renamed(head: str, was: str, is_: str, *, opens: bool) -> str:
    begin = head.lower().rfind(was.lower()) if was and is_ else -1
    if begin < 0 or was == is_:
        return head
    name = f"{is_[:1].upper()}{is_[1:]}" if opens and begin == 0 and head[:1].isupper() else is_
    return head[:begin] + name + head[begin + len(was) :]


def _clock(clock: str | None) -> str:
    return f" at {clock}" if clock else ""


def _swapped(text: str, was: str, is_: str) -> str:
    if was and text.startswith(was):
        return is_ + text[len(was) :]
    return text


def _circumstances(text: str, base: Mapping[str, Any], now: Reading) -> str:
    """The end of the sentence, `(cold holding, at most 41 °F is allowed)`, as stage and limit are now."""
    if base["stage"] != now.stage:
        text = _STAGE.sub(f" ({stage_words(now.stage)}", text, count=1)
    was = base.get("check") or {}
    if was.get("limit") is None or was.get("unit") is None:
        return text
    old = re.escape(written(was["limit"], was["unit"]))
    said = re.compile(rf", [^,;()]*{old} is (?:needed|allowed)")
    check = now.check
    if check is None or check.limit is None or check.unit is None:
        return said.sub("", text, count=1)
    if (was.get("operator"), was["limit"], was["unit"]) == (check.operator, check.limit, check.unit):
        return text
    if check.operator not in ("<=", ">="):
        return said.sub("", text, count=1)
    limit = written(check.limit, check.unit)
    told = f"at least {limit} is needed" if check.operator == ">=" else f"at most {limit} is allowed"
    return said.sub(lambda _: f", {told}", text, count=1)


_STAGE = re.compile(r"^ \([^,()]*")

"""How a roast was cooked, as it was told beside its reading: that decides at what it may be held hot.

By 3-501.16(A)(1) only a roast cooked by the table of 3-401.11(B), or reheated so, may be held at 130 °F.
"Cooked to 200 internal", "slow roasted overnight at 250 to 131" and "reheated to 165" are facts that an
inspector would take; a figure without them stays a reading.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache

from extract.checks.exactly import seconds
from extract.figures.figure import Figure
from extract.scene import Cooked, Draft, Read
from extract.words.lexicon import Phrases, read
from extract.words.line import Line
from extract.words.text import negated, plain
from shared.foods import classify
from shared.rules.model import Rules, TimeTemperature

_BACK = 12
"""Words between the verb and its figure, at most."""
_ENDS = frozenset((".", ";", "!", "?", "\n"))
_TIMES = ("second", "minute", "hour")
_ROLES = frozenset(("figure", "mentioned", "set_point", "claim"))
_LIKELY = {"degF": (90.0, 215.0), "degC": (32.0, 102.0)}
"""Between which a cooking temperature lies; common practice, no source."""
_READ = frozenset(("cooking", "reheating"))
"""Stages in which a figure told so is a reading of its own too."""


@dataclass(frozen=True, slots=True)
class _Words:
    verbs: Phrases[str]
    slow: Phrases[str]
    long_h: float
    stays_s: float


@cache
def _words() -> _Words:
    raw = read("roasts.toml")
    verbs = [(text, kind) for kind in ("to", "at", "reached") for text in raw[kind]]
    slow = [(text, "slow") for text in raw["slow"]]
    return _Words(Phrases(verbs, form=plain), Phrases(slow, form=plain), raw["long_h"], raw["stays_s"])


def settle_roasts(drafts: list[Draft], reads: Sequence[Read]) -> None:
    """Gives roasts that are held hot what they were told to have been cooked to, in place, and takes such
    figures out of the readings."""
    held = [draft for draft in drafts if is_held_roast(draft)]
    for done in reads if held else ():
        line = done.line
        near = [draft for draft in held if 0 <= line.index - draft.line.index <= 1]
        if not near:
            continue
        told = [figure for figure in done.figures if _told_so(line, figure, near[0].unit)]
        roasts = [draft for draft in near if draft.line is line and draft.figure not in told]
        if not roasts and not any(chunk.sort == "food" for chunk in line.chunks):
            roasts = [draft for draft in near if draft.line is not line][-1:]
        for figure in told:
            roast = _of(figure, line, roasts)
            if roast is not None:
                _tell(roast, figure, done)
        drafts[:] = [
            draft for draft in drafts if draft.line is not line or not _only_told(draft, told, roasts)
        ]


def as_cooked(draft: Draft, rules: Rules) -> frozenset[str]:
    """`roast_table` or `cooked_otherwise`, by the table that roasts are cooked by; empty when unsure."""
    cooked, table = draft.cooked, _table(rules)
    if cooked is None or table is None or any(cooked.unit not in step.values for step in table.steps):
        return frozenset()
    longest = table.steps[0].time_s
    held_s = longest if cooked.slow else cooked.held_s if cooked.held_s is not None else _words().stays_s
    reached = [step for step in table.steps if step.values[cooked.unit] <= cooked.value]
    if any(step.time_s <= held_s for step in reached):
        return frozenset({"roast_table"})
    return frozenset() if reached and cooked.held_s is None else frozenset({"cooked_otherwise"})


def _table(rules: Rules) -> TimeTemperature | None:
    tables = (table for table in rules.tables.values() if table.in_force and "cooking" in table.stages)
    return next((table for table in tables if "roast" in table.foods), None)


def is_held_roast(draft: Draft) -> bool:
    """Whether a reading is of a roast held hot."""
    if draft.kind != "temperature" or draft.stage != "hot_holding" or draft.fallen is not None:
        return False
    return is_roast(draft.item or "")


def is_roast(name: str) -> bool:
    """Whether a name is that of a roast."""
    food = classify(name)
    return food is not None and "roast" in food.tags


def _of(figure: Figure, line: Line, roasts: Iterable[Draft]) -> Draft | None:
    """Whose it is: the roast read last before it, else the next one; nobody's when another food is named
    between them."""
    in_order = sorted(roasts, key=lambda draft: (draft.line.index, draft.first))
    before = [draft for draft in in_order if draft.line is not line or draft.first < figure.first]
    roast = before[-1] if before else next(iter(in_order), None)
    if roast is None:
        return None
    places = [figure.first, roast.last if roast.line is line else 0]
    between = (chunk for chunk in line.chunks if min(places) <= chunk.first < max(places))
    others = (
        chunk
        for chunk in between
        if chunk.sort == "food" and not is_roast(line.words(chunk.first, chunk.last))
    )
    return None if next(others, None) is not None else roast


def _only_told(draft: Draft, told: Sequence[Figure], roasts: Sequence[Draft]) -> bool:
    """Whether a figure was told of how a roast was cooked, and nobody measured it now."""
    if draft.figure not in told:
        return draft.stage not in _READ and any(_is_oven(draft, figure) for figure in told)
    roast = _of(draft.figure, draft.line, roasts)
    if roast is None:
        return False
    before = roast.line is not draft.line or roast.first < draft.first
    return draft.stage not in _READ or (before and not _reheated(draft))


def _reheated(draft: Draft) -> bool:
    line, first = draft.line, draft.first
    return any(token.low.startswith("reheat") for token in line.tokens[max(0, first - _BACK) : first])


def _is_oven(draft: Draft, told: Figure) -> bool:
    """`250` of `roasted overnight at 250 to 131`."""
    figure, tokens = draft.figure, draft.line.tokens
    return (
        figure.last == told.first - 1
        and tokens[figure.last].low == "to"
        and tokens[figure.first - 1].low == "at"
    )


# ---------------------------------------------------------------- the words


def _told_so(line: Line, figure: Figure, unit: str) -> bool:
    """Whether the words before a temperature tell that something was cooked or heated to it."""
    if figure.kind not in (None, "temperature") or figure.role not in _ROLES or figure.withdrawn:
        return False
    low, high = _LIKELY.get(figure.unit or unit, (0.0, 0.0))
    if figure.clock is not None or not low <= figure.value <= high:
        return False
    tokens, first = line.tokens, figure.first
    begin, _ = line.sentence_span(first)
    begin = max(begin, first - _BACK)
    link = tokens[first - 1].low if first else ""
    for n in range(first - 1, begin - 1, -1):
        if tokens[n].low in _ENDS:
            return False
        hit = _words().verbs.at(tokens, n)
        if hit is None or hit[0] > first:
            continue
        end, kind = hit
        if negated(tokens, n):
            return False
        if (kind == "reached" and end == first) or (kind == "to" and link == "to" and end < first):
            return True
        if kind == "at" and link in ("at", "with") and end < first:
            return True
    return False


def _tell(roast: Draft, figure: Figure, done: Read) -> None:
    line = done.line
    slow = bool(_words().slow.find(line.tokens)) or any(
        _seconds(other) >= _words().long_h * 3600 for other in done.figures if other is not figure
    )
    after = [other for other in done.figures if figure.last <= other.first <= figure.last + 1]
    held = next((_seconds(other) for other in after if _seconds(other)), None)
    roast.cooked = Cooked(figure.value, figure.unit or roast.unit, held, slow)
    text = line.words(max(0, figure.first - 1), figure.last)
    first, end = line.tokens[figure.first].start, line.tokens[figure.last - 1].end
    roast.rules.append((f"cooked as told: “{text}”", line.index, first, end))


def _seconds(figure: Figure) -> float:
    return seconds(figure.value, figure.unit) if figure.unit in _TIMES else 0.0

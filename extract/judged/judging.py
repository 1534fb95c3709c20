"""Readings held against the rules: what a check needs is gathered from the readings and words around each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

from extract.checks import Instrument, Measured, Quantity, check
from extract.checks.thermometer import BY_GAUGE, on_a_gauge
from extract.figures.leaning import beyond
from extract.judged.air_gaps import air_gap
from extract.judged.approved_plans import PLAN_LIMITS, under_plan
from extract.judged.around import around
from extract.judged.blast import blast_frozen, frozen_lot
from extract.judged.context import kept
from extract.judged.cooling_judged import judge_cooling
from extract.judged.lit import lit_for
from extract.judged.no_limit import of_no_limit
from extract.judged.not_done_yet import on_the_heat, with_time_left
from extract.judged.of_solution import chemical, solution
from extract.judged.roasts import as_cooked
from extract.judged.sour import sour_enough
from extract.judged.species import may_be, stuffed_into
from extract.judged.two_probes import BESIDE
from extract.meant_for.time_plans import clock_starts
from extract.measured.date_marked import day_of_use, kept_raw, was_opened
from extract.of_what.staging import elsewhere, fahrenheit, heads_agree
from extract.scene import Draft, Read
from extract.words.lexicon import Phrases, read
from extract.words.line import Line
from extract.words.text import negated, plain, word_set
from shared.rules.model import Rules
from shared.types import Check, Context

_COOLING_LINES = 12
"""Utterances before and after a reading in which others of its food may tell how it cools; common practice,
no source."""


@dataclass(frozen=True, slots=True)
class Judged:
    """The verdict on a reading, and what it can be judged by again."""

    check: Check
    context: Context | None = None


def judge(
    draft: Draft,
    drafts: Sequence[Draft],
    reads: Sequence[Read],
    rules: Rules,
    instrument: Instrument,
    *,
    elevation_m: float | None = None,
) -> Judged:
    """The verdict on one reading. `drafts`: all that stand, in order; `reads`: the utterances; `elevation_m`:
    the height of the site, for water that boils."""
    if of_no_limit(draft):
        return Judged(Check("none", why="the rules give no figure for it"))
    if BESIDE in draft.facts:
        return Judged(Check("none", why="it is what another thermometer shows of food that you measured"))
    instrument = on_a_gauge(instrument) if _by_gauge(draft) else instrument
    says = said(draft, reads) | draft.facts | as_cooked(draft, rules)
    says |= blast_frozen(draft, around(draft, drafts, 1))
    says |= kept_raw(draft)
    says |= {"record"} if "shellstock_tags" in says else set()
    says -= {"reduced_oxygen"} if was_opened(draft) else set()
    if draft.kind == "illuminance":
        says |= lit_for(draft, reads[draft.line.index])
    if draft.stage == "time_control" and draft.kind == "temperature":
        says |= clock_starts(draft.line, draft.first, fahrenheit(draft.value, draft.unit))
    if draft.stage == "thermometer_check" and draft.verdict_low:
        says = says - {"boiling"}  # `boiling water 211. In ice 33.`
    if draft.stage == "cooling" and draft.kind == "temperature":
        beside = around(draft, drafts, _COOLING_LINES)
        settled = judge_cooling(draft, beside, reads, rules, instrument)
        if settled is not None:
            return Judged(settled)
    measured = Measured(
        kind=draft.kind,
        value=draft.value,
        unit=draft.unit,
        stage=draft.stage,
        item=stuffed_into(draft)
        or draft.known_as
        or draft.item
        or frozen_lot(draft, around(draft, drafts, 1)),
        place=_plain_place(draft),
        agent=draft.agent,
        held_s=_held(draft),
        elevation_m=elevation_m if "boiling" in says else None,
        says=says,
    )
    if draft.stage in ("machine_rinse", "machine_wash") and draft.kind == "temperature":
        measured = chemical(measured, draft, drafts)
        if draft.stage == "machine_rinse" and "chemical_machine" in measured.says:
            measured = solution(measured, draft, drafts, reads)
    if draft.kind in ("concentration", "ph") or draft.stage == "sanitizer":
        measured = solution(measured, draft, drafts, reads)
    if draft.kind in PLAN_LIMITS and draft.stage in ("other", "storage"):
        measured = under_plan(replace(measured, label_min=None, label_max=None), draft, reads)
    if draft.kind == "length" and draft.stage == "other":
        measured = air_gap(measured, draft, around(draft, drafts, 0))
        if measured.diameter is None and not measured.says & {
            "air_gap",
            "floor_equipment",
            "table_equipment",
        }:
            return Judged(Check("none", why="no figure of the rules applies to it"))
    if draft.kind == "duration" and draft.stage == "cooking":
        hot = next(
            (
                d
                for d in reversed(around(draft, drafts, 2))
                if d.kind == "temperature" and d.stage == "cooking" and d.order < draft.order
            ),
            None,
        )
        if hot is not None:
            measured = replace(measured, at=Quantity(hot.value, hot.unit))
    if draft.kind == "temperature" and draft.stage == "cooking":
        held = next(
            (
                d
                for d in around(draft, drafts, 0)
                if d.kind == "duration"
                and d.stage == "cooking"
                and d.line is draft.line
                and d.order > draft.order
            ),
            None,
        )
        if held is not None:
            measured = replace(measured, held_s=_seconds(held.value, held.unit))
        answers = [
            check(replace(measured, item=name), rules, instrument=instrument) for name in may_be(draft)
        ]
        if len({answer.verdict for answer in answers}) > 1:
            why = "it would meet the limit for one of the animals named and not for another"
            asked = Check("undetermined", answers[0].section, missing=("which animal it is of",), why=why)
            return Judged(asked, kept(measured, by_gauge=_by_gauge(draft), asks_item=True))
    days = day_of_use(draft)
    found = check(measured if days is None else replace(measured, value=days), rules, instrument=instrument)
    exactly = found
    if days is not None:
        found = replace(found, why=f"{draft.value:g} days ago makes this day {days:g}: {found.why}")
    else:
        found = beyond(
            draft.value,
            draft.figure.approximate,
            found,
            lambda value: check(replace(measured, value=value), rules, instrument=instrument),
        )
    found = with_time_left(draft, reads[draft.line.index], found, rules)
    found = on_the_heat(draft, reads[draft.line.index], found)
    near = around(draft, drafts, 1)
    context = _context(draft, measured, found, near, rules) if found is exactly else None
    return Judged(sour_enough(draft, near, found, rules) or found, context)


def _context(
    draft: Draft, measured: Measured, found: Check, near: Sequence[Draft], rules: Rules
) -> Context | None:
    """What the check was made of; None where other readings or the figure decide what belongs to it."""
    by_others = draft.stage == "cooling" or blast_frozen(draft, near) or "chemical_machine" in measured.says
    if by_others or (draft.stage == "time_control" and draft.kind == "temperature"):
        return None
    if sour_enough(draft, near, replace(found, verdict="violates"), rules) is not None:
        return None
    return kept(measured, by_gauge=_by_gauge(draft), asks_item=bool(may_be(draft)))


def _plain_place(draft: Draft) -> str | None:
    """The place with the words that a name of this kitchen stands for: `the Beast, glass washer`."""
    plain = draft.place_row.nickname if draft.place_row is not None else None
    return f"{draft.place}, {plain}" if plain else draft.place


_GAUGES = word_set("gauge dial display readout panel sticker thermolabel label tape")
_OWN = word_set("my mine our probe thermocouple")


def _by_gauge(draft: Draft) -> bool:
    """Whether it was read from the thing's own gauge or on a label, not by the inspector's thermometer."""
    first, end = draft.line.sentence_span(draft.first)
    words = {token.low for token in draft.line.tokens[first : min(end, draft.last + 4)]}
    return not words & _OWN and (draft.stage in BY_GAUGE or bool(words & _GAUGES))


def _seconds(value: float, unit: str) -> float:
    return value * {"second": 1, "minute": 60, "hour": 3600, "day": 86400}.get(unit, 1)


# ---------------------------------------------------------------- what was said around it


@cache
def _by_stage() -> dict[str, Phrases[str]]:
    made: dict[str, list[tuple[str, str]]] = {}
    for row in read("said.toml")["condition"]:
        for stage in row["stages"]:
            made.setdefault(stage, []).extend((text, row["says"]) for text in row["words"])
    return {stage: Phrases(rows, form=plain) for stage, rows in made.items()}


def said(draft: Draft, reads: Sequence[Read]) -> frozenset[str]:
    """The conditions that the words around a reading tell."""
    phrases = _by_stage().get(draft.stage)
    if phrases is None:
        return frozenset()
    found: set[str] = set()
    lines = [draft.line]
    at = draft.line.index
    if draft.stage == "time_control" or draft.stage in (
        "machine_wash",
        "machine_rinse",
        "utensil_surface",
        "sanitizer",
    ):
        before = reads[max(0, at - 2) : at]
        lines.extend(read.line for read in before if not _of_another_machine(draft, read))
    if draft.stage == "time_control":
        lines.extend(read.line for read in reads[at + 1 : at + 2])
    for line in lines:
        for first, _, name in phrases.find(line.tokens):
            if name in ("frozen", "hot") and line is draft.line and not _own_words(draft, first):
                continue
            if name == "undated_food" and line.sentence[first] != line.sentence[draft.first]:
                continue
            if not negated(line.tokens, first):
                found.add(name)
            elif name in _OF_PLANS and not _of_other_food(line, draft, first):
                return frozenset(found - _OF_PLANS)
    if found >= {"time_paper", "time_marked"}:
        found.add("time_plan")
    if "hot_held" in found and "to_order" in found:
        found.discard("to_order")
    if "hot_held" in found:
        found.add("pooled")
    if (
        draft.stage == "freezing"
        and draft.kind == "duration"
        and draft.unit == "hour"
        and "frozen solid" in draft.line.text.lower()
    ):
        found.update(("parasites", "blast_frozen"))
    return frozenset(found)


def _of_other_food(line: Line, draft: Draft, at: int) -> bool:
    """`cut melon, there's no sticker`, an utterance after the crab rolls that have one."""
    if line is draft.line or draft.item is None:
        return False
    foods = [
        line.words(chunk.first, chunk.last) for chunk in line.chunks if chunk.known_food and chunk.first < at
    ]
    return bool(foods) and not any(heads_agree(draft.item, food) for food in foods)


def _of_another_machine(draft: Draft, read: Read) -> bool:
    """Whether an utterance before tells of another machine or sink than that of the reading."""
    machine = draft.stage in ("machine_wash", "machine_rinse", "utensil_surface", "sanitizer")
    return machine and any(
        chunk.place is not None
        and chunk.place.stage in ("machine", "warewashing")
        and elsewhere(draft.place, read.line.words(chunk.first, chunk.last))
        for chunk in read.line.chunks
    )


_OF_PLANS = frozenset(("time_plan", "time_paper", "time_marked"))


def _own_words(draft: Draft, at: int) -> bool:
    """Whether the words stand with this reading and not with another one of the list."""
    line, begin = draft.line, draft.first
    while begin > 0 and line.tokens[begin - 1].low not in (",", ".", ":", ";", "and", "but"):
        begin -= 1
    end = draft.last
    while end < len(line.tokens) and line.tokens[end].low not in (",", ".", ";", "but"):
        end += 1
    return begin <= at < end or not any(token.kind == "number" for token in line.tokens[:at])


def _held(draft: Draft) -> float | None:
    """`155 for 20 seconds`, `held 4 minutes`: the time that goes with a temperature, in seconds."""
    if (
        draft.kind != "temperature"
        or draft.stage not in ("cooking", "reheating", "manual_sanitize")
        or draft.said
    ):
        return None
    line = draft.line
    _, end = line.sentence_span(draft.first)
    tokens = line.tokens
    for n in range(draft.last, min(end, draft.last + 6)):
        if tokens[n].low in ("second", "seconds", "minute", "minutes", "sec", "min") and n:
            from extract.figures.numbers import numbers

            window = tokens[draft.last : n]
            values = numbers(window)
            if values and values[-1].last == len(window):
                return values[-1].value * (60 if tokens[n].low.startswith("min") else 1)
    return None

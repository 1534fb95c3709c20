"""What a check of a sanitizing solution needs: its water, pH and strength, and the range of its label."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from extract.checks import Measured, Quantity
from extract.figures.figure import Figure
from extract.judged.around import around
from extract.scene import Draft, Read
from extract.words.text import word_set

_LABEL_HOLDS = 30
"""Utterances for which a label's range said aloud still holds; common practice, no source."""


def solution(measured: Measured, draft: Draft, drafts: Sequence[Draft], reads: Sequence[Read]) -> Measured:
    near = [
        d
        for d in around(draft, drafts, 1)
        if d is not draft
        and abs(d.line.index - draft.line.index) <= 1
        and (d.place == draft.place or d.line is draft.line)
        and d.stage in ("sanitizer", "machine_rinse", "machine_wash")
        and not _of_another_solution(draft, d, drafts)
    ]
    water, acid, strength = (
        _nearest(draft, [d for d in near if d.kind == kind], near)
        for kind in ("temperature", "ph", "concentration")
    )
    label = _label(draft, reads)
    if label is not None and label[0] is None and draft.value <= (label[1] or 0):
        label = None  # how weak it may be was not told
    agent = measured.agent
    if strength is not None and agent in (None, "hot_water"):
        agent = strength.agent
    return replace(
        measured,
        agent=agent,
        water=Quantity(water.value, water.unit)
        if water is not None and draft.kind != "temperature"
        else None,
        ph=acid.value if acid is not None and draft.kind != "ph" else None,
        concentration_ppm=strength.value if strength is not None and draft.kind != "concentration" else None,
        label_min=label[0] if label else None,
        label_max=label[1] if label else None,
    )


def _of_another_solution(draft: Draft, other: Draft, drafts: Sequence[Draft]) -> bool:
    """Whether a strength was told between two readings that is of neither: `stall 7, quat 300. Stall 9,
    chlorine 50, water 66`."""
    first, last = sorted((draft.order, other.order))
    return other.kind != "concentration" and any(
        first < between.order < last
        and between.kind == "concentration"
        and between.figure.range_with is None  # the other end of a range is of the same
        for between in drafts
    )


_HOT_RINSE = {"degF": 160.0, "degC": 71.0}
"""From which a final rinse is one with hot water, whatever else was tested: common practice, no source."""


def chemical(measured: Measured, draft: Draft, drafts: Sequence[Draft]) -> Measured:
    """The water of a machine in whose rinse a chemical was just tested: `strip 50, rinse dial 124`."""
    if draft.value >= _HOT_RINSE.get(draft.unit, 0.0) or measured.agent == "hot_water":
        return measured
    tested = any(
        d.kind == "concentration"
        and d.stage == "sanitizer"
        and (d.line is draft.line or d.place == draft.place)
        for d in around(draft, drafts, 1)
    )
    return replace(measured, says=measured.says | {"chemical_machine"}) if tested else measured


def _nearest(draft: Draft, others: list[Draft], near: Sequence[Draft]) -> Draft | None:
    """The one told nearest, if possible in its sentence; of two as near the one that goes with no other: the
    90 of `50 and the water's 66. Warmed it up, 50 again, water's 90`."""
    told = {d.order: d.kind for d in near}
    sentence = draft.line.sentence[draft.first]

    def distance(d: Draft) -> tuple[int, bool, int, bool]:
        away = abs(d.line.index - draft.line.index)
        apart = away > 0 or d.line.sentence[d.first] != sentence
        taken = d.order < draft.order and told.get(d.order - 1) == draft.kind
        return away, apart, abs(d.order - draft.order), taken

    return min(others, key=distance, default=None)


def _label(draft: Draft, reads: Sequence[Read]) -> tuple[float | None, float | None] | None:
    """The label's range said nearest to the reading: in its utterance, the one after, or one before of the
    same agent."""
    at = draft.line.index
    order = [at, at + 1, *range(at - 1, max(-1, at - _LABEL_HOLDS), -1)]
    for n in order:
        if not 0 <= n < len(reads):
            continue
        named = {agent for _, _, (agent, _) in reads[n].line.agents}
        if n != at and draft.agent is not None and named and draft.agent not in named:
            continue  # the label of another product
        figures = [f for f in reads[n].figures if f.role == "label" and _of_kind(f, draft, reads[n])]
        pair_of = _hundreds_once(reads[n]) or (None if figures else _a_range(reads[n]))
        if pair_of is not None and draft.kind != "ph":
            return pair_of
        pair = [f for f in figures if f.range_with is not None]
        if len(pair) >= 2:
            return min(pair[0].value, pair[1].value), max(pair[0].value, pair[1].value)
        if draft.kind == "concentration" and (most := _at_most(reads[n])) is not None:
            return None, most
        if figures:
            return figures[0].value, figures[1].value if len(figures) > 1 and figures[1].value > figures[
                0
            ].value else None
    return None


def _of_kind(figure: Figure, draft: Draft, told: Read) -> bool:
    """Whether a label's figure may be for such a reading: a pH is held only against a pH."""
    if draft.kind != "ph":
        return figure.kind in (None, "concentration") and figure.value >= 5
    pair = told.figures[figure.range_with] if figure.range_with is not None else figure
    return "ph" in (figure.kind, pair.kind)


_TOPS = word_set("tops max maximum")
_MOST_PPM = 2000
"""ppm that a label may allow: common practice, no source."""


def _at_most(told: Read) -> float | None:
    """`says 400 tops right on the wall chart`: how strong a solution may be."""
    for figure in told.figures:
        after = told.line.tokens[figure.last].low if figure.last < len(told.line.tokens) else ""
        strong = figure.kind in (None, "concentration") and _WEAKEST <= figure.value <= _MOST_PPM
        if after in _TOPS and strong and figure.unit in (None, "ppm"):
            return figure.value
    return None


_TO = word_set("to - through until till")
_WEAKEST = 50
"""ppm of a label's range at least: common practice, no source."""


def _a_range(told: Read) -> tuple[float, float] | None:
    """`the dispenser tag reads 200 to 400`: two figures that the second reader takes for limits."""
    for one, two in pairwise(told.figures):
        between = [token.low for token in told.line.tokens[one.last : two.first]]
        limits = all(f.told is not None and f.told.meant["l"] > 0.5 for f in (one, two))
        fits = _WEAKEST <= one.value < two.value and one.unit in (None, "ppm") and two.unit in (None, "ppm")
        if limits and fits and len(between) == 1 and between[0] in _TO:
            return one.value, two.value
    return None


def _hundreds_once(told: Read) -> tuple[float, float] | None:
    """The 200 to 400 of `label says 2 to 400`: the hundreds are told once."""
    for one, two in pairwise(told.figures):
        between = [token.low for token in told.line.tokens[one.last : two.first]]
        if (
            one.role == two.role == "label"
            and between in (["to"], ["-"], ["through"])
            and 1 <= one.value < 10
            and one.value == int(one.value)
            and two.value >= 200
            and two.value % 100 == 0
            and one.value * 100 < two.value
        ):
            return one.value * 100, two.value
    return None

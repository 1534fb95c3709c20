"""Which sections a sentence may go against, and how sure each is, from all that speaks for and against it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import exp, log
from typing import NamedTuple

import numpy as np

from extract.cases import sections_agree
from extract.conditions.content import Content
from extract.conditions.model import ASK_BELOW, Condition
from extract.likeness.features import NUMBER, stems_of
from extract.likeness.judge import Likeness
from extract.second_reader.reader import SentenceTold
from extract.words.text import touch

FEATURES = (
    "sense",  # log-odds that a violation is told at all
    "calm",  # the same, where it is below 0: no likeness to a section makes up for a calm tone
    "like",  # how far the words speak for this section
    "lead",  # by how much more than for the next best one
    "first",  # no section is spoken for more
    "pattern",  # confidence of a catalogue pattern of this section
    "has_pattern",
    "sure_pattern",
    "in_order",  # a pattern says that all is well with this section
    "few_words",
    "asked",  # a question mark
    "figures",  # how many, two at most, where no pattern matched: the arithmetic judges them
    "told",  # what the second reader says: log-odds that a violation is told
    "told_calm",
    "told_like",  # log of the share that it gives this section
    "told_first",
)
_FEW = 2
_BEST = 2
"""How many of the likest sections are weighed."""
_AROUND = 4
"""Words on each side of what a pattern matched that are taken with it."""
_PLAINLY, _BY_FAR = 0.2, 1.0
"""More likeness, or more of a lead, than this adds nothing."""
_LEAST = 1e-3
"""Shares of the second reader below this count as this."""
_UNKNOWN = -1.2
"""How far words speak for a section of which there are no sayings."""


class Considered(NamedTuple):
    """A section that a sentence may go against."""

    section: str
    features: tuple[float, ...]
    """In the order of FEATURES."""
    next_best: tuple[str, ...]


def considered(
    learned: Likeness,
    read: Content,
    part: tuple[int, int],
    sense: float,
    found: Sequence[Condition],
    told: SentenceTold,
    *,
    before: int | None = None,
    asked: bool = False,
) -> list[Considered]:
    """The sections worth weighing for the sentence of words `part`.

    `sense`: the log-odds that it tells of a violation. `found`: the conditions that the patterns of the
    catalogue find in it. `told`: what the second reader takes it for. `before`: where the sentences before
    it begin, which may name what this one is about. `asked`: it ends in a question mark.
    """
    own = stems_of(read, *part)
    if not own:
        return []
    like = learned.sections(own)
    if before is not None:
        like = np.maximum(like, learned.sections(stems_of(read, before, part[1])))
    columns = learned.columns
    surest: dict[str, float] = {}
    for one in found:
        if one.polarity == "violation":
            surest[one.section] = max(surest.get(one.section, 0.0), one.confidence)
            at = columns.get(one.section, -1)
            if at >= 0:
                near = learned.sections(_around(read, part, one))
                like[at] = max(like[at], near[at])
    fine = {one.section for one in found if one.polarity == "compliance"}
    best = np.argsort(-like)[: _BEST + 2].tolist()
    ranked = sorted(told.sections, key=told.sections.__getitem__, reverse=True)[:_BEST]
    violated = min(1 - _LEAST, max(_LEAST, told.told["violation"]))
    odds = log(violated / (1 - violated))
    known = list(columns)
    figures = float(min(2, own.count(NUMBER)))
    made = []
    for section in dict.fromkeys([*(known[at] for at in best[:_BEST]), *ranked, *surest]):
        at = columns.get(section, -1)
        apart = _told_apart(section, found)
        shares = _left(told.sections, apart)
        rivals = [other for other in best if not _among(known[other], apart)] if apart else best
        likeliest = max(shares, key=shares.__getitem__, default=None)
        mine = float(like[at]) if at >= 0 else _UNKNOWN
        pattern = surest.get(section) or max(
            (sure for other, sure in surest.items() if sections_agree(other, section)), default=0.0
        )
        features = (
            sense,
            min(0.0, sense),
            min(_PLAINLY, mine),
            min(_BY_FAR, mine - max((float(like[other]) for other in rivals if other != at), default=0.0)),
            float(at in rivals[:1]),
            pattern,
            float(pattern > 0),
            float(pattern >= ASK_BELOW),
            float(section in fine),
            float(len(own) <= _FEW),
            float(asked),
            0.0 if pattern else figures,
            odds,
            min(0.0, odds),
            log(max(_LEAST, _share(shares, section))),
            float(likeliest is not None and sections_agree(likeliest, section)),
        )
        rest = tuple(known[other] for other in best if other != at)
        made.append(Considered(section, features, rest[:3]))
    return made


def confidence(learned: Likeness, features: Sequence[float]) -> float:
    """How sure a proposal with these features is, 0 to 1."""
    *weights, start = learned.weighing
    return 1 / (1 + exp(-(sum(w * x for w, x in zip(weights, features, strict=True)) + start)))


def _told_apart(section: str, found: Sequence[Condition]) -> list[str]:
    """The sections that patterns find in other words of the sentence than those in which one finds this
    section: `the lids are open, there's no plug, grease on the pad`."""
    broken = [one for one in found if one.polarity == "violation"]
    mine = [one.span for one in broken if one.section == section]
    return [
        one.section
        for one in broken
        if mine
        and one.confidence >= ASK_BELOW
        and not sections_agree(one.section, section)
        and not any(touch(one.span, span) for span in mine)
    ]


def _left(shares: Mapping[str, float], apart: Sequence[str]) -> dict[str, float]:
    """The shares of a sentence that are left when those of sections told apart are taken off."""
    left = {section: share for section, share in shares.items() if not _among(section, apart)}
    rest = 1 - (sum(shares.values()) - sum(left.values()))
    return {section: share / max(rest, share, _LEAST) for section, share in left.items()}


def _among(section: str, others: Sequence[str]) -> bool:
    return any(sections_agree(section, other) for other in others)


def _share(shares: Mapping[str, float], section: str) -> float:
    """The greatest share given to a section, its paragraphs and what it is a paragraph of."""
    return max((share for other, share in shares.items() if sections_agree(other, section)), default=0.0)


def _around(read: Content, part: tuple[int, int], one: Condition) -> list[str]:
    """The words of a match and a few on each side, within its sentence."""
    inside = [at for at in range(*part) if one.span[0] <= read.starts[at] < one.span[1]]
    if not inside:
        return stems_of(read, *part)
    return stems_of(read, max(part[0], inside[0] - _AROUND), min(part[1], inside[-1] + 1 + _AROUND))

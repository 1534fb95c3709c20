"""A log's figure read anew: `74 at 1400. Hold that. 74 is my bad eyes, 64 at 1400`."""

from __future__ import annotations

from collections.abc import Sequence

from extract.of_what.staging import heads_agree
from extract.revised.repeats import replace
from extract.scene import Draft, Read, Scene

_BACK = 3
"""Utterances back that are read anew: common practice, no source."""


def read_anew(read: Read, earlier: Sequence[Draft], scene: Scene) -> None:
    """Takes back, in place, a figure of a time of day that is told again with another figure, where the first
    one is spoken of once more before it."""
    for draft in list(read.drafts):
        if draft.clock is None or draft.fallen is not None or draft.kind != "temperature":
            continue
        spoken_of = {figure.value for figure in read.figures if figure.first < draft.first}
        for old in reversed(earlier):
            if (
                old.clock == draft.clock
                and old.fallen is None
                and old.kind == draft.kind
                and old.value != draft.value
                and old.value in spoken_of
                and old.line.index >= read.line.index - _BACK
                and (draft.item is None or old.item is None or heads_agree(old.item, draft.item))
            ):
                replace(old, draft, read.line.words(0, draft.last))
                for again in [d for d in read.drafts if d.value == old.value and d.first < draft.first]:
                    scene.drafts.remove(again)
                    read.drafts.remove(again)
                break

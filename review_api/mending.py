"""Mending words that this inspector's recordings misheard before, as the personal vocabulary says."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from extract.words.numerals import SMALL, TEENS, TENS
from shared.types import Doubt, Utterance


def mend(utterance: Utterance, misheard: Sequence[tuple[str, str]]) -> Utterance:
    """The utterance with each (heard, meant) pair mended; what was heard first is kept in `heard`."""
    mended = utterance
    for heard, meant in misheard:
        for found in reversed(
            list(re.finditer(rf"(?<!\w){re.escape(heard)}(?!\w)", mended.text, re.IGNORECASE))
        ):
            mended = _replaced(mended, found.start(), found.end(), meant)
    if mended.text == utterance.text:
        return utterance
    return replace(mended, heard=utterance.heard or utterance.text)


def changes_a_figure(heard: str, meant: str) -> bool:
    """Whether the pair makes another figure of what is heard: true of one sentence, never of all."""
    before, after = _figures(heard), _figures(meant)
    return before != after and bool(before or len(after) == len(meant.split()))


def _figures(text: str) -> list[str]:
    words = re.findall(r"[\w.]+", text.lower())
    return [word for word in words if word in _FIGURES or any(character.isdigit() for character in word)]


_FIGURES = frozenset((*SMALL, *TEENS, *TENS, "hundred", "thousand"))


def _replaced(utterance: Utterance, start: int, end: int, meant: str) -> Utterance:
    shift = len(meant) - (end - start)
    return replace(
        utterance,
        text=utterance.text[:start] + meant + utterance.text[end:],
        doubts=tuple(_moved(doubt, end, shift) for doubt in utterance.doubts),
    )


def _moved(doubt: Doubt, end: int, shift: int) -> Doubt:
    """The doubt over the same words after the text before or within them changed its length."""
    if doubt.span is None or doubt.span[1] < end:
        return doubt
    first, last = doubt.span
    return replace(doubt, span=(first + shift if first >= end else first, last + shift))

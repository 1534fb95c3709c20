"""A person's own words in place of a sentence that was misheard, with its times and doubts.

What was heard stays in the recording's row as the speech stage gave it, and the sound is never touched.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import takewhile
from typing import Any, Protocol

from shared.types import Doubt, Span, Utterance, Word

KIND = "words"
"""The kind of choice that holds such words."""

SLACK_S = 0.75
"""By how much a later run may place the same sentence elsewhere."""


class Said(Protocol):
    """A sentence with its place in a recording."""

    @property
    def recording(self) -> str | None: ...
    @property
    def start(self) -> float | None: ...
    @property
    def end(self) -> float | None: ...


def name(said: Said) -> str:
    """The name of a sentence's correction."""
    return f"{said.recording}@{said.start or 0.0:.2f}"


def chosen_for(said: Sequence[Said], chosen: Mapping[str, Mapping[str, Any]]) -> dict[int, str]:
    """Index of a sentence → name of the correction that belongs to it, the nearest where several could."""
    pairs = sorted(
        (gap, at, subject)
        for subject, value in chosen.items()
        for at, one in enumerate(said)
        if (gap := _gap(one, value)) is not None
    )
    found: dict[int, str] = {}
    for _, at, subject in pairs:
        if at not in found and subject not in found.values():
            found[at] = subject
    return found


def corrected(utterance: Utterance, text: str) -> Utterance:
    """The utterance with `text` as its words; `heard` keeps what was printed first."""
    first, last = _changed(utterance.text, text)
    shift = len(text) - len(utterance.text)
    doubts = (_moved(doubt, first, last, shift) for doubt in utterance.doubts)
    return replace(
        utterance,
        text=text,
        words=_words(utterance, text, first, last),
        doubts=tuple(doubt for doubt in doubts if doubt is not None),
        heard=utterance.heard or utterance.text,
    )


def _gap(said: Said, value: Mapping[str, Any]) -> float | None:
    if said.recording != value["recording"] or said.start is None or said.end is None:
        return None
    gap = max(abs(said.start - value["start"]), abs(said.end - value["end"]))
    return gap if gap <= SLACK_S else None


def _changed(old: str, new: str) -> Span:
    """The characters of `old` that differ, whole words: all before and after them is the same in both."""
    ours, theirs = _PART.findall(old), _PART.findall(new)
    same = _alike(ours, theirs)
    tail = _alike(ours[same:][::-1], theirs[same:][::-1])
    first = len("".join(ours[:same]))
    last = len(old.rstrip()) - len("".join(ours[len(ours) - tail :]))
    return first, max(first, last)


_PART = re.compile(r"\s*\S+")


def _alike(ours: Sequence[str], theirs: Sequence[str]) -> int:
    """How many parts both begin with."""
    return sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(ours, theirs, strict=False)))


def _moved(doubt: Doubt, first: int, last: int, shift: int) -> Doubt | None:
    """The doubt in its new place; None where its words were written anew."""
    if doubt.span is None or doubt.span[1] <= first:
        return doubt
    if doubt.span[0] >= last:
        return replace(doubt, span=(doubt.span[0] + shift, doubt.span[1] + shift))
    return None


def _words(utterance: Utterance, text: str, first: int, last: int) -> tuple[Word, ...]:
    """The words with their seconds: as heard where they stayed, else spread over the rest."""
    if not utterance.words or utterance.start is None or utterance.end is None:
        return utterance.words
    before: list[Word] = []
    between: list[Word] = []
    after: list[Word] = []
    at = 0
    for word in utterance.words:
        found = utterance.text.find(word.text.strip(), at)
        begin = found if found >= 0 else at
        at = begin + len(word.text.strip()) if found >= 0 else at
        (before if at <= first else after if begin >= last else between).append(word)
    start = between[0].start if between else before[-1].end if before else utterance.start
    end = between[-1].end if between else after[0].start if after else utterance.end
    written = text[first : last + len(text) - len(utterance.text)].split()
    step = max(0.0, end - start) / max(1, len(written))
    spread = [
        Word(word, round(start + step * n, 2), round(start + step * (n + 1), 2), 1.0)
        for n, word in enumerate(written)
    ]
    return (*before, *spread, *after)

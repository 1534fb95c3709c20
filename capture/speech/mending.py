"""Misheard words of the trade and of the place, mended where sound and context agree.

Two ways, both data: rows of `shared/vocabulary/mishearings.toml` (what was heard, what was meant, and which
words must be near), and any word of the trade or of the place that sounds the same as what was heard, where
the model was unsure of what it printed. A number is never mended into a word, nor a word into a number.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files

from capture.speech.numerals import numerals, parts
from capture.speech.soundalike import alike, skeleton
from capture.speech.utterances import text_of
from shared.types import Utterance, Word

UNSURE = 0.6
"""Below this mean probability a phrase may be mended by sound alone into a known word."""

_LEAST_SOUNDS = 4  # shorter skeletons are alike by chance
_MOST_WORDS = 4


@dataclass(frozen=True, slots=True)
class Mishearing:
    """One row of the table."""

    heard: tuple[str, ...]
    meant: tuple[str, ...]
    near: frozenset[str]
    """At least one of these words must be in the same utterance; empty: no context is needed."""
    not_near: frozenset[str]
    """None of these may be."""


@cache
def mishearings() -> tuple[Mishearing, ...]:
    """The rows of the table. Raises `ValueError` naming every row that sounds unlike or holds a number."""
    with (files("shared") / "vocabulary" / "mishearings.toml").open("rb") as file:
        table = tomllib.load(file)
    rows: list[Mishearing] = []
    faults: list[str] = []
    for entry in table["mishearing"]:
        for heard in entry["heard"]:
            if not alike(heard, entry["meant"]):
                faults.append(f"{heard!r} does not sound like {entry['meant']!r}")
            if numerals(heard.split()) or numerals(entry["meant"].split()):
                faults.append(f"{heard!r} or {entry['meant']!r} holds a number")
            rows.append(
                Mishearing(
                    tuple(heard.split()),
                    tuple(entry["meant"].split()),
                    frozenset(entry.get("near", ())),
                    frozenset(entry.get("not_near", ())),
                )
            )
    if faults:
        raise ValueError("mishearings.toml: " + "; ".join(faults))
    return tuple(sorted(rows, key=lambda row: -len(row.heard)))


def mended(utterance: Utterance, *, known: Iterable[str] = ()) -> Utterance:
    """The utterance with misheard words mended and `heard` set, or as it is.

    `known` are the words of the trade and of the place, which are mended into by sound.
    """
    words = _by_table(list(utterance.words))
    words = _by_sound(words, known)
    text = text_of(words)
    if text == utterance.text:
        return utterance
    return replace(utterance, text=text, words=tuple(words), heard=utterance.text)


def _by_table(words: list[Word]) -> list[Word]:
    bare = [_bare(word) for word in words]
    around = {part for word in bare for part in word.split("-")}
    for row in mishearings():
        if row.not_near & around or (row.near and not row.near & (around - set(row.heard))):
            continue
        size = len(row.heard)
        at = 0
        while at + size <= len(words):
            if tuple(bare[at : at + size]) == row.heard:
                words[at : at + size] = _put(row.meant, words[at : at + size])
                bare = [_bare(word) for word in words]
                at += len(row.meant)
            else:
                at += 1
    return words


def _by_sound(words: list[Word], known: Iterable[str]) -> list[Word]:
    candidates = {
        sounds: tuple(phrase.split())
        for phrase in known
        if len(sounds := skeleton(phrase)) >= _LEAST_SOUNDS and not numerals(phrase.lower().split())
    }
    if not candidates:
        return words
    at = 0
    while at < len(words):
        for size in range(min(_MOST_WORDS, len(words) - at), 0, -1):
            run = words[at : at + size]
            meant = candidates.get(skeleton(" ".join(_bare(word) for word in run)))
            if meant and _may_mend(run, meant):
                words[at : at + size] = _put(meant, run)
                at += len(meant) - 1
                break
        at += 1
    return words


def _may_mend(run: Sequence[Word], meant: Sequence[str]) -> bool:
    heard = [part for word in run for part in parts(word.text)]
    same = "".join(heard).replace("-", "") == "".join(meant).lower().replace("-", "")
    unsure = sum(word.probability for word in run) / len(run) < UNSURE
    return unsure and not same and not numerals(heard)


def _put(meant: Sequence[str], run: Sequence[Word]) -> list[Word]:
    """The meant words over the seconds of the heard ones, with their capital and their closing mark."""
    start, end = run[0].start, run[-1].end
    step = (end - start) / len(meant)
    probability = min(word.probability for word in run)
    texts = list(meant)
    if run[0].text[:1].isupper():
        texts[0] = texts[0][:1].upper() + texts[0][1:]
    last = run[-1].text
    texts[-1] += last[len(last.rstrip(".,;:!?")) :]
    if len(meant) == len(run):
        return [replace(word, text=text) for word, text in zip(run, texts, strict=True)]
    return [
        Word(text, start + index * step, start + (index + 1) * step, probability)
        for index, text in enumerate(texts)
    ]


def _bare(word: Word) -> str:
    return word.text.lower().strip(".,;:!?\"'()")

"""Plain alternatives to measure against: a quantity library, a regular expression, and the nearest phrase."""

from __future__ import annotations

import math
import re
import warnings
from collections import Counter
from collections.abc import Callable, Sequence
from functools import cache

from extract.bench.corpus import Dictation
from extract.cases import sections_agree
from extract.conditions import load_catalogue
from extract.words.text import tokens

NEAREST_LEAST = 0.45
"""Cosine from which the nearest phrase is proposed; a round figure, not tuned."""

_NUMBER = re.compile(r"(?<![\w.:])-?\d+(?:\.\d+)?(?![\w:]|\.\d)")
_NOT_AFTER = re.compile(
    r"(?:should(?:'ve)? (?:be|been)|needs? (?:to be )?|must be|at least|limit(?:'s| is)?|label says|"
    r"set (?:at|to)|number|last time|since|by|until|at \d+ at)\s*$",
    re.IGNORECASE,
)
_NOT_BEFORE = re.compile(
    r"\s*(?:compartment|comp\b|bay|gallons?|inch (?:pan|hotel)|pans?\b|pounds?\b|people|employees|of them|"
    r"or (?:below|above|less)|[ap]\.?m\b|o'clock|percent|seconds?|door)",
    re.IGNORECASE,
)


def regex_values(text: str) -> list[float]:
    """Printed numbers that no plain filter takes out."""
    return [
        float(match.group())
        for match in _NUMBER.finditer(text)
        if not _NOT_AFTER.search(text[: match.start()]) and not _NOT_BEFORE.match(text[match.end() :])
    ]


def library_values() -> Callable[[str], list[float]]:
    """A function that gives the values quantulum3 finds in a text."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from quantulum3 import parser

    def values(text: str) -> list[float]:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return [float(quantity.value) for quantity in parser.parse(text)]

    return values


def value_f1(corpus: Sequence[Dictation], values: Callable[[str], list[float]]) -> tuple[float, float, float]:
    """Precision, recall and F1 in percent of values alone, whatever their unit."""
    right = given = wanted = 0
    for dictation in corpus:
        want = Counter(round(gold.value, 4) for gold in dictation.readings)
        got = Counter(
            round(value, 4) for utterance in dictation.utterances for value in values(utterance.text)
        )
        right += sum((want & got).values())
        given += sum(got.values())
        wanted += sum(want.values())
    return _rates(right, given, right, wanted)


def nearest_phrase(corpus: Sequence[Dictation]) -> tuple[float, float, float, float]:
    """Precision, recall and F1 of sections by the nearest phrase, and the share left clean."""
    proposed = right = wanted = found = clean = without = 0
    for dictation in corpus:
        sections = set()
        for utterance in dictation.utterances:
            for sentence in re.split(r"[.!?;]\s+", utterance.text):
                section = _nearest(sentence)
                if section is not None:
                    sections.add(section)
        used = set()
        for gold in dictation.findings:
            hit = next((s for s in sections if any(sections_agree(s, p) for p in gold.provisions)), None)
            if hit is not None:
                used.add(hit)
                found += 1
        wanted += len(dictation.findings)
        proposed += len(sections)
        right += len(used)
        if not dictation.findings:
            without += 1
            clean += not sections
    return (*_rates(right, proposed, found, wanted), 100 * clean / without if without else 100.0)


def _rates(right: int, given: int, found: int, wanted: int) -> tuple[float, float, float]:
    precision = 100 * right / given if given else 100.0
    recall = 100 * found / wanted if wanted else 100.0
    return precision, recall, 2 * precision * recall / (precision + recall) if precision + recall else 0.0


@cache
def _phrases() -> tuple[list[tuple[str, dict[str, float]]], dict[str, float]]:
    """Every phrase of the catalogue as a normalised vector of its stems, with its section."""
    bags: list[tuple[str, Counter[str]]] = []
    for row in load_catalogue().rows:
        for pattern in row.phrases:
            bags.append((row.section, Counter(_stems(re.sub(r"[^a-zA-Z' ]", " ", pattern.text)))))
        bags.append((row.section, Counter(_stems(row.says))))
    spread = Counter(stem for _, bag in bags for stem in bag)
    weight = {stem: math.log(1 + len(bags) / count) for stem, count in spread.items()}
    return [(section, _vector(bag, weight)) for section, bag in bags], weight


def _stems(text: str) -> list[str]:
    return [token.stem for token in tokens(text) if token.kind == "word" and len(token.low) > 2]


def _vector(bag: Counter[str], weight: dict[str, float]) -> dict[str, float]:
    raw = {stem: count * weight.get(stem, 0.0) for stem, count in bag.items()}
    length = math.sqrt(sum(value * value for value in raw.values())) or 1.0
    return {stem: value / length for stem, value in raw.items()}


def _nearest(sentence: str) -> str | None:
    phrases, weight = _phrases()
    vector = _vector(Counter(_stems(sentence)), weight)
    best, where = 0.0, None
    for section, phrase in phrases:
        near = sum(value * phrase.get(stem, 0.0) for stem, value in vector.items())
        if near > best:
            best, where = near, section
    return where if best >= NEAREST_LEAST else None

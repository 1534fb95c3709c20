"""Conditions told by the names of an item and its place, such as the kind of a dish machine."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Sequence
from functools import cache, lru_cache
from pathlib import Path

import shared
from extract.words.text import Span
from shared.errors import InputError

_FILE = Path(shared.__file__).parent / "vocabulary" / "surroundings.toml"
LIGHT = ("light_50", "light_20", "light_10")
"""Conditions that tell for what use a place is lit, the brightest first."""


@lru_cache(maxsize=4096)
def conditions(item: str | None, place: str | None) -> frozenset[str]:
    """The conditions that the names tell; of several kinds of light the item's own, else the brightest."""
    found = _told(item) | _told(place)
    light = [kind for kind in LIGHT if kind in _told(item)] or [kind for kind in LIGHT if kind in found]
    return (found - set(LIGHT)) | frozenset(light[:1])


def _told(name: str | None) -> frozenset[str]:
    """What the words of a name tell; of two kinds of light in the same words the longer words count, so that
    the `line` of a buffet line is no cook line."""
    text = _plain(name or "")
    hits = [(match.span(), adds) for pattern, adds in _patterns() for match in pattern.finditer(text)]
    light = [span for span, adds in hits if adds in LIGHT]
    return frozenset(
        adds
        for span, adds in hits
        if adds not in LIGHT or not any(_within(span, longer) for longer in light if longer != span)
    )


def _within(span: Span, longer: Span) -> bool:
    return longer[0] <= span[0] and span[1] <= longer[1]


@cache
def _patterns() -> tuple[tuple[re.Pattern[str], str], ...]:
    try:
        raw = tomllib.loads(_FILE.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise InputError(f"{_FILE}: the vocabulary cannot be read ({error}); install again") from error
    return tuple((_any_of(row["words"]), row["adds"]) for row in raw["condition"])


def _any_of(words: Sequence[str]) -> re.Pattern[str]:
    """Any of the words, the longest first, in singular or plural."""
    longest = sorted(map(_plain, words), key=len, reverse=True)
    return re.compile(r"\b(?:" + "|".join(map(re.escape, longest)) + r")s?\b")


def _plain(name: str) -> str:
    return name.lower().replace("-", " ")

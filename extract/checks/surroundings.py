"""Conditions told by the names of an item and its place, such as the kind of a dish machine."""

from __future__ import annotations

import re
import tomllib
from functools import cache, lru_cache
from pathlib import Path

import shared
from shared.errors import InputError

_FILE = Path(shared.__file__).parent / "vocabulary" / "surroundings.toml"
_LIGHT = ("light_50", "light_20", "light_10")


@lru_cache(maxsize=4096)
def conditions(item: str | None, place: str | None) -> frozenset[str]:
    """The conditions that the names tell; of several kinds of light the item's own, else the brightest."""
    found = _told(item) | _told(place)
    light = [kind for kind in _LIGHT if kind in _told(item)] or [kind for kind in _LIGHT if kind in found]
    return (found - set(_LIGHT)) | frozenset(light[:1])


def _told(name: str | None) -> frozenset[str]:
    text = _plain(name or "")
    return frozenset(adds for pattern, adds in _patterns() if pattern.search(text))


@cache
def _patterns() -> tuple[tuple[re.Pattern[str], str], ...]:
    try:
        raw = tomllib.loads(_FILE.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise InputError(f"{_FILE}: the vocabulary cannot be read ({error}); install again") from error
    return tuple(
        (
            re.compile(r"\b(?:" + "|".join(re.escape(_plain(word)) for word in row["words"]) + r")s?\b"),
            row["adds"],
        )
        for row in raw["condition"]
    )


def _plain(name: str) -> str:
    return name.lower().replace("-", " ")

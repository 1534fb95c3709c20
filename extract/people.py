"""People an inspector names, and words that tell what is meant to be written up."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from extract.lexicon import Phrases, read
from extract.text import plain, singular


@dataclass(frozen=True, slots=True)
class People:
    words: Phrases[bool]
    writing: Phrases[bool]
    in_progress: Phrases[bool]


@cache
def people() -> People:
    table = read("people.toml")
    return People(
        Phrases(((text, True) for text in table["words"]), form=singular),
        Phrases(((text, True) for text in table["writing"]), form=plain),
        Phrases(((text, True) for text in table["in_progress"]), form=plain),
    )

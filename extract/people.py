"""People an inspector names, and words that tell what is meant to be written up."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from extract.lexicon import Phrases, read
from extract.text import Token, plain, singular


@dataclass(frozen=True, slots=True)
class People:
    words: Phrases[bool]
    writing: Phrases[bool]
    in_progress: Phrases[bool]


def written_up(line: list[Token], first: int, last: int) -> bool:
    """Whether the inspector says between two tokens that it is going on the report."""
    return bool(people().writing.find(line, first, last))


@cache
def people() -> People:
    table = read("people.toml")
    return People(
        Phrases(((text, True) for text in table["words"]), form=singular),
        Phrases(((text, True) for text in table["writing"]), form=plain),
        Phrases(((text, True) for text in table["in_progress"]), form=plain),
    )

"""People an inspector names, and words that tell what is meant to be written up."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from extract.words.lexicon import Phrases, read
from extract.words.text import Token, plain, singular


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


_CAUSED = frozenset(("had", "made", "watched", "saw", "got"))
_PERSONS = frozenset(("him", "her", "them", "staff", "somebody", "someone", "everybody"))


def caused(line: list[Token], first: int) -> bool:
    """`had them throw it out`, `watched him toss it`, `got her to fill it`: done, as the inspector asked."""
    i = first - 1
    if i > 1 and line[i].low == "to":
        i -= 1
    return i > 0 and line[i].low in _PERSONS and line[i - 1].low in _CAUSED

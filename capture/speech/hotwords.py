"""The words that the model is told to expect: the trade's and those of the place. Never numbers.

A number in the bias comes out as if it had been said, so anything that holds a digit or a number word is
left out, whoever wrote it. The bias is written as short sentences: as a list with commas the model copies
the style, loses punctuation and drops utterances (word error rate 20 instead of 4 %, see docs/speech.md).
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from functools import cache
from importlib.resources import files

_NUMBER_WORDS = (
    "zero|oh|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\\w+teen|twenty|thirty|forty|fifty|"
    "sixty|seventy|eighty|ninety|hundred|thousand|half|quarter|point|minus|first|second|third"
)
_NUMBER = re.compile(rf"\d|\b(?:{_NUMBER_WORDS})\b", re.IGNORECASE)
_MOST_CHARACTERS = 700  # faster-whisper cuts a bias at 223 tokens; a cut would drop the words of the place


@cache
def trade_words() -> tuple[str, ...]:
    """The trade's words from `shared/vocabulary/trade_words.toml`, in the order of the file."""
    with (files("shared") / "vocabulary" / "trade_words.toml").open("rb") as file:
        table = tomllib.load(file)
    return tuple(entry["text"] for entry in table["word"] if entry.get("bias", True))


def hotwords(words_of_the_place: Iterable[str] = ()) -> str:
    """The bias for one inspection: the words of the place first, then the trade's, as many as fit."""
    chosen: list[str] = []
    length = 0
    for word in (*words_of_the_place, *trade_words()):
        clean = " ".join(word.split())
        if not clean or holds_number(clean) or clean.lower() in {other.lower() for other in chosen}:
            continue
        if length + len(clean) + 2 > _MOST_CHARACTERS:
            break
        chosen.append(clean)
        length += len(clean) + 2
    return " ".join(f"{word[:1].upper()}{word[1:]}." for word in chosen)


def holds_number(text: str) -> bool:
    """Whether the text holds a digit or a number word."""
    return _NUMBER.search(text) is not None

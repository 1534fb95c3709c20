"""Words of an utterance that may stand for others that sound alike. They are doubted, never changed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from extract import lexicon
from extract.lexicon import Phrases, read
from extract.line import Line
from extract.text import plain, singular
from shared.kept import kept
from shared.types import Doubt


@dataclass(frozen=True, slots=True)
class _Row:
    meant: str
    near: frozenset[str]
    not_near: frozenset[str]


@cache
def _rows() -> Phrases[_Row]:
    return kept("mishearings", sources(), compile_mishearings)


def sources() -> list[Path]:
    """All files that the table is made from, code included."""
    return [*lexicon.sources(), Path(__file__)]


def compile_mishearings() -> Phrases[_Row]:
    """What may be misheard, each with what is more likely meant, compiled anew."""
    table = [*read("mishearings.toml")["mishearing"], *read("doubtful_words.toml")["mishearing"]]
    return Phrases(
        (
            (heard, _Row(row["meant"], _words(row, "near"), _words(row, "not_near")))
            for row in table
            for heard in row["heard"]
        ),
        form=plain,
    )


def _words(row: dict[str, Any], key: str) -> frozenset[str]:
    """The words of a row's list, without plural endings."""
    return frozenset(map(singular, row.get(key, ())))


def misheard(line: Line) -> list[Doubt]:
    """A doubt for each stretch of the utterance that sounds like a word more likely meant here."""
    found = []
    for first, last, row in _rows().find(line.tokens):
        around = {singular(token.low) for n, token in enumerate(line.tokens) if not first <= n < last}
        if (row.near and not row.near & around) or row.not_near & around:
            continue
        words = line.words(first, last)
        span = (line.tokens[first].start, line.tokens[last - 1].end)
        found.append(Doubt("misheard", f"“{words}” may stand for “{row.meant}”", span, (row.meant,)))
    return found

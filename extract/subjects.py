"""Sections that are proposed from words only where their subject is named: a clean-up procedure where vomit
is spoken of, a worker's hands where no customer is."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from extract.lexicon import read
from extract.line import Line
from extract.text import word_set


class _Subject(NamedTuple):
    sections: tuple[str, ...]
    needs: frozenset[str]
    never: frozenset[str]
    unless: frozenset[str]


def spoken_of(section: str, line: Line, at: int, before: Line | None) -> bool:
    """Whether the subject of a section is named around the token `at`: in its sentence, or in the one before,
    be that the last of the utterance `before`."""
    number = line.sentence[at] if line.sentence else 0
    own = _words(line, number)
    if number:
        earlier = _words(line, number - 1)
    else:
        earlier = _words(before, before.sentence[-1]) if before and before.sentence else frozenset()
    return all(
        (not one.needs or bool(one.needs & (own | earlier)))
        and (not one.never & own or bool(one.unless & own))
        for one in _subjects()
        if section.startswith(one.sections)
    )


def _words(line: Line, number: int) -> frozenset[str]:
    return frozenset(t.low for t, of in zip(line.tokens, line.sentence, strict=True) if of == number)


@cache
def _subjects() -> tuple[_Subject, ...]:
    return tuple(
        _Subject(
            tuple(row["sections"]),
            word_set(" ".join(row.get("needs", ()))),
            word_set(" ".join(row.get("never", ()))),
            word_set(" ".join(row.get("unless", ()))),
        )
        for row in read("subjects.toml")["subject"]
    )

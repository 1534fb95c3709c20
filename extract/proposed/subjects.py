"""Sections that are proposed from words only where their subject is named: a clean-up procedure where vomit
is spoken of, a worker's hands where no customer is."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import NamedTuple

from extract.words.lexicon import read
from extract.words.line import Line
from extract.words.text import word_set


class _Said(NamedTuple):
    words: frozenset[str]
    phrases: tuple[str, ...]

    def within(self, text: str, words: frozenset[str]) -> bool:
        """Whether any of these is said in a sentence, whose words stand in `text` between blanks."""
        return bool(self.words & words) or any(phrase in text for phrase in self.phrases)


class _Subject(NamedTuple):
    sections: tuple[str, ...]
    needs: frozenset[str]
    never: _Said
    unless: _Said
    asks: _Said
    then_in_order: _Said


class _Narrower(NamedTuple):
    section: str
    named: _Said
    becomes: str


def spoken_of(section: str, line: Line, at: int, before: Line | None) -> bool:
    """Whether the subject of a section is named around the token `at`: in its sentence, or in the one before,
    be that the last of the utterance `before`."""
    number = line.sentence[at] if line.sentence else 0
    own, text = _words(line, number), _text(line, number)
    if number:
        earlier = _words(line, number - 1)
    else:
        earlier = _words(before, before.sentence[-1]) if before and before.sentence else frozenset()
    return all(
        (not one.needs or bool(one.needs & (own | earlier)))
        and (not one.never.within(text, own) or one.unless.within(text, own))
        and not one.then_in_order.within(_text(line, number + 1), _words(line, number + 1))
        for one in _subjects()
        if section.startswith(one.sections)
    )


def only_asked(section: str, line: Line, at: int) -> bool:
    """Whether the sentence of the token `at` says what makes a section doubtful: food made this morning
    needs no date mark yet."""
    number = line.sentence[at] if line.sentence else 0
    own, text = _words(line, number), _text(line, number)
    return any(
        one.asks.within(text, own) and not one.unless.within(text, own)
        for one in _subjects()
        if section.startswith(one.sections)
    )


def narrowed(section: str, line: Line, at: int) -> str:
    """The paragraph of a section that what is named in the sentence of the token `at` falls under."""
    number = line.sentence[at] if line.sentence else 0
    own, text = _words(line, number), _text(line, number)
    return next(
        (one.becomes for one in _table()[1] if one.section == section and one.named.within(text, own)),
        section,
    )


def _words(line: Line, number: int) -> frozenset[str]:
    return frozenset(t.low for t, of in zip(line.tokens, line.sentence, strict=True) if of == number)


def _text(line: Line, number: int) -> str:
    """The words of a sentence with a blank before and behind each."""
    said = (t.low for t, of in zip(line.tokens, line.sentence, strict=True) if of == number)
    return f" {' '.join(said)} "


def _subjects() -> tuple[_Subject, ...]:
    return _table()[0]


@cache
def _table() -> tuple[tuple[_Subject, ...], tuple[_Narrower, ...]]:
    rows = read("subjects.toml")
    subjects = tuple(
        _Subject(
            tuple(row["sections"]),
            word_set(" ".join(row.get("needs", ()))),
            *(_said(row.get(name, ())) for name in ("never", "unless", "asks", "then_in_order")),
        )
        for row in rows["subject"]
    )
    return subjects, tuple(
        _Narrower(row["section"], _said(row["named"]), row["becomes"]) for row in rows["narrower"]
    )


def _said(entries: Iterable[str]) -> _Said:
    single = [entry for entry in entries if " " not in entry]
    return _Said(word_set(" ".join(single)), tuple(f" {entry} " for entry in entries if " " in entry))

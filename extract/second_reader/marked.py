"""Sayings and walks in which each figure, and each violation told in words, is marked.

`shared/vocabulary/figures_said/*.txt` hold one saying a line, with its figures marked; in
`shared/vocabulary/walks/*.txt` the lines up to an empty one are one walk, and violations are marked too.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import accumulate
from pathlib import Path
from typing import NamedTuple, get_args

from extract.learned_from import FIGURES_SAID, WALKS
from extract.words.text import Span
from shared.errors import InputError
from shared.types import Stage

MEASURED = "r"
MEANINGS = "rlpwtdnuo"
_FIGURE = re.compile(r"\{([^{}|]+):([a-z])(?:\|([a-z_]+)\|([^{}|]*)(?:\|([yn]))?)?\}")
_TOLD = re.compile(r"\[([^\[\]]+):(\d-\d{3}[0-9A-Za-z.()]*)\|([yn])\]")
_ELSEWHERE, _AT = "^", "@"
_MISHEARD = re.compile(r"<([^<>=]+)=([^<>=]+)>")
_BEGINS, _ENDS = "\ue000", "\ue001"
"""Stand around misheard words while the other marks are taken off."""


class Mark(NamedTuple):
    """One figure of a saying, with its unit, and what it is for."""

    span: Span
    meant: str
    """`r` measured now, `l` limit or plan, `p` of another day, `w` taken back, `t` time or date, `d` a span,
    `n` a count, size, price or name, `u` the same reading again, `o` not measured, whatever else."""
    stage: str | None
    item: str | None
    """What was measured, as the words name it; None where they do not."""
    elsewhere: bool = False
    """It is named in another utterance of the walk."""
    corrected: bool | None = None
    """Whether the violation that it shows was put right; None where it shows none, or nobody marked it."""
    place: str | None = None
    """Where it was measured, as the words name it; empty where they do not; None where nobody marked it."""
    kind: str | None = None
    """Of `labels.KINDS`, where `bare.with_kinds` could tell."""


class Told(NamedTuple):
    """Words that tell of a violation."""

    span: Span
    section: str
    corrected: bool


class Said(NamedTuple):
    """One utterance without its marks, and the marks."""

    text: str
    marks: tuple[Mark, ...]
    told: tuple[Told, ...] | None
    """None where violations are not marked."""
    misheard: tuple[Span, ...] = ()
    """Words that a speech model printed for others."""


def files() -> list[Path]:
    """The files of sayings and walks, each by another hand. InputError when there is none."""
    paths = [*sorted(FIGURES_SAID.glob("*.txt")), *sorted(WALKS.glob("*.txt"))]
    if not paths:
        raise InputError(f"{FIGURES_SAID}: there are no sayings (*.txt); name a folder that has some")
    return paths


def walks(path: Path) -> list[list[Said]]:
    """What a file holds, walk by walk; a saying is a walk of one utterance. `#` begins a remark. InputError
    names the line at fault."""
    alone = path.parent.name == FIGURES_SAID.name
    made: list[list[Said]] = [[]]
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
        if line.strip() and not line.startswith("#"):
            made[-1].append(_said(path, number, line, told=not alone))
        if (alone or not line.strip()) and made[-1]:
            made.append([])
    return [walk for walk in made if walk]


def _said(path: Path, number: int, line: str, *, told: bool) -> Said:
    line = _MISHEARD.sub(rf"{_BEGINS}\1{_ENDS}", line)
    plain, violations = _without_told(line) if told else (line, [])
    text, marks, done = "", [], 0
    for match in _FIGURE.finditer(plain):
        text += plain[done : match.start()]
        words, meant, stage, item, corrected = match.groups()
        if meant not in MEANINGS or (meant == MEASURED) is not (stage in get_args(Stage)):
            raise InputError(f"{path}, line {number}: “{match[0]}” is no mark; correct or remove it")
        item, at, place = (item or "").partition(_AT)
        named = item.removeprefix(_ELSEWHERE) if item not in ("", "-") else None
        elsewhere = named is not None and item.startswith(_ELSEWHERE)
        where = (place if place != "-" else "") if at else None
        span = len(text), len(text) + len(words)
        marks.append(
            Mark(span, meant, stage, named, elsewhere, None if corrected is None else corrected == "y", where)
        )
        text += words
        done = match.end()
    text += plain[done:]
    if set("{}[]<>") & set(text):
        raise InputError(f"{path}, line {number}: a brace or bracket is left over; correct or remove it")
    return _without_misheard(Said(text, tuple(marks), tuple(violations) if told else None))


def _without_misheard(said: Said) -> Said:
    """What was said without the signs around misheard words, whose places it tells instead."""
    before = list(accumulate((each in _BEGINS + _ENDS for each in said.text), initial=0))

    def moved(span: Span) -> Span:
        return span[0] - before[span[0]], span[1] - before[span[1]]

    misheard = [moved(match.span()) for match in re.finditer(f"{_BEGINS}[^{_ENDS}]*{_ENDS}", said.text)]
    plain = in_other_words(said, re.sub(f"[{_BEGINS}{_ENDS}]", "", said.text), moved)
    return plain._replace(misheard=tuple(misheard))


def in_other_words(said: Said, text: str, moved: Callable[[Span], Span]) -> Said:
    """The same with another text and all that is marked at its place there; `moved`: from old to new ones."""
    return Said(
        text,
        tuple(mark._replace(span=moved(mark.span)) for mark in said.marks),
        said.told and tuple(each._replace(span=moved(each.span)) for each in said.told),
        tuple(moved(span) for span in said.misheard),
    )


def _without_told(line: str) -> tuple[str, list[Told]]:
    """The line without the brackets of its violations, figures still marked, and the violations, by their
    places in the text without any mark."""
    plain, found, done = "", [], 0
    for match in _TOLD.finditer(line):
        plain += line[done : match.start()]
        start = _length(plain)
        plain += match[1]
        found.append(Told((start, _length(plain)), match[2], match[3] == "y"))
        done = match.end()
    return plain + line[done:], found


def _length(marked: str) -> int:
    return len(_FIGURE.sub(r"\1", marked))

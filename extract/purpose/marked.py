"""Sayings with each figure marked, read from `shared/vocabulary/figures_said/*.txt`."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path
from typing import NamedTuple, get_args

import shared
from extract.text import Span
from shared.errors import InputError
from shared.types import Stage

FOLDER = Path(shared.__file__).parent / "vocabulary" / "figures_said"
MEASURED = "r"
_MEANINGS = "rlpwtdnuo"
_MARK = re.compile(r"\{([^{}|]+):([a-z])(?:\|([a-z_]+)\|([^{}|]*))?\}")


class Mark(NamedTuple):
    """One figure of a saying, with its unit, and what it is for."""

    span: Span
    meant: str
    """`r` measured now, `l` limit or plan, `p` of another day, `w` taken back, `t` time or date, `d` a span,
    `n` a count, size, price or name, `u` the same reading again, `o` not measured, whatever else."""
    stage: str | None
    item: str | None
    """What was measured, as the saying names it; None where it does not."""


class Said(NamedTuple):
    """One saying without its marks, and the marks."""

    text: str
    marks: tuple[Mark, ...]


def files(folder: Path = FOLDER) -> list[Path]:
    """The files of sayings, each by another hand. InputError when there is none."""
    paths = sorted(folder.glob("*.txt"))
    if not paths:
        raise InputError(f"{folder}: there are no sayings (*.txt); name a folder that has some")
    return paths


def sayings(path: Path) -> list[Said]:
    """The sayings of a file, one a line; `#` begins a remark. InputError names the line at fault."""
    return [
        _said(path, number, line)
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        if line.strip() and not line.startswith("#")
    ]


def fingerprint(folder: Path = FOLDER) -> str:
    """SHA-256 of the files, so that weights can tell which sayings they were learned from."""
    digest = hashlib.sha256()
    for path in files(folder):
        digest.update(path.name.encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()


def _said(path: Path, number: int, line: str) -> Said:
    text, marks, done = "", [], 0
    for match in _MARK.finditer(line):
        text += line[done : match.start()]
        words, meant, stage, item = match.groups()
        if meant not in _MEANINGS or (meant == MEASURED) is not (stage in get_args(Stage)):
            raise InputError(f"{path}, line {number}: “{match[0]}” is no mark; correct or remove it")
        marks.append(Mark((len(text), len(text) + len(words)), meant, stage, item if item != "-" else None))
        text += words
        done = match.end()
    text += line[done:]
    if "{" in text or "}" in text:
        raise InputError(f"{path}, line {number}: a brace is left over; correct or remove it")
    return Said(text, tuple(marks))

"""The written sayings, read from `shared/vocabulary/sayings/*.csv`."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import NamedTuple

from extract.learned_from import SAYINGS
from shared.errors import InputError

VIOLATION, IN_ORDER, NOTHING = "violation", "in order", "nothing"
PUT_RIGHT, PROMISED, NEITHER = "put right", "promised", "neither"
CLAUSES = "clauses"
"""The file of sayings that are clauses out of running talk."""
OUTCOMES = (PUT_RIGHT, PROMISED, NEITHER)
_MEANINGS = (VIOLATION, IN_ORDER, NOTHING, *OUTCOMES)
_COLUMNS = ["foreseen", "meant", "section", "also", "said"]


class Saying(NamedTuple):
    """One sentence as an inspector may say it, and what it means."""

    meant: str
    """`violation`, `in order` (the section's subject, and all is well) or `nothing`; of what followed
    on a violation, `put right`, `promised` or `neither`."""
    sections: tuple[str, ...]
    """The section it is about, then others that an expert would also accept; only of the first two kinds."""
    said: str
    part: bool = False
    """A clause as it stands within running talk: it tells what was put right, and nothing of how whole
    sentences sound."""


def sayings(folder: Path = SAYINGS) -> list[Saying]:
    """All sayings of a folder, in the order of its files. InputError names the file and line at fault."""
    found: list[Saying] = []
    for path in _files(folder):
        with path.open(encoding="utf-8", newline="") as lines:
            rows = csv.reader(lines)
            if next(rows, None) != _COLUMNS:
                raise InputError(f"{path}: the first line must be {','.join(_COLUMNS)}")
            for number, row in enumerate(rows, start=2):
                found.append(_saying(path, number, row)._replace(part=path.stem == CLAUSES))
    return found


def _files(folder: Path) -> list[Path]:
    paths = sorted(folder.glob("*.csv"))
    if not paths:
        raise InputError(f"{folder}: there are no sayings (*.csv); name a folder that has some")
    return paths


def _saying(path: Path, number: int, row: list[str]) -> Saying:
    if len(row) != len(_COLUMNS) or row[0] not in ("yes", "no") or not row[4].strip():
        raise InputError(f"{path}, line {number}: needs {', '.join(_COLUMNS)}; correct or remove it")
    _, meant, section, also, said = row
    if meant not in _MEANINGS:
        raise InputError(f"{path}, line {number}: `{meant}` is none of {', '.join(_MEANINGS)}")
    if (meant in (VIOLATION, IN_ORDER)) is not bool(section):
        raise InputError(f"{path}, line {number}: `{meant}` and section “{section}” do not go together")
    return Saying(meant, (section, *also.split()) if section else (), said)

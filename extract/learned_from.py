"""From which files the weights were learned, so that a test can say when they no longer fit."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from pathlib import Path

import shared

_VOCABULARY = Path(shared.__file__).parent / "vocabulary"
FIGURES_SAID, WALKS, SAYINGS = (_VOCABULARY / name for name in ("figures_said", "walks", "sayings"))
OF_LIKENESS = (SAYINGS, WALKS)
OF_SECOND_READER = (FIGURES_SAID, WALKS, SAYINGS)


def fingerprint(folders: Iterable[Path]) -> str:
    """SHA-256 of all files of the folders, in order."""
    digest = hashlib.sha256()
    for path in sorted(path for folder in folders for path in folder.glob("*.*")):
        digest.update(path.name.encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()

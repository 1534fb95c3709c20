"""What decides how a recording is heard, as one fingerprint: another program or table, another fingerprint.

Progress that an earlier version kept must not be mixed with what this one hears: half of a recording would
be doubted by other rules, or searched for voice with another threshold.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from functools import cache
from importlib.metadata import version
from importlib.resources import files
from importlib.resources.abc import Traversable

_SEARCH = ("audio.py", "damaged.py", "faint.py", "voice.py")
_TABLES = ("trade_words.toml", "mishearings.toml")
_ENDINGS = (".py", ".csv")
_LIBRARIES = ("av", "ctranslate2", "faster-whisper", "numpy", "onnxruntime")


@cache
def fingerprint() -> str:
    """Of the sources and tables that hearing goes by, and of the libraries that it calls."""
    return digest(decisive_files(), [f"{name} {version(name)}" for name in _LIBRARIES])


def decisive_files() -> list[Traversable]:
    """The sources and tables that decide what is heard."""
    capture, tables = files("capture"), files("shared") / "vocabulary"
    speech = [one for one in (capture / "speech").iterdir() if one.name.endswith(_ENDINGS)]
    return [*speech, *(capture / name for name in _SEARCH), *(tables / name for name in _TABLES)]


def digest(parts: Iterable[Traversable], told: Iterable[str] = ()) -> str:
    """One SHA-256 of the names and bytes of files, in any order, and of what else is told."""
    whole = hashlib.sha256()
    for name, content in sorted((one.name, one.read_bytes()) for one in parts):
        whole.update(f"{name} {len(content)}\n".encode())
        whole.update(content)
    whole.update("\n".join(sorted(told)).encode())
    return whole.hexdigest()

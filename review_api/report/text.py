"""Text that is safe to print: what people typed and said, as text in every format, never as a trick."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Container
from dataclasses import dataclass

_KEPT_CONTROLS = "\n"
_BIDI = frozenset(map(chr, (0x061C, 0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2066, 0x206A))))
_LONG_RUN = re.compile(r"\S{40,}")
_EVERY = 20
_ZERO_WIDTH_SPACE = "\u200b"
_LINK = re.compile(
    r"(?P<web>https://[^\s<>\"'{}|\\^`]+)|(?P<mail>[A-Za-z0-9._%+-]{1,64}@[A-Za-z0-9-]+(?:\.[A-Za-z0-9-]+)+)"
)


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of a paragraph; `link` is an `https:` or `mailto:` address or None."""

    text: str
    link: str | None = None
    strong: bool = False


def clean(text: str) -> str:
    """The text in NFC without control characters, bidirectional overrides and other invisible steering.

    Line breaks stay, tabs become spaces. Nothing a person can see is lost.
    """
    text = unicodedata.normalize("NFC", text.replace("\r\n", "\n").replace("\r", "\n").replace("\t", " "))
    return "".join(sign for sign in text if sign in _KEPT_CONTROLS or not _steers(sign))


def printable(text: str, *, covered: Container[int]) -> str:
    """Clean text in characters of `covered` only; each run of others stands as `[U+4E2D U+6587]`.

    Runs without a space that are too long for a line may be broken.
    """
    out: list[str] = []
    missing: list[str] = []
    for sign in clean(text):
        if ord(sign) not in covered and unicodedata.category(sign) == "Zs":
            sign = " "
        if ord(sign) in covered or sign == "\n":
            if missing:
                out.append(f"[{' '.join(missing)}]")
                missing = []
            out.append(sign)
        else:
            missing.append(f"U+{ord(sign):04X}")
    if missing:
        out.append(f"[{' '.join(missing)}]")
    return _LONG_RUN.sub(_breakable, "".join(out))


def linked(text: str) -> tuple[Run, ...]:
    """The text as runs, its web and mail addresses made links. No other kind of address becomes one."""
    runs: list[Run] = []
    at = 0
    for found in _LINK.finditer(text):
        shown = found[0].rstrip(".,;:!?)")
        runs.append(Run(text[at : found.start()]))
        runs.append(Run(shown, link=shown if found["web"] else f"mailto:{shown}"))
        at = found.start() + len(shown)
    runs.append(Run(text[at:]))
    return tuple(run for run in runs if run.text)


def sentence(text: str) -> str:
    """The words as a sentence: capital first, full stop last; empty stays empty."""
    text = " ".join(text.split())
    if not text:
        return ""
    if text[-1] not in '.!?…”"':
        text += "."
    return text[0].upper() + text[1:]


def grouped(sha256: str) -> str:
    """A hash in groups of eight digits, to be read aloud and broken over lines."""
    return " ".join(sha256[at : at + 8] for at in range(0, len(sha256), 8))


def _steers(sign: str) -> bool:
    return sign in _BIDI or unicodedata.category(sign) in ("Cc", "Cf", "Cs", "Zl", "Zp")


def _breakable(found: re.Match[str]) -> str:
    run = found[0]
    return _ZERO_WIDTH_SPACE.join(run[at : at + _EVERY] for at in range(0, len(run), _EVERY))

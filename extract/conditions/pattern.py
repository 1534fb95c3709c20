"""The pattern language of the catalogue, read into nodes.

    pattern  :=  part ((" + " | " > ") part [" ~" words])* [" ^" confidence]
    part     :=  ["?"] run ("|" run)*
    run      :=  element+
    one      :=  word | word"-"word | "@"class
    element  :=  one ("/" one)* | "no(" run ("|" run)* ")" — each may end in "?" to be optional

The elements of a run stand next to each other. Each part stands within `words` (else 6) of one before it,
in one sentence; `+` leaves the order free, `>` wants it as written, but two parts that touch may be turned
round, as in "leaking faucet" for `faucet > leaking`. A part that begins with `?` need not be there and adds
confidence. `no(x)` is any way to say that x is not there. Articles, pronouns and forms of "to be" are never
written (see `content`).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

WINDOW = 6.0


class PatternError(ValueError):
    """What is wrong with a pattern."""


@dataclass(frozen=True, slots=True)
class Words:
    """A run of plain words, one of several spellings."""

    choices: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Class:
    """Any member of a named class."""

    name: str


@dataclass(frozen=True, slots=True)
class Absent:
    """Any way to say that something is not there."""

    inner: Element


@dataclass(frozen=True, slots=True)
class Sequence:
    """Elements next to each other."""

    elements: tuple[Element, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """Any of several elements."""

    elements: tuple[Element, ...]


Element = Words | Class | Absent | Sequence | Choice


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a pattern."""

    element: Element
    optional: bool
    after: bool
    """It stands after the part before it."""
    window: float
    """How many words may lie between it and the nearest part before it."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """A pattern as written, and its parts."""

    text: str
    parts: tuple[Part, ...]
    confidence: float | None


_CONFIDENCE = re.compile(r"\s+\^(0?\.\d+|1)$")
_WINDOW = re.compile(r"\s+~(\d+)$")
_PIECE = re.compile(r"no\(|\)\??|\||[^\s()|]+")
_WORD = re.compile(r"[a-z0-9'#][a-z0-9'-]*$")
_CLASS = re.compile(r"@[a-z][a-z0-9_]*$")


def read(text: str) -> Pattern:
    """The pattern that `text` writes; PatternError says what is wrong with it."""
    rest, confidence = text.strip(), None
    if found := _CONFIDENCE.search(rest):
        confidence = float(found[1])
        rest = rest[: found.start()]
    parts: list[Part] = []
    after = False
    for piece in re.split(r"\s+([+>])\s+", rest):
        if piece in ("+", ">"):
            after = piece == ">"
            continue
        window = WINDOW
        if found := _WINDOW.search(piece):
            window = float(found[1])
            piece = piece[: found.start()]
        optional = piece.startswith("?")
        parts.append(Part(element(piece[1:] if optional else piece), optional, after, window))
    if all(part.optional for part in parts):
        raise PatternError("every part is optional")
    return Pattern(text, tuple(parts), confidence)


@lru_cache(maxsize=8192)
def element(text: str) -> Element:
    """The one element, or the choice of runs of elements, that `text` writes."""
    pieces = _PIECE.findall(text)
    if "".join(pieces) != re.sub(r"\s+", "", text) or not pieces:
        raise PatternError(f"cannot read {text!r}")
    made, rest = _choice(pieces, 0, inside=False)
    if rest != len(pieces):
        raise PatternError(f"a bracket too many in {text!r}")
    return made


def _choice(pieces: list[str], at: int, *, inside: bool) -> tuple[Element, int]:
    """The runs from `at` on, up to the bracket that closes them when `inside` one."""
    done: list[list[Element]] = []
    runs: list[list[Element]] = [[]]
    while at < len(pieces) and not pieces[at].startswith(")"):
        piece = pieces[at]
        at += 1
        if piece == "|":
            done += runs
            runs = [[]]
            continue
        if piece == "no(":
            inner, at = _choice(pieces, at, inside=True)
            if at >= len(pieces):
                raise PatternError("a bracket is not closed")
            made: Element = Absent(inner)
            optional = pieces[at].endswith("?")
            at += 1
        else:
            made = _single(piece)
            optional = piece.endswith("?")
        with_it = [[*run, made] for run in runs]
        runs = [*with_it, *runs] if optional else with_it
    if at < len(pieces) and not inside:
        raise PatternError("a bracket too many")
    return _joined(done + runs), at


@lru_cache(maxsize=8192)
def _single(piece: str) -> Element:
    made = [_one(part, piece) for part in piece.rstrip("?").split("/")]
    if all(isinstance(one, Words) for one in made):
        return Words(tuple(choice for one in made if isinstance(one, Words) for choice in one.choices))
    return made[0] if len(made) == 1 else Choice(tuple(made))


def _one(part: str, piece: str) -> Element:
    if _CLASS.match(part):
        return Class(part[1:])
    if _WORD.match(part):
        return Words((part.replace("-", " "),))
    raise PatternError(f"cannot read {piece!r}")


def _joined(runs: list[list[Element]]) -> Element:
    made = [_sequence(run) for run in runs if run]
    if not made or not all(runs[:1]):
        raise PatternError("an element is empty")
    if all(isinstance(one, Words) for one in made):
        return Words(tuple(choice for one in made if isinstance(one, Words) for choice in one.choices))
    return made[0] if len(made) == 1 else Choice(tuple(made))


def _sequence(run: list[Element]) -> Element:
    """Neighbouring plain words become one run of words, which the trie finds in one walk."""
    if len(run) == 1:
        return run[0]
    merged: list[Element] = []
    for made in run:
        last = merged[-1] if merged else None
        if (
            isinstance(made, Words)
            and isinstance(last, Words)
            and len(made.choices) * len(last.choices) <= 16
        ):
            merged[-1] = Words(tuple(f"{a} {b}" for a in last.choices for b in made.choices))
        else:
            merged.append(made)
    return merged[0] if len(merged) == 1 else Sequence(tuple(merged))

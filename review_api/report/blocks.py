"""What a document is made of, before it is PDF or HTML: a title, some facts and a list of blocks.

Both formats are made from this one value, so that they say the same.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any, Literal

from review_api.report.text import Run

Tone = Literal["plain", "strong", "quiet"]


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading of level 2 or 3; the title is level 1."""

    level: int
    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    runs: tuple[Run, ...]
    tone: Tone = "plain"


@dataclass(frozen=True, slots=True)
class Points:
    """A list of short statements."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Fact:
    label: str
    value: str


@dataclass(frozen=True, slots=True)
class Facts:
    """Labels and their values, one a row; `caption` says of what, for those who cannot see it."""

    caption: str
    rows: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table with a header row; the first cell of each row names the row."""

    caption: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[int, ...]
    """Shares of the line; 0: as wide as its content."""
    small: bool = False


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo or drawing by the name it has in `Document.files`."""

    file: str
    alternative_text: str
    caption: str


@dataclass(frozen=True, slots=True)
class Pictures:
    """Photos side by side."""

    items: tuple[Picture, ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """One drawing over the line, described in words below it."""

    picture: Picture
    description: str


@dataclass(frozen=True, slots=True)
class Signed:
    """A signature: its drawing or a typed name, and what stands under it."""

    heading: str
    picture: Picture | None
    name: str
    below: str


@dataclass(frozen=True, slots=True)
class Signatures:
    """Signatures side by side."""

    items: tuple[Signed, ...]


@dataclass(frozen=True, slots=True)
class Case:
    """A violation: what identifies it, what was found, its facts and photos."""

    label: str
    """Such as `1`."""
    section: str
    title: str
    marks: tuple[str, ...]
    """Such as `Priority`, `Corrected on site`, `Repeat`."""
    statement: str
    facts: Facts
    pictures: tuple[Picture, ...]


Block = Heading | Paragraph | Points | Facts | Table | Pictures | Drawing | Signatures | Case


@dataclass(frozen=True, slots=True)
class Document:
    """A whole document: what it is, whose, and its blocks."""

    language: str
    kind: str
    """What it is, such as `Inspection report`."""
    number: str
    title: str
    """The title proper: the establishment's name."""
    issuer: str
    issuer_lines: tuple[str, ...]
    notice: str
    """A line that must be seen first, such as that it is a draft; empty if none."""
    draft_word: str
    """The word across each page of a draft; empty if none."""
    page_words: str
    """How a page's number is said, such as `Page {page} of {pages}`."""
    keywords: tuple[str, ...]
    """Statements for programs: schema, number, what it amends."""
    blocks: tuple[Block, ...]


def texts_through(value: Any, change: Callable[[str], str]) -> Any:
    """The value with every text in it changed; names of files, addresses and keywords stay."""
    if isinstance(value, str):
        return change(value)
    if isinstance(value, tuple):
        return tuple(texts_through(item, change) for item in value)
    if is_dataclass(value) and not isinstance(value, type):
        kept = {"file", "link", "tone", "language", "keywords", "page_words"}
        return replace(
            value,
            **{
                field.name: texts_through(getattr(value, field.name), change)
                for field in fields(value)
                if field.name not in kept
            },
        )
    return value


def plain(value: Any) -> Any:
    """The value as JSON takes it; each block carries its `kind` under `block`."""
    if isinstance(value, tuple):
        return [plain(item) for item in value]
    if is_dataclass(value) and not isinstance(value, type):
        inner = {field.name: plain(getattr(value, field.name)) for field in fields(value)}
        return {"block": type(value).__name__.lower(), **inner}
    return value

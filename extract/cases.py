"""Proposed violations while they are being put together."""

from __future__ import annotations

from dataclasses import dataclass, field

from extract.scene import Draft
from extract.words.text import Span, words_of
from shared.foods import called_later


@dataclass(slots=True)
class Case:
    """One violation in the making; `extract.proposed.findings` turns it into a Finding."""

    section: str
    line: int
    span: Span
    form_item: int | None
    sentence: int = 0
    """Number of the sentence in its utterance."""
    says: str = ""
    """What is wrong, in a few words; empty for a case made of readings."""
    drafts: list[Draft] = field(default_factory=list)
    spans: list[tuple[int, Span]] = field(default_factory=list)
    """Further words that support it: utterance and characters."""
    item: str | None = None
    place: str | None = None
    words: frozenset[str] = frozenset()
    """Stems that tell what it is about."""
    confidence: float = 1.0
    alternatives: tuple[str, ...] = ()
    questions: tuple[str, ...] = ()
    rule: str = ""
    repeated: bool = False
    foreseen: bool = True
    """A pattern of the catalogue, or a reading, made it."""
    corrected: bool = False
    correction: str | None = None
    dealt_with: frozenset[str] = frozenset()
    """Those of its foods that something was done about."""
    measured_again: bool = False
    """A later reading of the same thing meets its limit."""
    deed: tuple[int, Span] | None = None
    """Where the words last told that it was put right: utterance and characters."""
    only_sounds_corrected: bool = False
    """No known words told it."""
    plainly_corrected: bool = False
    """It is among so many of which it was said that they were put right (`all three taken care of`), or its
    thing was named as thrown away."""
    perhaps_corrected: bool = False
    """Something was done that may have been to another thing, or was denied."""
    asks_whether_corrected: bool = False
    """The words can be taken both ways."""
    who: str | None = None

    @property
    def position(self) -> tuple[int, int]:
        """Where it was said, for ordering."""
        return self.line, self.span[0]


def named_by(item: str | None) -> frozenset[str]:
    """Stems of the words by which an item may be spoken of again."""
    return words_of(" ".join((item, *called_later(item)))) if item else frozenset()


def family(section: str) -> str:
    """The section without its paragraphs: 3-501.16 of 3-501.16(A)(2)."""
    return section.partition("(")[0]


def sections_agree(one: str, two: str) -> bool:
    """Whether two citations speak of the same section or one is a paragraph of the other."""
    return one == two or one.startswith(f"{two}(") or two.startswith(f"{one}(")

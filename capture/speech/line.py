"""The words of one voiced stretch as tokens, and doubts that point at them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from capture.speech.numerals import Numeral, parts
from shared.types import Doubt, Word


@dataclass(frozen=True, slots=True)
class Line:
    """The words of one voiced stretch as tokens, each knowing its word."""

    words: tuple[Word, ...]
    tokens: tuple[str, ...]
    owners: tuple[int, ...]
    """For each token the index of its word."""

    @classmethod
    def of(cls, words: Iterable[Word]) -> Line:
        """The line of some words."""
        row = tuple(words)
        pairs = [(part, index) for index, word in enumerate(row) for part in parts(word.text)]
        return cls(row, tuple(part for part, _ in pairs), tuple(index for _, index in pairs))

    @property
    def whole(self) -> Numeral:
        """All of it, where a doubt is on no number of its own."""
        return Numeral(0, len(self.tokens), "")

    def words_of(self, first: int, last: int) -> Sequence[Word]:
        """The words that hold the tokens `first` to `last`; for an empty run the words beside it."""
        if not self.tokens:
            return self.words[:1]
        if first >= last:
            first, last = max(0, first - 1), min(len(self.tokens), first + 1)
        return self.words[self.owners[first] : self.owners[last - 1] + 1]

    def probability(self, first: int, last: int) -> float:
        """The least probability of the words that hold the tokens; a sign does not count."""
        if self.tokens[first : first + 1] == ("minus",):
            first += 1
        return min((word.probability for word in self.words_of(first, last)), default=0.0)

    def doubt(self, number: Numeral, code: str, why: str, alternatives: tuple[str, ...] = ()) -> Doubt:
        """A doubt on the words of a number, with seconds and without a span; `why` lacks its full stop."""
        words = self.words_of(number.first, number.last)
        return Doubt(
            code,
            f"{why}.",
            None,
            alternatives,
            words[0].start if words else None,
            words[-1].end if words else None,
        )

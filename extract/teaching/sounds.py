"""What a speech model might print for a word: common words, one to three, that sound almost the same.

Used only when the second reader learns. Pronunciations are of the CMU Pronouncing Dictionary (Carnegie Mellon
University, BSD licence), in its 39 phones without stress; common words are those of the reader's vocabulary
in its order. What one phone costs in the place of another is common practice, no source.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from extract.second_reader.pieces import tokenizer
from extract.words.text import word_set

_VOWELS = word_set("AA AE AH AO AW AY EH ER EY IH IY OW OY UH UW")
_NEAR_VOWELS = [
    "IH IY EH", "EH AE EY", "AA AO AH", "UH UW OW", "AH IH ER UH", "AY OY", "AW AO AA AE", "AO OW ER",
]  # fmt: skip
_NEAR_CONSONANTS = [
    "B P", "D T", "G K", "V F", "Z S", "DH TH F V", "ZH SH JH CH", "M N NG", "L R W", "D DH", "T TH", "S SH",
    "Z ZH", "Y JH",
]  # fmt: skip
_NEAR, _VOWEL, _OTHER = 0.3, 0.55, 1.1
_LOST = {"HH": 0.3, "AH": 0.35, "IH": 0.4, "T": 0.45, "D": 0.45, "R": 0.6, "L": 0.7, "N": 0.7, "S": 0.7}
_LOST_OTHERWISE = 0.8
_ANOTHER_WORD = 0.08
"""What each word more costs."""
_WORDS_AT_MOST, _COMMON = 3, 3_000
"""Words of three letters count only among so many of the most common."""
_BOUND, _PER_PHONE = 0.35, 0.1
"""What may be lost in all, and for each phone."""
_FOUND_AT_MOST = 10


def _costs() -> dict[tuple[str, str], float]:
    near = {
        (one, two): _NEAR
        for group in (*_NEAR_VOWELS, *_NEAR_CONSONANTS)
        for one in group.split()
        for two in group.split()
    }
    vowels = {(one, two): _VOWEL for one in _VOWELS for two in _VOWELS}
    return vowels | near | {(one, one): 0.0 for one in _VOWELS} | {(one, one): 0.0 for one, _ in near}


_COSTS = _costs()


@dataclass(slots=True)
class _Node:
    """A place in the tree of all common words by their phones."""

    next: dict[str, _Node] = field(default_factory=dict)
    words: list[str] = field(default_factory=list)


class Sounds:
    """Finds what sounds like a word."""

    def __init__(self, dictionary: Path) -> None:
        """`dictionary`: a file `word PHONE PHONE ...`, one pronunciation a line, `#` begins a remark."""
        self._said: dict[str, list[str]] = {}
        for line in dictionary.read_text(encoding="utf-8").splitlines():
            word, *phones = line.partition("#")[0].split() or [""]
            if word.isalpha():
                self._said.setdefault(word, [phone.rstrip("012") for phone in phones])

    def phones(self, words: str) -> list[str] | None:
        """The phones of one or more words; None where one is not known."""
        said = [self._said.get(word) for word in words.split()]
        return [phone for each in said if each for phone in each] if all(said) else None

    @cached_property
    def _tree(self) -> _Node:
        words = [word for word in tokenizer()[1] if word.isalpha() and word in self._said]
        common = [word for n, word in enumerate(words) if _a_word(word, common=n < _COMMON)]
        root = _Node()
        for word in common:
            node = root
            for phone in self._said[word]:
                node = node.next.setdefault(phone, _Node())
            node.words.append(word)
        return root

    def like(self, words: str) -> list[tuple[str, float]]:
        """What might be printed for `words`, with what it costs; the likeliest first, `words` left out."""
        target = self.phones(words)
        if target is None:
            return []
        bound = _BOUND + _PER_PHONE * len(target)
        pieces = {
            start: list(self._from(target, start, bound)) for start in range(len(target))
        }  # word, end, cost
        waiting: list[tuple[float, int, tuple[str, ...]]] = [(0.0, 0, ())]
        found: dict[str, float] = {}
        while waiting and len(found) < _FOUND_AT_MOST:
            cost, at, so_far = heapq.heappop(waiting)
            if at == len(target):
                printed = " ".join(so_far)
                if printed != words and not _same(printed, words):
                    found.setdefault(printed, cost)
                continue
            if len(so_far) == _WORDS_AT_MOST:
                continue
            for word, end, more in pieces[at]:
                total = cost + more + (_ANOTHER_WORD if so_far else 0.0)
                if total <= bound:
                    heapq.heappush(waiting, (total, end, (*so_far, word)))
        return list(found.items())

    def _from(self, target: list[str], start: int, bound: float) -> Iterator[tuple[str, int, float]]:
        """Words that sound like a part of `target` from `start`, where that part ends, and the cost."""
        rest = target[start:]
        row = [0.0]
        for phone in rest:
            row.append(row[-1] + _lost(phone))
        yield from self._down(self._tree, rest, row, bound, start)

    def _down(
        self, node: _Node, rest: list[str], row: list[float], bound: float, start: int
    ) -> Iterator[tuple[str, int, float]]:
        for word in node.words:
            for size, cost in enumerate(row):
                if size and cost <= bound:
                    yield word, start + size, cost
        for phone, below in node.next.items():
            more = [row[0] + _lost(phone)]
            for n, wanted in enumerate(rest):
                swapped = row[n] + _COSTS.get((phone, wanted), _OTHER)
                more.append(min(swapped, row[n + 1] + _lost(phone), more[n] + _lost(wanted)))
            if min(more) <= bound:
                yield from self._down(below, rest, more, bound, start)


_SHORT = word_set("a i an in on it is to of or at up my so no go we he be by do")


def _a_word(word: str, *, common: bool) -> bool:
    return len(word) > 3 or word in _SHORT or (common and len(word) == 3)


def _lost(phone: str) -> float:
    return _LOST.get(phone, _LOST_OTHERWISE)


def _same(printed: str, words: str) -> bool:
    """The same letters, or only another ending."""
    one, two = printed.replace(" ", ""), words.replace(" ", "")
    return one == two or one.rstrip("s") == two.rstrip("s")

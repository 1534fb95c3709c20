"""Whether two phrases sound alike in English, roughly: by the consonants that one hears.

A skeleton keeps consonants, merges those that are confused (b and p, d and t, s and z, m and n) and drops
vowels. It is coarse on purpose: it only ever confirms what a table or a word list proposes.
"""

from __future__ import annotations

import re

_SPELLINGS = (
    (r"tch", "C"), (r"ch", "C"), (r"sh", "S"), (r"ph", "f"), (r"gh(?=t|$)", ""), (r"wh", "w"), (r"^kn", "n"),
    (r"wr", "r"), (r"[aeiou]lk", "k"), (r"ck", "k"), (r"qu?", "kw"), (r"c(?=[eiy])", "s"), (r"c", "k"),
    (r"x", "ks"), (r"dge", "C"), (r"j", "C"), (r"mb\b", "m"), (r"h", ""), (r"y$", ""), (r"ie?s?$", ""),
)  # fmt: skip
_MERGED = str.maketrans("bdgvzm", "ptkfsn", "aeiouy")


def skeleton(phrase: str) -> str:
    """The consonants that are heard, confusable ones merged: `quot` and `quat` are both `kwt`."""
    heard = ""
    for word in re.findall(r"[a-z']+", phrase.lower()):
        bare = word.replace("'", "")
        for spelling, sound in _SPELLINGS:
            bare = re.sub(spelling, sound, bare)
        heard += bare.translate(_MERGED)
    return re.sub(r"(.)\1+", r"\1", heard)


def alike(one: str, other: str) -> bool:
    """Whether the skeletons differ by at most one sound in four."""
    a, b = skeleton(one), skeleton(other)
    return _distance(a, b) <= max(len(a), len(b)) // 4


def _distance(a: str, b: str) -> int:
    row = list(range(len(b) + 1))
    for i, left in enumerate(a, 1):
        diagonal, row[0] = row[0], i
        for j, right in enumerate(b, 1):
            diagonal, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, diagonal + (left != right))
    return row[-1]

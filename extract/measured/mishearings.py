"""Words of an utterance that may stand for others that sound alike. Their doubt names what may be meant.

Three sources: phrases that nobody says, or only among other words (`mishearings.toml`,
`doubtful_words.toml`); pairs of words that sound alike, where the second reader takes the printed one for out
of place here (`misprints.tsv`); and words that it is sure are out of place, whatever was meant.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from extract.scene import Draft
from extract.words import lexicon
from extract.words.lexicon import VOCABULARY, Phrases, read
from extract.words.line import Line
from extract.words.text import Span, plain, singular, touch
from shared.errors import InputError
from shared.foods import classify
from shared.kept import kept
from shared.types import Doubt

MISPRINTS = VOCABULARY / "misprints.tsv"
_OUT_OF_PLACE, _SURELY = 0.3, 0.8
"""Share of a misprint from which a word that sounds like one of the trade is doubted, and any word. Chosen on
dictations that the network had not seen, by the counts alone (`docs/extraction.md`)."""


@dataclass(frozen=True, slots=True)
class _Row:
    meant: str
    near: frozenset[str]
    not_near: frozenset[str]


@cache
def _rows() -> Phrases[_Row]:
    return kept("mishearings", sources(), compile_mishearings)


@cache
def _pairs() -> Phrases[tuple[str, ...]]:
    return kept("misprints", sources(), compile_misprints)


def sources() -> list[Path]:
    """All files that the tables are made from, code included."""
    return [*lexicon.sources(), MISPRINTS, Path(__file__)]


def compile_mishearings() -> Phrases[_Row]:
    """What may be misheard, each with what is more likely meant, compiled anew."""
    table = [*read("mishearings.toml")["mishearing"], *read("doubtful_words.toml")["mishearing"]]
    return Phrases(
        (
            (heard, _Row(row["meant"], _words(row, "near"), _words(row, "not_near")))
            for row in table
            for heard in row["heard"]
        ),
        form=plain,
    )


def compile_misprints() -> Phrases[tuple[str, ...]]:
    """The pairs that sound alike, by what is printed, compiled anew."""
    meant: dict[str, list[str]] = {}
    for printed, word in misprints():
        meant.setdefault(printed, []).append(word)
    return Phrases(((printed, tuple(words)) for printed, words in meant.items()), form=plain)


def misprints(path: Path = MISPRINTS) -> list[tuple[str, str]]:
    """Pairs of what is printed and what was said, both in lower case. InputError names the line at fault."""
    pairs = []
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
        if line.startswith("#") or not line:
            continue
        printed, tab, meant = line.partition("\t")
        if not tab or not printed.strip() or not meant.strip():
            raise InputError(f"{path}, line {number}: needs what is printed, a tab and what is meant")
        pairs.append((printed.strip(), meant.strip()))
    return pairs


def _words(row: dict[str, Any], key: str) -> frozenset[str]:
    """The words of a row's list, without plural endings."""
    return frozenset(map(singular, row.get(key, ())))


def misheard(line: Line, shares: Sequence[tuple[Span, float]] = (), known: Iterable[str] = ()) -> list[Doubt]:
    """A doubt for each stretch of the utterance that sounds like a word more likely meant here.

    `shares`: what the second reader gives words of being misprinted; `known`: words and names of this
    inspection, which are not doubted for being rare.
    """
    found = list(_by_rows(line))
    found += [doubt for doubt in _by_sound(line, shares) if not _covered(doubt, found)]
    found += [doubt for doubt in _out_of_place(line, shares, known) if not _covered(doubt, found)]
    return sorted(found, key=lambda doubt: doubt.span or (0, 0))


_ITEM_BACK = 12
"""Utterances back in which the item of a reading may have been named."""


def mend_item(draft: Draft, heard: Mapping[int, Sequence[Doubt]], texts: Sequence[str]) -> None:
    """Names the item of a reading, in place, by what was meant where its words were misheard; the reading
    then carries that doubt. `heard`: the doubts of each utterance of `texts`."""
    if draft.item is None:
        return
    for at in range(draft.line.index, draft.line.index - _ITEM_BACK, -1):
        for doubt in heard.get(at, ()):
            if len(doubt.alternatives) != 1 or doubt.span is None:
                continue
            printed = texts[at][slice(*doubt.span)]
            words = re.compile(rf"(?<!\w){re.escape(printed)}(?!\w)", re.IGNORECASE)
            if words.search(draft.item) and not _food_itself(printed, doubt):
                draft.item = words.sub(doubt.alternatives[0], draft.item)
                draft.codes.append((doubt.code, doubt.why, doubt.alternatives))
                return


def _food_itself(printed: str, doubt: Doubt) -> bool:
    """The cake of `turn up cake 55`: what is printed is a food, and what may be meant is none."""
    return classify(printed) is not None and classify(doubt.alternatives[0]) is None


def _by_rows(line: Line) -> Iterable[Doubt]:
    for first, last, row in _rows().find(line.tokens):
        around = {singular(token.low) for n, token in enumerate(line.tokens) if not first <= n < last}
        if (row.near and not row.near & around) or row.not_near & around:
            continue
        yield _doubt(line.words(first, last), line.span(first, last), (row.meant,))


def _by_sound(line: Line, shares: Sequence[tuple[Span, float]]) -> Iterable[Doubt]:
    if not shares:
        return
    for first, last, meant in _pairs().find(line.tokens):
        span = line.span(first, last)
        if max((share for at, share in shares if touch(at, span)), default=0.0) >= _OUT_OF_PLACE:
            yield _doubt(line.words(first, last), span, meant)


def _out_of_place(line: Line, shares: Sequence[tuple[Span, float]], known: Iterable[str]) -> Iterable[Doubt]:
    names = {word.lower() for name in known for word in name.split()}
    figures = [
        (token.start, token.end)
        for token, kind in zip(line.tokens, line.classes, strict=True)
        if kind == "number" or token.kind == "number"
    ]
    spans: list[Span] = []
    for span, share in shares:
        word = line.text[slice(*span)]
        if share < _SURELY or not word.isalpha() or word.lower() in names:
            continue
        if any(touch(span, figure) for figure in figures):
            continue
        if spans and not line.text[spans[-1][1] : span[0]].strip(" -"):
            spans[-1] = spans[-1][0], span[1]
        else:
            spans.append(span)
    for span in spans:
        yield _doubt(line.text[slice(*span)], span, ())


def _doubt(words: str, span: Span, meant: tuple[str, ...]) -> Doubt:
    others = " or ".join(f"“{each}”" for each in meant)
    why = f"“{words}” may stand for {others}" if meant else f"“{words}” may be printed for another word"
    return Doubt("misheard", why, span, meant)


def _covered(doubt: Doubt, found: Iterable[Doubt]) -> bool:
    return any(
        other.span is not None and doubt.span is not None and touch(doubt.span, other.span) for other in found
    )

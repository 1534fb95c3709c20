"""What the second reader takes each figure and each sentence of an utterance for."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import NamedTuple
from zipfile import BadZipFile

import numpy as np
from numpy.typing import NDArray

from extract.second_reader.labels import KINDS, MEANT, STAGES, TOLD
from extract.second_reader.pieces import WEIGHTS, Piece, Pieces, around, pieces
from extract.words.text import Span
from shared.errors import InputError

HEADS = WEIGHTS / "heads.npz"
_LONGEST_ITEM = 9
"""Word pieces of an item at most."""
_TO_SPEAK_OF = 0.05
"""Share of a misprint below which a word is not told of."""
_LIKELIEST = 5
"""Sections of a sentence that are told."""
_KEPT = 4096
"""Utterances whose answer is kept."""

Numbers = NDArray[np.float32]


class Named(NamedTuple):
    """Where the item or the place of a figure is named."""

    back: int
    """0: in the utterance itself; 1: in the one before it, and so on."""
    span: Span


@dataclass(frozen=True, slots=True)
class FigureTold:
    """What one figure is taken for; shares from 0 to 1."""

    meant: dict[str, float]
    """By the letters of `labels.MEANT`; `r`: it was measured now."""
    stages: dict[str, float]
    item: Named | None
    """None: it names none."""
    item_sure: float
    violates: float
    """The share that it shows a violation."""
    place: Named | None
    """None: the words name none."""
    place_sure: float
    kinds: dict[str, float]
    """By `labels.KINDS`, of what kind of measure it tells."""

    @property
    def likeliest_stage(self) -> str:
        return max(self.stages, key=self.stages.__getitem__)

    @property
    def likeliest_kind(self) -> str:
        return max(self.kinds, key=self.kinds.__getitem__)


@dataclass(frozen=True, slots=True)
class SentenceTold:
    """What one sentence tells; shares from 0 to 1."""

    told: dict[str, float]
    """By `labels.TOLD`."""
    sections: dict[str, float]
    """The likeliest sections that it is about, be it a violation or all in order."""


@dataclass(frozen=True, slots=True)
class UtteranceTold:
    """All of one utterance; None where it was too long to be looked at to its end."""

    figures: tuple[FigureTold | None, ...]
    sentences: tuple[SentenceTold | None, ...]
    words: tuple[tuple[Span, float], ...] = ()
    """Words that may be printed for others, with the share of it."""


class SecondReader:
    """The learned network: an encoder that turns word pieces into vectors, and a layer for each question."""

    def __init__(self, folder: Path = WEIGHTS) -> None:
        """Loads the weights. InputError says what to do when they are missing or damaged."""
        from ctranslate2 import Encoder

        try:
            self._encoder = Encoder(str(folder), compute_type="int8", inter_threads=1, intra_threads=1)
            with (folder / HEADS.name).open("rb") as file, np.load(file, allow_pickle=False) as kept:
                self._heads = {
                    name: kept[name].astype(np.float32)
                    for name in kept.files
                    if name.endswith(("_weight", "_bias"))
                }
                self.sections: tuple[str, ...] = tuple(kept["sections"].tolist())
                self.learned_from = str(kept["learned_from"])
        except (OSError, ValueError, KeyError, RuntimeError, EOFError, BadZipFile) as error:
            raise InputError(
                f"{folder}: the learned weights cannot be read ({error}); run make weights"
            ) from error

    def reads(
        self, text: str, before: Sequence[str], figures: Sequence[Span], sentences: Sequence[Span]
    ) -> UtteranceTold:
        """What it takes the figures and sentences of `text` for, at these places; `before`: what was said
        before it in the same visit."""
        if not figures and not sentences:
            return UtteranceTold((), ())
        cut = pieces(text, before, figures, sentences)
        made = self._encoder.forward_batch([cut.ids], token_type_ids=[cut.types])
        vectors = np.array(made.last_hidden_state, np.float32)[0]
        return UtteranceTold(
            tuple(self._figure(vectors, at, cut) if at is not None else None for at in cut.figures),
            tuple(self._sentence(vectors[at]) if at is not None else None for at in cut.sentences),
            tuple(self._words(text, vectors, cut)),
        )

    def put_right(self, text: str, told: Span, before: Sequence[str], after: Sequence[str]) -> float:
        """The share, from 0 to 1, that it gives the violation that `text` tells at `told` of having been put
        right during the visit, in what was said `before` and `after`."""
        cut = around(text, told, before, after)
        made = self._encoder.forward_batch([cut.ids], token_type_ids=[cut.types])
        vectors = np.array(made.last_hidden_state, np.float32)[0]
        return float(
            _shares(self._on_top("corrected", np.concatenate([vectors[cut.begins], vectors[cut.ends]])))[1]
        )

    def _figure(self, vectors: Numbers, at: int, cut: Pieces) -> FigureTold:
        beside = np.concatenate([vectors[at], vectors[at + 1]])
        first, last, place_first, place_last = (
            _shares(vectors @ self._on_top(name, beside) / vectors.shape[1] ** 0.5)
            for name in ("item_first", "item_last", "place_first", "place_last")
        )
        item, sure = _named(first, last, cut.stands)
        place, place_sure = _named(place_first, place_last, cut.stands)
        return FigureTold(
            dict(zip(MEANT, _shares(self._on_top("meant", beside)).tolist(), strict=True)),
            dict(zip(STAGES, _shares(self._on_top("stage", beside)).tolist(), strict=True)),
            item,
            sure,
            float(_shares(self._on_top("violates", beside))[1]),
            place,
            place_sure,
            dict(zip(KINDS, _shares(self._on_top("kind", beside)).tolist(), strict=True)),
        )

    def _sentence(self, vector: Numbers) -> SentenceTold:
        told = _shares(self._on_top("told", vector)).tolist()
        about = _shares(self._on_top("section", vector))
        likeliest = np.argsort(-about)[:_LIKELIEST].tolist()
        return SentenceTold(
            dict(zip(TOLD, told, strict=True)), {self.sections[n]: float(about[n]) for n in likeliest}
        )

    def _words(self, text: str, vectors: Numbers, cut: Pieces) -> Iterator[tuple[Span, float]]:
        """The utterance's own words that have a share to speak of; a word has the largest of its pieces."""
        weight, bias = self._heads["misheard_weight"], self._heads["misheard_bias"]
        margins = vectors @ (weight[1] - weight[0]) + (bias[1] - bias[0])
        word, share = (0, 0), 0.0
        for piece, margin in zip(cut.stands, margins.tolist(), strict=True):
            if piece is None or piece.back:
                continue
            start = piece.span[0]
            if start != word[1] or not (text[start].isalnum() and text[start - 1].isalnum()):
                if share > _TO_SPEAK_OF:
                    yield word, share
                word, share = piece.span, 0.0
            word = word[0], piece.span[1]
            share = max(share, 1 / (1 + math.exp(-margin)))
        if share > _TO_SPEAK_OF:
            yield word, share

    def _on_top(self, name: str, vector: Numbers) -> Numbers:
        made: Numbers = self._heads[f"{name}_weight"] @ vector + self._heads[f"{name}_bias"]
        return made


def _shares(logits: Numbers) -> Numbers:
    made = np.exp(logits - logits.max())
    shares: Numbers = made / made.sum()
    return shares


def _named(first: Numbers, last: Numbers, stands: Sequence[Piece | None]) -> tuple[Named | None, float]:
    """The likeliest run of pieces within one utterance, or that there is none (place 0)."""
    best, sure = None, float(first[0] * last[0])
    for start in np.flatnonzero(first > sure).tolist():
        piece = stands[start]
        if piece is None:
            continue
        for end in range(start, min(start + _LONGEST_ITEM, len(stands))):
            final = stands[end]
            share = float(first[start] * last[end])
            if final is not None and final.back == piece.back and share > sure:
                best, sure = Named(piece.back, (piece.span[0], final.span[1])), share
    return best, sure


@cache
def second_reader() -> SecondReader:
    """The one that ships, read at first use."""
    return SecondReader()


@lru_cache(maxsize=_KEPT)
def put_right_of(text: str, told: Span, before: tuple[str, ...], after: tuple[str, ...]) -> float:
    """The share that the shipped reader gives a violation of having been put right; kept like `told_of`."""
    return second_reader().put_right(text, told, before, after)


@lru_cache(maxsize=_KEPT)
def told_of(
    text: str, before: tuple[str, ...], figures: tuple[Span, ...], sentences: tuple[Span, ...]
) -> UtteranceTold:
    """What the shipped reader takes an utterance for; asked the same again, it answers at once."""
    return second_reader().reads(text, before, figures, sentences)

"""An utterance as the second reader gets it: word pieces, a mark before each sentence and each figure; or a
violation, between two marks, with what was said after it."""

from __future__ import annotations

import json
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import NamedTuple

from tokenizers import Tokenizer
from tokenizers.models import WordPiece
from tokenizers.normalizers import BertNormalizer
from tokenizers.pre_tokenizers import BertPreTokenizer

from extract.words.text import Span

WEIGHTS = Path(__file__).with_name("weights")
VOCABULARY = WEIGHTS / "vocabulary.json"
_FIGURE, _SENTENCE, _BEGIN, _END = "[unused0]", "[unused1]", "[CLS]", "[SEP]"
_VIOLATION, _VIOLATION_ENDS = "[unused2]", "[unused3]"
BACK = 2
"""Utterances before this one that are given with it."""
_OF_EACH_BEFORE = 24
"""Word pieces of each of these, its last."""
MOST = 224
"""Word pieces in all; what is longer is cut off."""
AHEAD = 4
"""Utterances after a violation that are given with it."""
_LEADING, _FOLLOWING = 40, 72
"""Word pieces before a violation in its utterance, and after it there."""


class Piece(NamedTuple):
    """Where one word piece stands."""

    back: int
    """0: in the utterance itself; 1: in the one before it, and so on."""
    span: Span


class Pieces(NamedTuple):
    """One utterance, and those before it, as numbers."""

    ids: list[int]
    types: list[int]
    """0 for the utterances before, 1 for the utterance itself."""
    stands: list[Piece | None]
    """Of each piece; None for marks."""
    figures: list[int | None]
    """Where the mark of each figure is; None: cut off."""
    sentences: list[int | None]


def pieces(text: str, before: Sequence[str], figures: Sequence[Span], sentences: Sequence[Span]) -> Pieces:
    """Cuts `text` up, with the utterances `before` it. `figures` and `sentences`: their places in `text`, in
    its order."""
    cut, number = tokenizer()
    ids = [number[_BEGIN]]
    stands: list[Piece | None] = [None]
    for back, said in reversed(list(enumerate(reversed(before[-BACK:]), start=1))):
        words = cut.encode(said, add_special_tokens=False)
        ids += [*words.ids[-_OF_EACH_BEFORE:], number[_END]]
        stands += [*(Piece(back, span) for span in words.offsets[-_OF_EACH_BEFORE:]), None]
    of_before = len(ids)
    own = cut.encode(text, add_special_tokens=False)
    marks = sorted(
        [(span[0], 0, n) for n, span in enumerate(sentences)]
        + [(span[0], 1, n) for n, span in enumerate(figures)]
    )
    at: tuple[list[int | None], list[int | None]] = [None] * len(sentences), [None] * len(figures)
    for piece, span in zip(own.ids, own.offsets, strict=True):
        while marks and span[1] > marks[0][0]:
            _, of_figure, n = marks.pop(0)
            at[of_figure][n] = len(ids)
            ids.append(number[_FIGURE] if of_figure else number[_SENTENCE])
            stands.append(None)
        ids.append(piece)
        stands.append(Piece(0, span))
    last = MOST - 1
    ids, stands = [*ids[:last], number[_END]], [*stands[:last], None]
    types = [int(at >= of_before) for at in range(len(ids))]
    kept = tuple([place if place is not None and place < last - 1 else None for place in each] for each in at)
    return Pieces(ids, types, stands, kept[1], kept[0])


class Around(NamedTuple):
    """A violation, what was said before it and what after, as numbers."""

    ids: list[int]
    types: list[int]
    """1 for the utterance in which it was told, 0 for the others."""
    begins: int
    ends: int
    """Where the marks around it are."""


def around(text: str, told: Span, before: Sequence[str], after: Sequence[str]) -> Around:
    """Cuts up what was said around the violation that `text` tells at `told`: the utterance before it, and up
    to `AHEAD` after it, as far as they fit."""
    cut, number = tokenizer()
    ids = [number[_BEGIN]]
    for said in before[-1:]:
        ids += [*cut.encode(said, add_special_tokens=False).ids[-_OF_EACH_BEFORE:], number[_END]]
    types = [0] * len(ids)
    own = cut.encode(text, add_special_tokens=False)
    first = sum(span[1] <= told[0] for span in own.offsets)
    end = max(first, sum(span[0] < told[1] for span in own.offsets))
    leading = own.ids[max(0, first - _LEADING) : first]
    inside = own.ids[first : min(end, first + _FOLLOWING)]
    begins = len(ids) + len(leading)
    ends = begins + len(inside) + 1
    following = [number[_VIOLATION_ENDS], *own.ids[end : end + _FOLLOWING], number[_END]]
    ids += [*leading, number[_VIOLATION], *inside, *following]
    types += [1] * (len(ids) - len(types))
    for said in after[:AHEAD]:
        ids += [*cut.encode(said, add_special_tokens=False).ids, number[_END]]
    ids = ids[:MOST]
    return Around(ids, [*types, *[0] * (len(ids) - len(types))], begins, ends)


@cache
def tokenizer() -> tuple[Tokenizer, dict[str, int]]:
    """Cuts words into the pieces of the vocabulary, and each piece's number."""
    number = {piece: at for at, piece in enumerate(json.loads(VOCABULARY.read_text(encoding="utf-8")))}
    made = Tokenizer(WordPiece(number, unk_token="[UNK]", max_input_chars_per_word=100))
    made.normalizer, made.pre_tokenizer = BertNormalizer(lowercase=True), BertPreTokenizer()
    return made, number

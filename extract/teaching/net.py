"""The networks of the second reader while they learn (PyTorch); `reader.py` runs what was learned.

One linear layer for each thing that is told apart, on top of an encoder. In the network that ships it is
BERT's (Devlin and others 2019, arXiv:1810.04805) with the shape and first weights of all-MiniLM-L6-v2, in its
guide MPNet's (Song and others 2020, arXiv:2004.09297) with those of all-mpnet-base-v2; both under Apache 2.0.
"""

from __future__ import annotations

import json
import math
import struct
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

import numpy as np
import torch
from torch import Tensor, nn
from torch.nn import functional

from extract.second_reader.shape import ATTENTION_HEADS, GUIDE, PLACES, READER, Shape

_DROPPED = 0.1
_NAMES = {
    "up": "intermediate.dense", "down": "output.dense", "second": "output.LayerNorm",
}  # fmt: skip
_OF_READER = _NAMES | {
    "query": "attention.self.query", "key": "attention.self.key", "value": "attention.self.value",
    "out": "attention.output.dense", "first": "attention.output.LayerNorm",
}  # fmt: skip
_OF_GUIDE = _NAMES | {
    "query": "attention.attn.q", "key": "attention.attn.k", "value": "attention.attn.v",
    "out": "attention.attn.o", "first": "attention.LayerNorm",
}  # fmt: skip
_WORDS, _PLACES = "embeddings.word_embeddings.weight", "embeddings.position_embeddings.weight"
_TURNS, _DISTANCES = "embeddings.token_type_embeddings.weight", "encoder.relative_attention_bias.weight"
_MOVED, _MARKS = 4, {101: 0, 102: 2, 100: 3}
"""In the vocabulary of all-mpnet-base-v2 each piece has a number this much higher, and these three others."""
_FIRST_PLACE = 2
"""Where a piece stands is counted from here in all-mpnet-base-v2."""


class Batch(NamedTuple):
    """Several utterances, filled up to one length; figures, sentences, violations and words by utterance and
    place."""

    ids: Tensor
    types: Tensor
    filled: Tensor
    figures: Tensor
    sentences: Tensor
    violations: Tensor
    words: Tensor
    """The pieces of the utterances themselves."""


class Told(NamedTuple):
    """Logits: of each figure what it is for, its stage, where its item begins and ends, whether it shows a
    violation, where its place begins and ends, and of what kind it is; of each sentence what it tells, and of
    which section; of each violation whether it was put right; of each piece of the utterances themselves
    whether it is printed for another word."""

    meant: Tensor
    stage: Tensor
    first: Tensor
    last: Tensor
    violates: Tensor
    place_first: Tensor
    place_last: Tensor
    told: Tensor
    section: Tensor
    corrected: Tensor
    misheard: Tensor
    kind: Tensor


class Layer(nn.Module):
    """Attention, then two dense layers, each with what went in added and normalised."""

    def __init__(self, shape: Shape) -> None:
        super().__init__()
        width, inner = shape.width, shape.inner
        self.query, self.key = nn.Linear(width, width), nn.Linear(width, width)
        self.value, self.out = nn.Linear(width, width), nn.Linear(width, width)
        self.up, self.down = nn.Linear(width, inner), nn.Linear(inner, width)
        self.first, self.second = nn.LayerNorm(width, shape.epsilon), nn.LayerNorm(width, shape.epsilon)
        self.drop = nn.Dropout(_DROPPED)

    def forward(self, x: Tensor, nearness: Tensor) -> Tensor:
        """Shapes: utterances × pieces × width; and utterances, heads, pieces and pieces, or 1 for each of the
        first three: how much more each piece looks at each."""
        many, long, width = x.shape
        query, key, value = (
            each(x).view(many, long, ATTENTION_HEADS, -1).transpose(1, 2)
            for each in (self.query, self.key, self.value)
        )
        dropped = _DROPPED if self.training else 0.0
        nearness = nearness.to(query.dtype)
        mixed = functional.scaled_dot_product_attention(query, key, value, nearness, dropped)
        x = self.first(x + self.drop(self.out(mixed.transpose(1, 2).reshape(many, long, width))))
        out: Tensor = self.second(x + self.drop(self.down(functional.gelu(self.up(x)))))
        return out


class Net(nn.Module):
    """A whole network; `labels`: how many pieces, and how many labels of each sort that `labels.py` names."""

    def __init__(self, labels: Sequence[int], shape: Shape) -> None:
        super().__init__()
        self.shape = shape
        pieces, meant, stages, told, sections, kinds = labels
        width = shape.width
        self.word, self.place = nn.Embedding(pieces, width), nn.Embedding(PLACES, width)
        self.turn = nn.Embedding(2, width)
        self.begin = nn.LayerNorm(width, shape.epsilon)
        if shape.distances:
            self.far = nn.Embedding(shape.distances, ATTENTION_HEADS)
        self.layers = nn.ModuleList(Layer(shape) for _ in range(shape.layers))
        self.meant, self.stage = nn.Linear(2 * width, meant), nn.Linear(2 * width, stages)
        self.item_first, self.item_last = nn.Linear(2 * width, width), nn.Linear(2 * width, width)
        self.place_first, self.place_last = nn.Linear(2 * width, width), nn.Linear(2 * width, width)
        self.violates = nn.Linear(2 * width, 2)
        self.told, self.section = nn.Linear(width, told), nn.Linear(width, sections)
        self.corrected, self.misheard = nn.Linear(2 * width, 2), nn.Linear(width, 2)
        self.kind = nn.Linear(2 * width, kinds)
        self.drop = nn.Dropout(_DROPPED)

    def encode(self, batch: Batch) -> Tensor:
        """A vector for each piece: utterances × pieces × width."""
        long = batch.ids.shape[1]
        x = self.drop(self.begin(self.word(batch.ids) + self.place.weight[:long] + self.turn(batch.types)))
        nearness = (~batch.filled[:, None, None, :]) * -1e4
        if self.shape.distances:
            far = _distances(long, self.shape, x.device)
            nearness = nearness + self.far(far).permute(2, 0, 1)[None]
        for layer in self.layers:
            x = layer(x, nearness)
        return x

    def forward(self, batch: Batch, x: Tensor | None = None) -> Told:
        """Logits of all figures, sentences and violations of the batch, in its order; `x`: of `encode`."""
        x = self.encode(batch) if x is None else x
        which, at = batch.figures.T
        figure = self.drop(torch.cat([x[which, at], x[which, at + 1]], -1))
        empty = (~batch.filled[which]) * -1e4
        first, last, place_first, place_last = (
            (each(figure)[:, None] * x[which]).sum(-1) / self.shape.width**0.5 + empty
            for each in (self.item_first, self.item_last, self.place_first, self.place_last)
        )
        which, at = batch.sentences.T
        sentence = self.drop(x[which, at])
        which, begins, ends = batch.violations.T
        violation = self.drop(torch.cat([x[which, begins], x[which, ends]], -1))
        return Told(
            self.meant(figure),
            self.stage(figure),
            first,
            last,
            self.violates(figure),
            place_first,
            place_last,
            self.told(sentence),
            self.section(sentence),
            self.corrected(violation),
            self.misheard(self.drop(x[batch.words.T[0], batch.words.T[1]])),
            self.kind(figure),
        )


def _distances(long: int, shape: Shape, device: torch.device) -> Tensor:
    """The number of the distance from each piece to each: half of them for pieces before, half for those
    behind; of each half the first half is exact, the rest grow by a constant factor up to the farthest."""
    at = torch.arange(long, device=device)
    behind = at[None, :] - at[:, None]
    half, exact = shape.distances // 2, shape.distances // 4
    far = behind.abs()
    grown = torch.log(far.clamp(min=1) / exact) / math.log(shape.farthest / exact) * (half - exact)
    number = torch.where(far < exact, far, (exact + grown.long()).clamp(max=half - 1))
    return number + half * (behind > 0)


def reader_from(safetensors: Path, labels: Sequence[int]) -> Net:
    """The network that ships, before it learns; its encoder has the weights of all-MiniLM-L6-v2, from a file
    in the safetensors format."""
    found = _read(safetensors)
    return _filled(Net(labels, READER), found, _OF_READER, {"turn.weight": _TURNS})


def guide_from(safetensors: Path, labels: Sequence[int]) -> Net:
    """The guide, before it learns; its encoder has the weights of all-mpnet-base-v2, from a file in the
    safetensors format, without a difference between turns."""
    found = _read(safetensors)
    net = Net(labels, GUIDE)
    number = torch.arange(net.word.weight.shape[0]) + _MOVED
    number[list(_MARKS)] = torch.tensor(list(_MARKS.values()))
    found[_WORDS], found[_PLACES] = found[_WORDS][number], found[_PLACES][_FIRST_PLACE:]
    nn.init.zeros_(net.turn.weight)
    return _filled(net, found, _OF_GUIDE, {"far.weight": _DISTANCES})


def _filled(net: Net, found: dict[str, Tensor], names: dict[str, str], more: dict[str, str]) -> Net:
    """The network with the weights found for its encoder; `names`: of the parts of a layer, `more`: of what
    only this encoder has."""
    parts = ("weight", "bias")
    renamed = {
        "word.weight": _WORDS,
        "place.weight": _PLACES,
        **{f"begin.{part}": f"embeddings.LayerNorm.{part}" for part in parts},
        **{
            f"layers.{n}.{mine}.{part}": f"encoder.layer.{n}.{theirs}.{part}"
            for n in range(net.shape.layers)
            for mine, theirs in names.items()
            for part in parts
        },
        **more,
    }
    net.load_state_dict(net.state_dict() | {mine: found[theirs] for mine, theirs in renamed.items()})
    return net


def _read(path: Path) -> dict[str, Tensor]:
    """The 32-bit tensors of a safetensors file: a JSON header with its length before it, then the numbers."""
    content = path.read_bytes()
    (length,) = struct.unpack("<Q", content[:8])
    header = json.loads(content[8 : 8 + length])
    return {
        name: torch.tensor(
            np.frombuffer(content, np.float32, offset=8 + length + entry["data_offsets"][0],
                          count=int(np.prod(entry["shape"]))).reshape(entry["shape"])
        )
        for name, entry in header.items()
        if name != "__metadata__" and entry["dtype"] == "F32"
    }  # fmt: skip

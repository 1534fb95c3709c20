"""The network of the second reader while it learns (PyTorch); `reader.py` runs what it learned.

An MPNet encoder (Song and others 2020, arXiv:2004.09297) with the shape and first weights of
all-mpnet-base-v2 (Apache 2.0), and one linear layer for each thing that is told apart.
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

from extract.second_reader.shape import ATTENTION_HEADS, DISTANCES, EPSILON, FARTHEST, PLACES, WIDTH

LAYERS, INNER = 12, 3072
SHORT = (0, 2, 4, 6, 8, 11)
"""Layers of a learned network that a shorter one begins with."""
_DROPPED = 0.1
_NAMES = {
    "query": "attention.attn.q", "key": "attention.attn.k", "value": "attention.attn.v",
    "out": "attention.attn.o", "first": "attention.LayerNorm",
    "up": "intermediate.dense", "down": "output.dense", "second": "output.LayerNorm",
}  # fmt: skip
_WORDS, _PLACES = "embeddings.word_embeddings.weight", "embeddings.position_embeddings.weight"
_MOVED, _MARKS = 4, {101: 0, 102: 2, 100: 3}
"""In the vocabulary of all-mpnet-base-v2 each piece has a number this much higher, and these three others."""
_FIRST_PLACE = 2


class Batch(NamedTuple):
    """Several utterances, filled up to one length; figures, sentences, violations by utterance and place."""

    ids: Tensor
    types: Tensor
    filled: Tensor
    figures: Tensor
    sentences: Tensor
    violations: Tensor


class Told(NamedTuple):
    """Logits: of each figure what it is for, its stage, and where its item begins and ends; of each sentence
    what it tells, and of which section; of each violation whether it was put right."""

    meant: Tensor
    stage: Tensor
    first: Tensor
    last: Tensor
    told: Tensor
    section: Tensor
    corrected: Tensor


class Layer(nn.Module):
    """Attention, then two dense layers, each with what went in added and normalised."""

    def __init__(self) -> None:
        super().__init__()
        self.query, self.key = nn.Linear(WIDTH, WIDTH), nn.Linear(WIDTH, WIDTH)
        self.value, self.out = nn.Linear(WIDTH, WIDTH), nn.Linear(WIDTH, WIDTH)
        self.up, self.down = nn.Linear(WIDTH, INNER), nn.Linear(INNER, WIDTH)
        self.first, self.second = nn.LayerNorm(WIDTH, EPSILON), nn.LayerNorm(WIDTH, EPSILON)
        self.drop = nn.Dropout(_DROPPED)

    def forward(self, x: Tensor, nearness: Tensor) -> Tensor:
        """Shapes: utterances × pieces × WIDTH, and utterances × ATTENTION_HEADS × pieces × pieces, how much
        more each piece looks at each."""
        many, long, _ = x.shape
        query, key, value = (
            each(x).view(many, long, ATTENTION_HEADS, -1).transpose(1, 2)
            for each in (self.query, self.key, self.value)
        )
        dropped = _DROPPED if self.training else 0.0
        nearness = nearness.to(query.dtype)
        mixed = functional.scaled_dot_product_attention(query, key, value, nearness, dropped)
        x = self.first(x + self.drop(self.out(mixed.transpose(1, 2).reshape(many, long, WIDTH))))
        out: Tensor = self.second(x + self.drop(self.down(functional.gelu(self.up(x)))))
        return out


class Net(nn.Module):
    """The whole network; `labels`: how many pieces, and labels of `meant`, stages, `told` and sections."""

    def __init__(self, labels: Sequence[int], layers: int = LAYERS) -> None:
        super().__init__()
        self.labels = tuple(labels)
        pieces, meant, stages, told, sections = labels
        self.word, self.place = nn.Embedding(pieces, WIDTH), nn.Embedding(PLACES, WIDTH)
        self.turn = nn.Embedding(2, WIDTH)
        self.begin = nn.LayerNorm(WIDTH, EPSILON)
        self.far = nn.Embedding(DISTANCES, ATTENTION_HEADS)
        self.layers = nn.ModuleList(Layer() for _ in range(layers))
        self.meant, self.stage = nn.Linear(2 * WIDTH, meant), nn.Linear(2 * WIDTH, stages)
        self.item_first, self.item_last = nn.Linear(2 * WIDTH, WIDTH), nn.Linear(2 * WIDTH, WIDTH)
        self.told, self.section = nn.Linear(WIDTH, told), nn.Linear(WIDTH, sections)
        self.corrected = nn.Linear(2 * WIDTH, 2)
        self.drop = nn.Dropout(_DROPPED)

    def encode(self, batch: Batch) -> Tensor:
        """A vector for each piece: utterances × pieces × WIDTH."""
        long = batch.ids.shape[1]
        x = self.drop(self.begin(self.word(batch.ids) + self.place.weight[:long] + self.turn(batch.types)))
        nearness = self.far(_distances(long, x.device)).permute(2, 0, 1)[None]
        nearness = nearness.masked_fill(~batch.filled[:, None, None, :], -1e4)
        for layer in self.layers:
            x = layer(x, nearness)
        return x

    def forward(self, batch: Batch, x: Tensor | None = None) -> Told:
        """Logits of all figures, sentences and violations of the batch, in its order; `x`: of `encode`."""
        x = self.encode(batch) if x is None else x
        which, at = batch.figures.T
        figure = self.drop(torch.cat([x[which, at], x[which, at + 1]], -1))
        empty = (~batch.filled[which]) * -1e4
        first, last = (
            (each(figure)[:, None] * x[which]).sum(-1) / WIDTH**0.5 + empty
            for each in (self.item_first, self.item_last)
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
            self.told(sentence),
            self.section(sentence),
            self.corrected(violation),
        )


def _distances(long: int, device: torch.device) -> Tensor:
    """The number of the distance from each piece to each: half of them for pieces before, half for those
    behind; of each half the first half is exact, the rest grow by a constant factor up to `FARTHEST`."""
    at = torch.arange(long, device=device)
    behind = at[None, :] - at[:, None]
    half, exact = DISTANCES // 2, DISTANCES // 4
    far = behind.abs()
    grown = torch.log(far.clamp(min=1) / exact) / math.log(FARTHEST / exact) * (half - exact)
    number = torch.where(far < exact, far, (exact + grown.long()).clamp(max=half - 1))
    return number + half * (behind > 0)


def shortened(net: Net) -> Net:
    """A network of fewer layers, with the weights of those in `SHORT`."""
    kept = net.state_dict()
    short = Net(net.labels, len(SHORT))
    renamed = {
        name: ".".join(["layers", str(SHORT[int(name.split(".")[1])]), *name.split(".")[2:]])
        if name.startswith("layers.")
        else name
        for name in short.state_dict()
    }
    short.load_state_dict({mine: kept[theirs] for mine, theirs in renamed.items()})
    return short


def started(labels: Sequence[int], safetensors: Path) -> Net:
    """A network whose encoder has the weights of all-mpnet-base-v2, from a file in the safetensors format."""
    net = Net(labels)
    found = _read(safetensors)
    number = torch.arange(net.word.weight.shape[0]) + _MOVED
    number[list(_MARKS)] = torch.tensor(list(_MARKS.values()))
    found[_WORDS], found[_PLACES] = found[_WORDS][number], found[_PLACES][_FIRST_PLACE:]
    renamed = {
        "word.weight": _WORDS,
        "place.weight": _PLACES,
        "far.weight": "encoder.relative_attention_bias.weight",
        **{f"begin.{part}": f"embeddings.LayerNorm.{part}" for part in ("weight", "bias")},
        **{
            f"layers.{n}.{mine}.{part}": f"encoder.layer.{n}.{theirs}.{part}"
            for n in range(LAYERS)
            for mine, theirs in _NAMES.items()
            for part in ("weight", "bias")
        },
    }
    own = net.state_dict()
    own["turn.weight"].zero_()
    net.load_state_dict(own | {mine: found[theirs] for mine, theirs in renamed.items()})
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

"""The network of the second reader while it learns (PyTorch); `reader.py` runs what it learned.

A BERT encoder (Devlin and others 2019, arXiv:1810.04805) with the shape and first weights of all-MiniLM-L6-v2
(Apache 2.0), and one linear layer for each thing that is told apart.
"""

from __future__ import annotations

import json
import struct
from pathlib import Path
from typing import NamedTuple

import numpy as np
import torch
from torch import Tensor, nn
from torch.nn import functional

WIDTH, HEADS, INNER, LAYERS = 384, 12, 1536, 6
SHORT = (0, 2, 5)
"""Layers of a learned network that a shorter one begins with."""
_DROPPED = 0.1
_EPSILON = 1e-12
_NAMES = {
    "query": "attention.self.query", "key": "attention.self.key", "value": "attention.self.value",
    "out": "attention.output.dense", "first": "attention.output.LayerNorm",
    "up": "intermediate.dense", "down": "output.dense", "second": "output.LayerNorm",
}  # fmt: skip


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
        self.first, self.second = nn.LayerNorm(WIDTH, _EPSILON), nn.LayerNorm(WIDTH, _EPSILON)
        self.drop = nn.Dropout(_DROPPED)

    def forward(self, x: Tensor, filled: Tensor) -> Tensor:
        """Shapes: utterances × pieces × WIDTH, and utterances × 1 × 1 × pieces."""
        many, long, _ = x.shape
        query, key, value = (
            each(x).view(many, long, HEADS, -1).transpose(1, 2) for each in (self.query, self.key, self.value)
        )
        dropped = _DROPPED if self.training else 0.0
        mixed = functional.scaled_dot_product_attention(query, key, value, filled, dropped)
        x = self.first(x + self.drop(self.out(mixed.transpose(1, 2).reshape(many, long, WIDTH))))
        out: Tensor = self.second(x + self.drop(self.down(functional.gelu(self.up(x)))))
        return out


class Net(nn.Module):
    """The whole network for `meant`, `stages`, `told` and `sections` labels."""

    def __init__(
        self, pieces: int, meant: int, stages: int, told: int, sections: int, layers: int = LAYERS
    ) -> None:
        super().__init__()
        self.word, self.place = nn.Embedding(pieces, WIDTH), nn.Embedding(512, WIDTH)
        self.turn = nn.Embedding(2, WIDTH)
        self.begin = nn.LayerNorm(WIDTH, _EPSILON)
        self.layers = nn.ModuleList(Layer() for _ in range(layers))
        self.meant, self.stage = nn.Linear(2 * WIDTH, meant), nn.Linear(2 * WIDTH, stages)
        self.item_first, self.item_last = nn.Linear(2 * WIDTH, WIDTH), nn.Linear(2 * WIDTH, WIDTH)
        self.told, self.section = nn.Linear(WIDTH, told), nn.Linear(WIDTH, sections)
        self.corrected = nn.Linear(2 * WIDTH, 2)
        self.drop = nn.Dropout(_DROPPED)

    def encode(self, batch: Batch) -> Tensor:
        """A vector for each piece: utterances × pieces × WIDTH."""
        places = self.place.weight[: batch.ids.shape[1]]
        x = self.drop(self.begin(self.word(batch.ids) + places + self.turn(batch.types)))
        filled = batch.filled[:, None, None, :]
        for layer in self.layers:
            x = layer(x, filled)
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


def shortened(net: Net) -> Net:
    """A network of fewer layers, with the weights of those in `SHORT`."""
    kept = net.state_dict()
    pieces, meant, stages, told, sections = (
        kept[f"{name}.weight"].shape[0] for name in ("word", "meant", "stage", "told", "section")
    )
    short = Net(pieces, meant, stages, told, sections, layers=len(SHORT))
    renamed = {
        name: ".".join(["layers", str(SHORT[int(name.split(".")[1])]), *name.split(".")[2:]])
        if name.startswith("layers.")
        else name
        for name in short.state_dict()
    }
    short.load_state_dict({mine: kept[theirs] for mine, theirs in renamed.items()})
    return short


def start_from(net: Net, safetensors: Path) -> None:
    """Gives the encoder the weights of a BERT model, from a file in the safetensors format."""
    found = _read(safetensors)
    own = net.state_dict()
    renamed = {
        "word.weight": "embeddings.word_embeddings.weight",
        "place.weight": "embeddings.position_embeddings.weight",
        "turn.weight": "embeddings.token_type_embeddings.weight",
        **{f"begin.{part}": f"embeddings.LayerNorm.{part}" for part in ("weight", "bias")},
        **{
            f"layers.{n}.{mine}.{part}": f"encoder.layer.{n}.{theirs}.{part}"
            for n in range(LAYERS)
            for mine, theirs in _NAMES.items()
            for part in ("weight", "bias")
        },
    }
    net.load_state_dict(own | {mine: found[theirs] for mine, theirs in renamed.items()})


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

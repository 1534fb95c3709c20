"""Makes what was learned ready to run: `python -m extract.teaching.packing LEARNED EXAMPLES`.

The encoder goes into CTranslate2's format with weights of seven bits, the layers on top of it into
`heads.npz`.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import numpy as np
from ctranslate2.converters.utils import fuse_linear
from ctranslate2.specs import common_spec, transformer_spec
from ctranslate2.specs.model_spec import NumpyVariable, visit_spec
from numpy.typing import NDArray

from extract.learned_from import OF_SECOND_READER, fingerprint
from extract.second_reader.labels import KINDS, MEANT, ON_TOP, STAGES, TOLD
from extract.second_reader.pieces import VOCABULARY, WEIGHTS
from extract.second_reader.reader import HEADS
from extract.second_reader.shape import ATTENTION_HEADS, READER

Weights = Mapping[str, NDArray[np.float32]]


def main() -> int:
    """Packs the weights of one file, learned from the examples of another."""
    learned, examples = map(Path, sys.argv[1:3])
    with np.load(learned) as kept:
        weights = {name: kept[name].astype(np.float32) for name in kept.files}
    with examples.open(encoding="utf-8") as lines:
        labels = json.loads(next(lines))
    made_for = tuple(tuple(labels[name]) for name in ("meant", "stages", "told", "kinds"))
    if made_for != (MEANT, STAGES, TOLD, KINDS):
        print(f"{examples}: was made for other labels; make it again", file=sys.stderr)
        return 1
    pack(weights, labels["sections"], WEIGHTS)
    print(f"{WEIGHTS}: {sum(path.stat().st_size for path in WEIGHTS.iterdir()) / 1e6:.0f} MB")
    return 0


def pack(weights: Weights, sections: list[str], folder: Path) -> None:
    """Writes the model and the layers on top of it."""
    spec = _encoder({name: each.copy() for name, each in weights.items()})  # packing rounds in place
    spec.register_vocabulary(json.loads(VOCABULARY.read_text(encoding="utf-8")))
    spec.config.unk_token = "[UNK]"
    spec.config.layer_norm_epsilon = READER.epsilon
    spec.validate()
    whole = _of_dense_layers(spec)
    spec.optimize(quantization="int8")
    visit_spec(spec, lambda layer, name, _: _narrow(layer, whole.get(name)))
    spec.save(str(folder))
    heads: dict[str, Any] = {
        f"{name}_{part}": weights[f"{name}.{part}"].astype(np.float16)
        for name in ON_TOP
        for part in ("weight", "bias")
    }
    np.savez_compressed(
        folder / HEADS.name,
        sections=np.array(sections),
        learned_from=np.array(fingerprint(OF_SECOND_READER)),
        **heads,
    )


def _encoder(weights: Weights) -> transformer_spec.TransformerEncoderModelSpec:
    layers = 1 + max(int(name.split(".")[1]) for name in weights if name.startswith("layers."))
    spec = transformer_spec.TransformerEncoderSpec(
        layers,
        ATTENTION_HEADS,
        pre_norm=False,
        activation=common_spec.Activation.GELU,
        layernorm_embedding=True,
        num_source_embeddings=2,
        embeddings_merge=common_spec.EmbeddingsMerge.ADD,
    )
    model = transformer_spec.TransformerEncoderModelSpec(spec)
    spec.scale_embeddings = False
    for place, name in enumerate(("word", "turn")):
        spec.embeddings[place].weight = weights[f"{name}.weight"]
    spec.position_encodings.encodings = weights["place.weight"]
    _norm(spec.layernorm_embedding, weights, "begin")
    for n, layer in enumerate(spec.layer):
        attention = layer.self_attention
        parts = [common_spec.LinearSpec() for _ in range(3)]
        for part, name in zip(parts, ("query", "key", "value"), strict=True):
            _linear(part, weights, f"layers.{n}.{name}")
        fuse_linear(attention.linear[0], parts)
        _linear(attention.linear[1], weights, f"layers.{n}.out")
        _norm(attention.layer_norm, weights, f"layers.{n}.first")
        _linear(layer.ffn.linear_0, weights, f"layers.{n}.up")
        _linear(layer.ffn.linear_1, weights, f"layers.{n}.down")
        _norm(layer.ffn.layer_norm, weights, f"layers.{n}.second")
    return model


_SEVEN_BITS = 63
"""Processors without 8-bit dot products add pairs of products of 8-bit numbers in 16 bits, and cut off what
does not fit. With weights up to this it always fits (2 x 255 x 63 < 2^15), so that all processors answer
alike."""


def _of_dense_layers(spec: transformer_spec.TransformerEncoderModelSpec) -> dict[str, NDArray[np.float32]]:
    """The weights of the dense layers, by their names in the model."""
    found = {}

    def keep(layer: object, name: str, value: Any) -> None:
        if isinstance(layer, common_spec.LinearSpec) and name.endswith("/weight"):
            found[name] = value.numpy().copy()

    visit_spec(spec, keep)
    return found


def _narrow(layer: Any, whole: NDArray[np.float32] | None) -> None:
    """Rounds the weights of a dense layer, each row by its own largest; `whole`: None for anything else."""
    if whole is not None:
        scale = _SEVEN_BITS / np.maximum(np.abs(whole).max(axis=1), np.float32(1e-12))
        layer.weight = NumpyVariable(np.rint(whole * scale[:, None]).astype(np.int8))
        layer.weight_scale = NumpyVariable(scale.astype(np.float32))


def _linear(spec: common_spec.LinearSpec, weights: Weights, name: str) -> None:
    spec.weight, spec.bias = weights[f"{name}.weight"], weights[f"{name}.bias"]


def _norm(spec: common_spec.LayerNormSpec, weights: Weights, name: str) -> None:
    spec.gamma, spec.beta = weights[f"{name}.weight"], weights[f"{name}.bias"]


if __name__ == "__main__":
    sys.exit(main())

"""The second reader itself: the network, packed to be run, and what it takes figures and sentences for.

What it learns from is in test_what_is_learned.py, what is made of its word in test_settling.py.
Wording: common practice, no source; sections: FDA Food Code 2022.
"""

from __future__ import annotations

import json
import math
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from extract.learned_from import OF_SECOND_READER, fingerprint
from extract.second_reader.labels import (
    KINDS,
    MEANT,
    STAGES,
    TOLD,
)
from extract.second_reader.pieces import VOCABULARY, Pieces, around, pieces
from extract.second_reader.reader import HEADS, SecondReader, UtteranceTold, second_reader, told_of
from extract.teaching import packing
from extract.words.text import Span
from shared.errors import InputError
from tests.extract.said import rules


def known(section: str) -> bool:
    """Whether the rules have it, or paragraphs of it."""
    return rules().provision(section) is not None or any(
        one.startswith(f"{section}(") for one in rules().provisions
    )


WIDTH, INNER, LAYERS, ATTENTION_HEADS = 48, 96, 2, 12
SECTIONS = ["3-501.16", "6-501.11"]
EIGHT_BITS = 0.08
"""By how much shares may differ for the sake of 8-bit numbers; 0.061 was measured."""


def tiny_weights() -> dict[str, NDArray[np.float32]]:
    """Random weights of a small network of the right shape, the same ones each time."""
    chance = np.random.default_rng(1)

    def some(*shape: int, size: float = 0.1) -> NDArray[np.float32]:
        return chance.normal(0, size, shape).astype(np.float32)

    pieces_known = len(json.loads(VOCABULARY.read_text(encoding="utf-8")))
    made = {"word.weight": some(pieces_known, WIDTH), "place.weight": some(512, WIDTH)}
    made |= {"turn.weight": some(2, WIDTH), "begin.weight": 1 + some(WIDTH), "begin.bias": some(WIDTH)}
    dense = dict.fromkeys(("query", "key", "value", "out"), (WIDTH, WIDTH))
    dense |= {"up": (INNER, WIDTH), "down": (WIDTH, INNER)}
    shapes = {f"layers.{n}.{name}": shape for n in range(LAYERS) for name, shape in dense.items()}
    shapes |= {"meant": (len(MEANT), 2 * WIDTH), "stage": (len(STAGES), 2 * WIDTH)}
    ends = ("item_first", "item_last", "place_first", "place_last")
    shapes |= {"violates": (2, 2 * WIDTH), "misheard": (2, WIDTH), **dict.fromkeys(ends, (WIDTH, 2 * WIDTH))}
    shapes |= {"told": (len(TOLD), WIDTH), "section": (len(SECTIONS), WIDTH), "corrected": (2, 2 * WIDTH)}
    shapes |= {"kind": (len(KINDS), 2 * WIDTH)}
    for name, shape in shapes.items():
        size = 0.2 if name.endswith(("query", "key")) else 0.1  # so that attention is not even
        made |= {f"{name}.weight": some(*shape, size=size), f"{name}.bias": some(shape[0])}
    for n in range(LAYERS):
        for name in ("first", "second"):
            made |= {f"layers.{n}.{name}.weight": 1 + some(WIDTH), f"layers.{n}.{name}.bias": some(WIDTH)}
    return made


@pytest.fixture(scope="module")
def packed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("packed")
    packing.pack(tiny_weights(), SECTIONS, folder)
    return folder


def soft(x: NDArray[np.float32]) -> NDArray[np.float32]:
    made = np.exp(x - x.max(-1, keepdims=True))
    return made / made.sum(-1, keepdims=True)


def bert(cut: Pieces, weights: dict[str, NDArray[np.float32]]) -> NDArray[np.float32]:
    """The encoder as Devlin and others 2019 (arXiv:1810.04805) and Vaswani and others 2017 (arXiv:1706.03762)
    write it, each layer normalised after what goes in is added."""

    def dense(x: NDArray[np.float32], name: str) -> NDArray[np.float32]:
        return x @ weights[f"{name}.weight"].T + weights[f"{name}.bias"]

    def normal(x: NDArray[np.float32], name: str) -> NDArray[np.float32]:
        even = (x - x.mean(-1, keepdims=True)) / np.sqrt(x.var(-1, keepdims=True) + 1e-12)
        return even * weights[f"{name}.weight"] + weights[f"{name}.bias"]

    long = len(cut.ids)
    x = weights["word.weight"][cut.ids] + weights["place.weight"][:long] + weights["turn.weight"][cut.types]
    x = normal(x, "begin")
    for n in range(LAYERS):
        query, key, value = (
            dense(x, f"layers.{n}.{name}").reshape(long, ATTENTION_HEADS, -1).transpose(1, 0, 2)
            for name in ("query", "key", "value")
        )
        share = soft(query @ key.transpose(0, 2, 1) / np.sqrt(WIDTH / ATTENTION_HEADS))
        mixed = (share @ value).transpose(1, 0, 2).reshape(long, WIDTH)
        x = normal(x + dense(mixed, f"layers.{n}.out"), f"layers.{n}.first")
        up = dense(x, f"layers.{n}.up")
        bent = up * (1 + np.vectorize(math.erf)(up / math.sqrt(2))) / 2
        x = normal(x + dense(bent, f"layers.{n}.down"), f"layers.{n}.second")
    return x


HAM, FIGURES, SENTENCES = "Ham 39 in the walk-in.", [(4, 6)], [(0, 22)]


def test_the_packed_network_says_what_its_formulas_say(packed: Path) -> None:
    """Within what 8-bit numbers leave of the shares; the formulas are worked out beside it."""
    weights, cut = tiny_weights(), pieces(HAM, ("Slaw 38.",), FIGURES, SENTENCES)
    found = SecondReader(packed).reads(HAM, ("Slaw 38.",), FIGURES, SENTENCES)
    (figure,), (sentence,) = found.figures, found.sentences
    assert figure is not None and sentence is not None
    vectors = bert(cut, weights)
    at, begin = cut.figures[0], cut.sentences[0]
    assert at is not None and begin is not None
    beside = np.concatenate([vectors[at], vectors[at + 1]])

    def shares(name: str, vector: NDArray[np.float32]) -> list[float]:
        return soft(weights[f"{name}.weight"] @ vector + weights[f"{name}.bias"]).tolist()

    assert list(figure.meant.values()) == pytest.approx(shares("meant", beside), abs=EIGHT_BITS)
    assert list(figure.kinds.values()) == pytest.approx(shares("kind", beside), abs=EIGHT_BITS)
    assert list(figure.stages.values()) == pytest.approx(shares("stage", beside), abs=EIGHT_BITS)
    assert figure.violates == pytest.approx(shares("violates", beside)[1], abs=EIGHT_BITS)
    assert list(sentence.told.values()) == pytest.approx(shares("told", vectors[begin]), abs=EIGHT_BITS)
    assert [sentence.sections[section] for section in SECTIONS] == pytest.approx(
        shares("section", vectors[begin]), abs=EIGHT_BITS
    )
    for thing, sure in (("item", figure.item_sure), ("place", figure.place_sure)):
        first, last = (
            soft(vectors @ (weights[f"{name}.weight"] @ beside + weights[f"{name}.bias"]) / math.sqrt(WIDTH))
            for name in (f"{thing}_first", f"{thing}_last")
        )
        runs = [
            first[start] * last[end]
            for start, piece in enumerate(cut.stands)
            for end, final in enumerate(cut.stands[start : start + 9], start=start)
            if piece is not None and final is not None and piece.back == final.back
        ]
        assert sure == pytest.approx(max(first[0] * last[0], *runs), rel=0.15)


def test_the_packed_network_says_of_each_word_how_likely_it_is_printed_for_another(packed: Path) -> None:
    """A word of several pieces has the largest of their shares; small shares are not told."""
    said = "Gnocchi by metal."
    weights, cut = tiny_weights(), pieces(said, ("Slaw 38.",), (), [(0, 17)])
    found = dict(SecondReader(packed).reads(said, ("Slaw 38.",), (), [(0, 17)]).words)
    vectors = bert(cut, weights)
    wanted: dict[int, float] = {}
    for vector, piece in zip(vectors, cut.stands, strict=True):
        if piece is not None and not piece.back:
            share = soft(weights["misheard.weight"] @ vector + weights["misheard.bias"])[1]
            word = max(start for start in (0, 8, 11, 16) if start <= piece.span[0])
            wanted[word] = max(share, wanted.get(word, 0.0))
    assert found == {
        (0, 7): pytest.approx(wanted[0], abs=EIGHT_BITS),
        (8, 10): pytest.approx(wanted[8], abs=EIGHT_BITS),
        (11, 16): pytest.approx(wanted[11], abs=EIGHT_BITS),
        (16, 17): pytest.approx(wanted[16], abs=EIGHT_BITS),
    }


def test_the_packed_network_says_of_a_violation_what_its_formulas_say(packed: Path) -> None:
    said, before, after = "No soap here.", ("Slaw 38.",), ("He filled it.", "Ham 39.")
    cut, weights = around(said, (0, 7), before, after), tiny_weights()
    vectors = bert(Pieces(cut.ids, cut.types, [], [], []), weights)
    beside = np.concatenate([vectors[cut.begins], vectors[cut.ends]])
    wanted = soft(weights["corrected.weight"] @ beside + weights["corrected.bias"])[1]
    assert SecondReader(packed).put_right(said, (0, 7), before, after) == pytest.approx(
        wanted, abs=EIGHT_BITS
    )


def test_packed_weights_tell_their_sections_and_what_they_were_learned_from(packed: Path) -> None:
    reader = SecondReader(packed)
    assert (list(reader.sections), reader.learned_from) == (SECTIONS, fingerprint(OF_SECOND_READER))


@pytest.fixture
def learned(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., int]:
    """Packs the tiny weights, learned from examples of these labels, into a folder of our own."""
    np.savez(tmp_path / "learned.npz", **tiny_weights())
    (tmp_path / "weights").mkdir()
    monkeypatch.setattr(packing, "WEIGHTS", tmp_path / "weights")

    def packs(**labels: object) -> int:
        given = {"meant": MEANT, "stages": STAGES, "told": TOLD, "kinds": KINDS, "sections": SECTIONS}
        given |= labels
        (tmp_path / "examples.jsonl").write_text(json.dumps(given) + "\n", encoding="utf-8")
        monkeypatch.setattr(
            "sys.argv", ["packing", str(tmp_path / "learned.npz"), str(tmp_path / "examples.jsonl")]
        )
        return packing.main()

    return packs


def test_learned_weights_are_packed_from_their_file(learned: Callable[..., int], tmp_path: Path) -> None:
    assert learned() == 0
    assert list(SecondReader(tmp_path / "weights").sections) == SECTIONS


@pytest.mark.parametrize(
    "labels", [{"meant": MEANT[::-1]}, {"stages": STAGES[::-1]}, {"told": TOLD[:-1]}, {"kinds": KINDS[1:]}]
)
def test_weights_of_labels_in_another_order_are_refused(
    learned: Callable[..., int], labels: dict[str, object], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert learned(**labels) == 1
    assert "examples.jsonl: was made for other labels; make it again" in capsys.readouterr().err
    assert not list((tmp_path / "weights").iterdir())


def no_folder(folder: Path) -> None:
    shutil.rmtree(folder)


def no_model(folder: Path) -> None:
    (folder / "model.bin").unlink()


def half_a_model(folder: Path) -> None:
    content = (folder / "model.bin").read_bytes()
    (folder / "model.bin").write_bytes(content[: len(content) // 2])


def no_heads(folder: Path) -> None:
    (folder / HEADS.name).unlink()


def other_heads(folder: Path) -> None:
    (folder / HEADS.name).write_bytes(b"not weights")


def half_of_the_heads(folder: Path) -> None:
    content = (folder / HEADS.name).read_bytes()
    (folder / HEADS.name).write_bytes(content[: len(content) // 2])


def empty_heads(folder: Path) -> None:
    (folder / HEADS.name).write_bytes(b"")


def heads_without_sections(folder: Path) -> None:
    np.savez(folder / HEADS.name, learned_from=np.array(""))


@pytest.mark.parametrize(
    "harm",
    [
        no_folder,
        no_model,
        half_a_model,
        no_heads,
        other_heads,
        half_of_the_heads,
        empty_heads,
        heads_without_sections,
    ],
)
def test_missing_or_damaged_weights_are_named_with_what_to_do(
    packed: Path, tmp_path: Path, harm: Callable[[Path], None]
) -> None:
    folder = shutil.copytree(packed, tmp_path / "weights")
    harm(folder)
    with pytest.raises(InputError, match=f"{folder}: .*run make weights"):
        SecondReader(folder)


def test_the_weights_belong_to_the_files_that_ship() -> None:
    """After a change of the files, `make weights` must be run. tests/likeness asks the same of its own."""
    assert second_reader().learned_from == fingerprint(OF_SECOND_READER)


def test_all_sections_that_it_tells_are_known_to_the_rules() -> None:
    assert [section for section in second_reader().sections if not known(section)] == []


TALK = "Soup 141, ham 39. No soap at the hand sink."


def told(text: str, figures: list[Span], sentences: list[Span]) -> UtteranceTold:
    return told_of(text, ("Walk-in.",), tuple(figures), tuple(sentences))


def test_shares_are_of_one_whole() -> None:
    found = told(TALK, [(5, 8), (14, 16)], [(0, 17), (18, 43)])
    for figure in found.figures:
        assert figure is not None
        assert sum(figure.meant.values()) == pytest.approx(1, abs=1e-5)
        assert sum(figure.stages.values()) == pytest.approx(1, abs=1e-5)
        assert 0 <= figure.item_sure <= 1
    for sentence in found.sentences:
        assert sentence is not None
        assert sum(sentence.told.values()) == pytest.approx(1, abs=1e-5)
        assert len(sentence.sections) == 5
        assert 0 < sum(sentence.sections.values()) <= 1 + 1e-5


def test_asked_twice_it_answers_the_same(packed: Path) -> None:
    for reader in (SecondReader(packed), second_reader()):
        first, second = (reader.reads(HAM, ("Slaw 38.",), FIGURES, SENTENCES) for _ in range(2))
        assert first == second


def test_nothing_asked_is_nothing_told() -> None:
    assert told("Ham.", [], []) == UtteranceTold((), ())


def test_of_what_is_cut_off_it_says_nothing() -> None:
    text = "Soup 150. " * 100
    found = told(text, [(5, 8), (995, 998)], [(0, 9), (990, 999)])
    assert found.figures[0] is not None and found.sentences[0] is not None
    assert found.figures[1] is None and found.sentences[1] is None


def test_it_tells_figures_stages_items_and_sentences_apart() -> None:
    """Plain talk; no soap at a hand sink is 6-301.11 (FDA Food Code 2022)."""
    text = "Soup 141 on the steam table, the rule is 135. No soap at the hand sink."
    found = told(text, [(5, 8), (41, 44)], [(0, 45), (46, 71)])
    (measured, limit), (fine, broken) = found.figures, found.sentences
    assert measured is not None and limit is not None and fine is not None and broken is not None
    assert measured.meant["r"] > 0.5 and limit.meant["l"] > 0.5
    assert measured.stages["hot_holding"] > 0.5
    assert measured.item is not None and text[slice(*measured.item.span)] == "Soup"
    assert broken.told["violation"] > 0.5 > fine.told["violation"]
    assert max(broken.sections, key=broken.sections.__getitem__) == "6-301.11"


_ASKED = """
import json
from extract.second_reader.reader import second_reader
text = "Salsa verde 60, that's acid enough. Pork shoulder 168 now, ham 38, no soap at the hand sink."
told = second_reader().reads(text, (), ((12, 14), (50, 53), (63, 65)), ((0, 34), (36, 93)))
print(json.dumps([[*each.meant.values(), *each.stages.values()] for each in told.figures]))
"""


def test_it_answers_alike_on_processors_without_8_bit_dot_products() -> None:
    """MKL, which computes for Intel's processors, is told to do without them; others have no such choice."""
    one, other = (
        json.loads(
            subprocess.run(
                [sys.executable, "-c", _ASKED],
                capture_output=True,
                text=True,
                check=True,
                env=os.environ | more,
            ).stdout
        )
        for more in ({}, {"MKL_ENABLE_INSTRUCTIONS": "AVX2"})
    )
    assert np.array(one) == pytest.approx(np.array(other), abs=0.02)

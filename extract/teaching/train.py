"""Teaches the second reader: `python -m extract.teaching.train EXAMPLES GUIDE READER OUT`.

Needs PyTorch; takes half an hour with a GPU, and days without. EXAMPLES: what `examples.py` wrote; GUIDE and
READER: `model.safetensors` of all-mpnet-base-v2 and of all-MiniLM-L6-v2; OUT: a folder, for the learned
weights as 16-bit numbers, which `packing.py` makes ready to run, and for what readers taught by one half of
the hands take the other half's sentences for, which `train_likeness.py` weighs. How well these do is
told.
"""

from __future__ import annotations

import json
import random
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import torch
from numpy.typing import NDArray
from torch import Tensor, nn
from torch.nn import functional
from torch.nn.utils import clip_grad_norm_

from extract.second_reader.labels import NO_VIOLATION, NOT_MEASURED, NOT_PUT_RIGHT, ON_TOP, UNKNOWN
from extract.teaching.net import Batch, Net, Told, guide_from, reader_from

LEARNED, UNSEEN = "learned.npz", "unseen.jsonl"
_LIKELIEST = 5
_LOOKED_AT = 20
"""Each so many steps the loss is looked at."""
_ROUNDS, _ROUNDS_AFTER, _AT_ONCE, _SEED = 5, 14, 192, 1
_RATE, _RATE_AFTER = 1.5e-4, 4e-4
_HEADS_FASTER, _WARM = 5.0, 0.06
_SAYINGS = "sayings"
_SMOOTH = 0.05
_HIDDEN, _HIDDEN_AS, _FIRST_WORD = 0.08, 103, 1000
"""Share of the words that the reader must do without while it learns, the number of the piece that stands in
their place, and the lowest number of a word or a part of one."""
_ITEM = 0.7
"""How much a mistake about an item counts, against one about the stage."""
_WORDS = 3.0
"""How much a mistake about misprinted words counts: most words are not, so that it is small on the whole."""
_KIND = 0.5
"""How much a mistake about the kind counts: words tell most of them."""
_PIECES = 30522
_PLACES = {"figures": 1, "sentences": 1, "violations": 2}
"""How many numbers of each say where it stands; labels follow."""
_LABELS = {"figures": 8, "sentences": 2, "violations": 1}

Example = dict[str, Any]


def main() -> int:
    """Learns from each half of the hands and tells how well it reads the other half, then from all."""
    examples, guide, reader, out = map(Path, sys.argv[1:5])
    labels, made = load(examples)
    first = guide, reader
    device = "cuda" if torch.cuda.is_available() else "cpu"
    hands = sorted({one["source"] for one in made} - {_SAYINGS})
    with (out / UNSEEN).open("w", encoding="utf-8") as lines:
        for held in (set(hands[::2]), set(hands[1::2])):
            net = learn([one for one in made if one["source"] not in held], labels, first, device)
            others = [one for one in made if one["source"] in held]
            report(net, others, device)
            for told in unseen(net, others, labels["sections"], device):
                lines.write(json.dumps(told) + "\n")
    net = learn(made, labels, first, device)
    np.savez(out / LEARNED, **{name: value.half().cpu().numpy() for name, value in net.state_dict().items()})
    return 0


def load(path: Path) -> tuple[dict[str, list[str]], list[Example]]:
    """The labels, and the examples that have any."""
    with path.open(encoding="utf-8") as lines:
        labels = json.loads(next(lines))
        made = [{"n": n} | json.loads(line) for n, line in enumerate(lines)]
    return labels, [
        _as_arrays(one)
        for one in made
        if one["figures"] or one["sentences"] or one["violations"] or one["misheard"]
    ]


def _as_arrays(one: Example) -> Example:
    """The example with its numbers as arrays, and with `words`: which of its pieces are the utterance's own,
    and of each 1 where it is printed for another word, 0 where not."""
    words = np.full(len(one["ids"]), 0 if one["misheard"] is not None else UNKNOWN, np.int64)
    for first, last in one["misheard"] or ():
        words[first : last + 1] = 1
    (own,) = np.nonzero(np.array(one["types"]) == 1)
    arrays = {
        name: np.array(one[name], np.int64).reshape(-1, size + _LABELS[name])
        for name, size in _PLACES.items()
    }
    return one | arrays | {
        "ids": np.array(one["ids"], np.int32),
        "types": np.array(one["types"], np.int8),
        "words": np.stack([own, words[own]], -1),
    }  # fmt: skip


def learn(
    examples: Sequence[Example], labels: dict[str, list[str]], first: tuple[Path, Path], device: str
) -> Net:
    """The network that ships, taught from the examples and by what a larger guide answers that learned from
    them; `first`: the weights that the two begin with."""
    many = [_PIECES, *(len(labels[name]) for name in ("meant", "stages", "told", "sections", "kinds"))]
    of_guide, of_reader = first
    guide = _taught(guide_from(of_guide, many).to(device), examples, device, _RATE, _ROUNDS)
    return _taught(
        reader_from(of_reader, many).to(device), examples, device, _RATE_AFTER, _ROUNDS_AFTER, guide
    )


def _taught(
    net: Net,
    examples: Sequence[Example],
    device: str,
    rate: float,
    many_rounds: int,
    guide: Net | None = None,
) -> Net:
    """The network after all rounds; `guide`: one whose answers it shall give too."""
    torch.manual_seed(_SEED)
    chance = random.Random(_SEED)
    net.train()
    heads = [each for name, each in net.named_parameters() if name.split(".")[0] in ON_TOP]
    body = [each for name, each in net.named_parameters() if name.split(".")[0] not in ON_TOP]
    toward = nn.Linear(net.shape.width, (guide or net).shape.width).to(device)
    if guide is not None:
        heads += toward.parameters()
    rates = (rate, rate * _HEADS_FASTER)
    steps = torch.optim.AdamW(
        [{"params": body}, {"params": heads}], lr=rate, weight_decay=0.01, fused=device == "cuda"
    )
    rounds = [list(_round(examples, chance)) for _ in range(many_rounds)]
    total, done = sum(map(len, rounds)), 0
    for number, batches in enumerate(rounds, start=1):
        looked: list[float] = []
        for batch in batches:
            speed = min(1.0, done / (_WARM * total)) * max(0.02, 1 - done / total)
            for group, full in zip(steps.param_groups, rates, strict=True):
                group["lr"] = full * speed
            with torch.autocast(device, torch.bfloat16, enabled=device == "cuda"):
                ready = tensors(batch, device) if guide is None else _hidden(tensors(batch, device))
                x = net.encode(ready)
                told = net(ready, x)
                loss = loss_of(Told(*(each.float() for each in told)), batch)
                if guide is not None:
                    loss = loss + _unlike(x, told, ready, guide, toward)
            steps.zero_grad(set_to_none=True)
            loss.backward()
            clip_grad_norm_(net.parameters(), 1.0)
            steps.step()
            if done % _LOOKED_AT == 0:
                looked.append(float(loss.detach()))
            done += 1
        mean = sum(looked) / max(1, len(looked))
        print(f"round {number} of {many_rounds}: loss {mean:.3f}", file=sys.stderr, flush=True)
    return net.eval()


def _hidden(batch: Batch) -> Batch:
    """With some of its words hidden, so that those around them are learned from."""
    gone = (torch.rand(batch.ids.shape, device=batch.ids.device) < _HIDDEN) & (batch.ids >= _FIRST_WORD)
    return batch._replace(ids=batch.ids.masked_fill(gone, _HIDDEN_AS))


def _unlike(x: Tensor, told: Told, batch: Batch, guide: Net, toward: nn.Linear) -> Tensor:
    """How far shares are from the guide's, and vectors, turned `toward` the guide's, from these."""
    with torch.no_grad():
        vectors = guide.encode(batch)
        wanted = guide(batch, vectors)
    away = (toward(x) - vectors).float().square().mean(-1)
    lost = (away * batch.filled).sum() / batch.filled.sum() / vectors.float().var()
    for name, mine, other in zip(Told._fields, told, wanted, strict=True):
        if len(mine):
            shares = functional.softmax(other.float(), -1)
            unlike = functional.kl_div(
                functional.log_softmax(mine.float(), -1), shares, reduction="batchmean"
            )
            lost = lost + unlike * (_WORDS if name == "misheard" else 1.0)
    return lost


def _round(examples: Sequence[Example], chance: random.Random) -> Iterator[list[Example]]:
    """The batches of one round, each of utterances of about one length."""
    taken = [one for one in examples for _ in range(int(one["times"]) + (chance.random() < one["times"] % 1))]
    chance.shuffle(taken)
    near = _AT_ONCE * 20
    batches = []
    for start in range(0, len(taken), near):
        part = sorted(taken[start : start + near], key=lambda one: len(one["ids"]))
        batches += [part[at : at + _AT_ONCE] for at in range(0, len(part), _AT_ONCE)]
    chance.shuffle(batches)
    yield from batches


def tensors(batch: Sequence[Example], device: str) -> Batch:
    """A batch as the network gets it."""
    long = max(len(one["ids"]) for one in batch)
    ids, types = np.zeros((len(batch), long), np.int64), np.zeros((len(batch), long), np.int64)
    filled = np.zeros((len(batch), long), np.bool_)
    for n, one in enumerate(batch):
        size = len(one["ids"])
        ids[n, :size], types[n, :size], filled[n, :size] = one["ids"], one["types"], True
    places = [_places(batch, name, size) for name, size in (*_PLACES.items(), ("words", 1))]
    return Batch(*(_sent(each, device) for each in (ids, types, filled, *places)))


def _places(batch: Sequence[Example], name: str, size: int) -> NDArray[np.int64]:
    """Of all that is marked under a name: which utterance it is in, and where it stands there."""
    which = np.repeat(np.arange(len(batch)), [len(one[name]) for one in batch])
    return np.concatenate([which[:, None], np.concatenate([one[name][:, :size] for one in batch])], -1)


def _sent(numbers: NDArray[Any], device: str) -> Tensor:
    """On the device; nothing waits until they are there."""
    made = torch.from_numpy(numbers)
    return made.pin_memory().to(device, non_blocking=True) if device == "cuda" else made


def loss_of(told: Told, batch: Sequence[Example]) -> Tensor:
    """What is wrong with the logits, all parts together."""
    figure, sentence, violation = (_labels(batch, name) for name in _PLACES)
    meant, stage, first, last, violates, place_first, place_last, kind = figure.T
    tells, section = sentence.T
    lost = _known(told.corrected, violation[:, 0], _SMOOTH)
    lost = lost + _known(told.meant, meant, _SMOOTH) + _known(told.stage, stage, _SMOOTH)
    lost = lost + _ITEM * (_known(told.first, first) + _known(told.last, last))
    lost = lost + _ITEM * (_known(told.place_first, place_first) + _known(told.place_last, place_last))
    lost = lost + _WORDS * _known(told.misheard, _words(batch)) + _KIND * _known(told.kind, kind, _SMOOTH)
    lost = lost + _known(told.violates, violates, _SMOOTH)
    lost = lost + _known(told.told, tells, _SMOOTH) + _known(told.section, section, _SMOOTH)
    lost = lost + 0.5 * _not(told.meant, meant == NOT_MEASURED, [0])
    return (
        lost + _not(told.told, tells == NO_VIOLATION, [0]) + _not(told.told, tells == NOT_PUT_RIGHT, [3, 4])
    )


def _words(batch: Sequence[Example]) -> Tensor:
    """Of each piece of the utterances themselves whether it is printed for another word."""
    return torch.from_numpy(np.concatenate([one["words"][:, 1] for one in batch]))


def _labels(batch: Sequence[Example], name: str) -> Tensor:
    """The labels of all that is marked under a name; they stay in main memory, so that choosing among them
    waits for no other device."""
    return torch.from_numpy(np.concatenate([one[name][:, _PLACES[name] :] for one in batch]))


def _known(logits: Tensor, label: Tensor, smooth: float = 0.0) -> Tensor:
    known = (label >= 0).nonzero()[:, 0]
    if not len(known):
        return logits.sum() * 0
    rows, wanted = logits[known.to(logits.device)], label[known].to(logits.device)
    return functional.cross_entropy(rows, wanted, label_smoothing=smooth)


def _not(logits: Tensor, which: Tensor, labels: list[int]) -> Tensor:
    """The loss of figures or sentences of which only is known what they are not."""
    rows = which.nonzero()[:, 0]
    if not len(rows):
        return logits.sum() * 0
    share = functional.softmax(logits[rows.to(logits.device)], -1)[:, labels].sum(-1)
    return -torch.log1p(-share.clamp(max=0.999)).mean()


@torch.no_grad()
def unseen(
    net: Net, examples: Sequence[Example], sections: list[str], device: str
) -> Iterator[dict[str, Any]]:
    """Of each example the shares that its sentences are given: of what they tell, and of the likeliest
    sections; and those that its violations are given of having been put right."""
    examples = [one for one in examples if "copy" not in one]
    for start in range(0, len(examples), _AT_ONCE):
        batch = examples[start : start + _AT_ONCE]
        told = net(tensors(batch, device))
        tells = functional.softmax(told.told.float(), -1).tolist()
        shares, likeliest = functional.softmax(told.section.float(), -1).topk(_LIKELIEST)
        rows = zip(tells, shares.tolist(), likeliest.tolist(), strict=True)
        corrected = iter(functional.softmax(told.corrected.float(), -1)[:, 1].tolist())
        for one in batch:
            given = []
            for _ in one["sentences"]:
                tell, share, which = next(rows)
                given.append((tell, {sections[n]: s for n, s in zip(which, share, strict=True)}))
            mended = [next(corrected) for _ in one["violations"]]
            yield {"n": one["n"], "sentences": given, "violations": mended}


_SHARES = (0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 0.98)


@torch.no_grad()
def _report_words(net: Net, misprinted: Sequence[Example], clean: Sequence[Example], device: str) -> None:
    """Prints, by the share asked for, how many misprinted words are found, and in how many of 100 rightly
    printed utterances a word is taken for misprinted."""
    found: dict[float, list[bool]] = {share: [] for share in _SHARES}
    alarms: dict[float, list[bool]] = {share: [] for share in _SHARES}
    for examples in (misprinted, [one for one in clean if one["misheard"] == []]):
        for start in range(0, len(examples), _AT_ONCE):
            batch = examples[start : start + _AT_ONCE]
            shares = functional.softmax(net(tensors(batch, device)).misheard.float(), -1)[:, 1].cpu().numpy()
            done = 0
            for one in batch:
                own = one["words"][:, 0]
                here = np.zeros(len(one["ids"]))
                here[own] = shares[done : done + len(own)]
                done += len(own)
                for share in _SHARES:
                    for first, last in one["misheard"]:
                        found[share].append(bool(here[first : last + 1].max() >= share))
                    if not one["misheard"] and "copy" not in one:
                        alarms[share].append(bool(here.max() >= share))
    for share in _SHARES:
        print(
            f"  misprinted, share {share}: {np.mean(found[share]):.3f} found, "
            f"{100 * np.mean(alarms[share]):.2f} of 100 clean utterances doubted",
            file=sys.stderr,
        )


def _kinds_right(net: Net, examples: Sequence[Example], device: str) -> Iterator[bool]:
    for start in range(0, len(examples), _AT_ONCE):
        batch = examples[start : start + _AT_ONCE]
        told, kind = net(tensors(batch, device)).kind.argmax(-1).cpu(), _labels(batch, "figures")[:, -1]
        yield from (told == kind)[kind >= 0].tolist()


@torch.no_grad()
def report(net: Net, examples: Sequence[Example], device: str) -> None:
    """Prints how much is right of examples that it was not taught."""
    right: dict[str, list[bool]] = {}
    misprinted = [one for one in examples if "copy" in one]
    examples = [one for one in examples if "copy" not in one]
    _report_words(net, misprinted, examples, device)
    right["kind, most units unsaid"] = list(_kinds_right(net, misprinted, device))
    for start in range(0, len(examples), _AT_ONCE):
        batch = examples[start : start + _AT_ONCE]
        told = Told(*(each.argmax(-1).cpu() for each in net(tensors(batch, device))))
        meant, stage, first, last, violates, place_first, place_last, _ = _labels(batch, "figures").T
        tells, section = _labels(batch, "sentences").T
        measured = (told.meant == 0) == (meant == 0)
        right.setdefault("measured or not", []).extend(measured[meant != UNKNOWN].tolist())
        right.setdefault("stage", []).extend((told.stage == stage)[stage >= 0].tolist())
        item = (told.first <= last) & (first <= told.last) & ((told.first == 0) == (first == 0))
        right.setdefault("item", []).extend(item[first >= 0].tolist())
        place = (told.place_first <= place_last) & (place_first <= told.place_last)
        place &= (told.place_first == 0) == (place_first == 0)
        right.setdefault("place", []).extend(place[place_first >= 0].tolist())
        shows = (told.violates == violates)[violates >= 0]
        right.setdefault("shows a violation or not", []).extend(shows.tolist())
        violation = (told.told == 0) == (tells == 0)
        right.setdefault("violation or not", []).extend(violation[tells != NOT_PUT_RIGHT].tolist())
        right.setdefault("section", []).extend(
            (told.section == section)[(section >= 0) & (tells == 0)].tolist()
        )
        mended = told.corrected == _labels(batch, "violations")[:, 0]
        right.setdefault("put right or not", []).extend(mended.tolist())
    for name, each in right.items():
        print(f"  {name:<24} {sum(each) / max(1, len(each)):.3f} of {len(each)}", file=sys.stderr)


if __name__ == "__main__":
    sys.exit(main())

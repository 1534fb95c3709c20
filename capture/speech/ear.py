"""How windows of a block are heard: together in batches, or a stretch alone."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from itertools import groupby

from capture.audio import Samples, levelled
from capture.speech import cleaning
from capture.speech.decode import Encoded, Heard, Window, short_frames, window
from capture.speech.model import SpeechModel
from capture.voice import Block
from shared.types import Removed, Stretch, Word

_BEGIN_BEFORE_S = (0.2, 0.4)

Piece = tuple[Stretch, Samples]


@dataclass(frozen=True, slots=True)
class Second:
    """How a stretch that holds numbers is heard once more."""

    model: SpeechModel
    speed: float = 1.0
    """How fast the sound is played: another view of the same seconds."""


@dataclass(frozen=True, slots=True)
class Ear:
    """All that hearing needs besides the sound."""

    model: SpeechModel
    bias: str
    """Words to expect."""
    known: tuple[str, ...]
    """Words of the trade and of the place that may be mended into."""
    seconds: tuple[Second, ...]


def take(heard: Heard, where: Window, words: dict[Stretch, Sequence[Word]], removed: list[Removed]) -> None:
    """Gives each stretch of the window its words, or logs why they are not believed."""
    if not heard.words:
        return
    why = cleaning.objection(heard)
    if why:
        removed.append(Removed(heard.text, where.stretches[0].start, where.stretches[-1].end, why))
        return
    rows = [[word for word in heard.words if one.start <= word.start < one.end] for one in where.stretches]
    for row, after, stretch in zip(rows, rows[1:], where.stretches[1:], strict=False):
        _give_back(row, after, stretch)
    for row, stretch in zip(rows, where.stretches, strict=True):
        if guess := cleaning.lone_guess(row):
            removed.append(Removed(row[0].text, stretch.start, stretch.end, guess))
            row.clear()
    words.update(zip(where.stretches, rows, strict=True))


def _give_back(row: list[Word], after: list[Word], stretch: Stretch) -> None:
    """A sentence's first word that was aligned to the end of the stretch before goes back to its sentence."""
    if len(row) < 2 or not after:
        return
    word, before = row[-1], row[-2]
    if word.text[0].isupper() and word.text[-1].isalpha() and before.text[-1] in ".?!":
        row.pop()
        after.insert(0, replace(word, start=stretch.start, end=min(after[0].start, stretch.start + 0.3)))


def hear_windows(windows: Sequence[Window], model: SpeechModel, bias: str) -> Iterable[tuple[Heard, Window]]:
    def hear(job: tuple[int, Sequence[Window]]) -> list[Heard]:
        frames, batch = job
        return Encoded(model, batch, frames=frames).hear(hotwords=bias)

    jobs = [
        (frames, batch)
        for frames, alike in groupby(windows, short_frames)
        for batch in _batches(list(alike), model.batch)
    ]
    with ThreadPoolExecutor(model.workers) as workers:
        for (_, batch), heard in zip(jobs, workers.map(hear, jobs), strict=True):
            yield from zip(heard, batch, strict=True)


def _batches(windows: Sequence[Window], size: int) -> list[Sequence[Window]]:
    return [windows[first : first + size] for first in range(0, len(windows), size)]


def hear_alone(
    gap: Stretch, after: float, block: Block, ear: Ear, *, hopeless: float | None = None
) -> tuple[Heard, Window]:
    """What is heard in a gap alone, raised where it is quiet; the best of a few places to begin.

    Where the first place gives less than `hopeless` (mean log probability of a token), no other is tried.
    """
    places = [Stretch(max(after, gap.start - before), gap.end) for before in _BEGIN_BEFORE_S]
    windows = [window([(place, levelled(block.piece(place)))]) for place in places]
    frames = max(map(short_frames, windows))
    tried: list[tuple[Heard, Window]] = []
    for batch in [windows] if hopeless is None else [[one] for one in windows]:
        heard = Encoded(ear.model, batch, frames=frames).hear(hotwords=ear.bias)
        tried += zip(heard, batch, strict=True)
        if hopeless is not None and tried[0][0].log_probability < hopeless:
            break
    believed = [one for one in tried if one[0].words and not cleaning.objection(one[0])]
    return max(believed, key=lambda one: one[0].log_probability) if believed else tried[0]

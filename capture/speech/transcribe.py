"""A recording to its transcript: words with times, doubts, and what was not understood."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from capture.audio import Sound
from capture.speech import cleaning
from capture.speech.decode import Encoded, Heard, Window, pack, window
from capture.speech.hotwords import hotwords
from capture.speech.model import SpeechModel
from capture.speech.utterances import gather, utterance
from capture.voice import Block, spoken_blocks
from shared.types import Removed, Stretch, Transcript, Utterance, Word

_BATCH = 4


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a transcription has come."""

    done_s: float
    """Seconds of the recording that are done."""
    total_s: float | None
    """Length of the recording; None when its container does not say."""
    spent_s: float
    """Seconds of work so far in this run."""
    resumed_s: float = 0.0
    """Seconds of the recording that an earlier run had done."""

    @property
    def left_s(self) -> float | None:
        """Seconds of work left, as fast as so far; None when that cannot be told yet."""
        done_now = self.done_s - self.resumed_s
        if self.total_s is None or done_now <= 0:
            return None
        return max(0.0, self.total_s - self.done_s) * self.spent_s / done_now


Report = Callable[[Progress], None]


def transcribe(
    path: Path, *, model: SpeechModel, words: Iterable[str] = (), progress: Report | None = None
) -> Transcript:
    """What was said in the recording. Memory stays the same whatever its length.

    `words` are names of the place (menu, equipment, rooms), used as a bias and never containing numbers.
    Raises `InputError` when the file cannot be read as sound.
    """
    sound = Sound(path)
    bias = hotwords(words)
    began = time.monotonic()
    utterances: list[Utterance] = []
    missed: list[Stretch] = []
    removed: list[Removed] = []
    for block in spoken_blocks(sound.blocks(level=False)):
        part = _block(block, model=model, bias=bias)
        utterances.extend(part.utterances)
        missed.extend(part.not_understood)
        removed.extend(part.removed)
        if progress:
            progress(Progress(block.end, sound.info.duration_s, time.monotonic() - began))
    return Transcript(tuple(utterances), tuple(missed), tuple(removed))


def _block(block: Block, *, model: SpeechModel, bias: str) -> Transcript:
    pieces = [(stretch, block.piece(stretch)) for stretch in block.stretches]
    runs: dict[Stretch, Sequence[Word]] = {}
    removed: list[Removed] = []
    for heard, where in _hear(pack(pieces), model=model, bias=bias):
        _take(heard, where, runs, removed)
    again = [piece for piece in pieces if not runs.get(piece[0])]
    for heard, where in _hear([window([piece]) for piece in again], model=model, bias=None):
        _take(heard, where, runs, removed)
    missed = [stretch for stretch in block.stretches if not runs.get(stretch)]
    said = [(stretch.start + 0.25, stretch.end - 0.25, runs.get(stretch, ())) for stretch in block.stretches]
    return Transcript(tuple(utterance(row) for row in gather(said)), tuple(missed), tuple(removed))


def _hear(
    windows: Sequence[Window], *, model: SpeechModel, bias: str | None
) -> Iterable[tuple[Heard, Window]]:
    for first in range(0, len(windows), _BATCH):
        batch = windows[first : first + _BATCH]
        yield from zip(Encoded(model, batch).hear(hotwords=bias), batch, strict=True)


def _take(heard: Heard, where: Window, runs: dict[Stretch, Sequence[Word]], removed: list[Removed]) -> None:
    """Gives each stretch of the window its words, or logs why they are not believed."""
    if not heard.words:
        return
    why = cleaning.objection(heard)
    if why:
        removed.append(Removed(heard.text, where.stretches[0].start, where.stretches[-1].end, why))
        return
    for stretch in where.stretches:
        own = [word for word in heard.words if stretch.start <= (word.start + word.end) / 2 <= stretch.end]
        runs[stretch] = own

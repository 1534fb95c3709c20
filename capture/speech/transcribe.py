"""A recording to its transcript: words with times, doubts, and what was not understood."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

from capture.audio import RATE, Samples, Sound
from capture.speech.checkpoints import Checkpoints, Done
from capture.speech.ear import Ear, Second
from capture.speech.hearing import hear_block
from capture.speech.hotwords import hotwords, trade_words
from capture.speech.memory import give_back
from capture.speech.model import SpeechModel
from capture.speech.version import fingerprint
from capture.voice import Block, lead, spoken_blocks
from shared.types import Removed, Stretch, Transcript, Utterance

SLOWED = 0.92
"""The speed of the second hearing by the same model."""


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
    path: Path,
    *,
    model: SpeechModel,
    words: Iterable[str] = (),
    progress: Report | None = None,
    checkpoints: Path | None = None,
) -> Transcript:
    """What was said in the recording, with a doubt on every number that may be wrong.

    `words` are names of the place (menu, equipment, rooms), never numbers. With a folder for `checkpoints`, a
    stopped run goes on where it was. What could not be read of a damaged recording stands in the warnings.
    Memory stays the same whatever the length of the recording. Raises `InputError` when the file cannot be
    read as sound, or changes while it is read.
    """
    sound = Sound(path)
    ear = ear_of(model, words=tuple(words))
    kept = Checkpoints(checkpoints, path, _settings(ear)) if checkpoints else None
    parts = kept.done() if kept else []
    resumed = parts[-1].end if parts else 0
    began = time.monotonic()
    pieces = _after(sound.blocks(level=False), resumed - lead(resumed))
    for block in _one_ahead(spoken_blocks(pieces, index=len(parts), done=resumed, holes=sound.holes)):

        def tell(part: float, block: Block = block) -> None:
            if progress and part < 1:
                done = block.start + part * (block.end - block.start)
                progress(Progress(done, sound.info.duration_s, time.monotonic() - began, resumed / RATE))

        part = Done(block.index, round(block.end * RATE), hear_block(block, ear, tell=tell))
        parts.append(part)
        give_back()
        if kept:
            kept.keep(part)
        if progress:
            progress(Progress(block.end, sound.info.duration_s, time.monotonic() - began, resumed / RATE))
    if kept:
        kept.clear()
    return replace(_joined(part.part for part in parts), warnings=tuple(sound.warnings))


def ear_of(model: SpeechModel, *, words: tuple[str, ...] = ()) -> Ear:
    """The measured way to hear (docs/speech.md) with this model, its checker, and the words of the place."""
    seconds = [Second(model, speed=SLOWED)]
    if model.checker is not None:
        seconds.insert(0, Second(model.checker))  # the cheaper one first
    return Ear(
        model=model,
        bias=hotwords(words),
        known=(*words, *trade_words()),
        seconds=tuple(seconds),
    )


def _settings(ear: Ear) -> dict[str, object]:
    """All that changes the result, also how many windows are heard together: single words differ by it."""
    return {
        "version": fingerprint(),
        "model": ear.model.identity,
        "bias": ear.bias,
        "known": ear.known,
        "seconds": [[one.model.identity, one.speed] for one in ear.seconds],
        "device": [ear.model.device, ear.model.batch, ear.model.workers],
    }


def _one_ahead(blocks: Iterator[Block]) -> Iterator[Block]:
    """The same blocks; the next one is read and searched for voice while this one is heard."""
    with ThreadPoolExecutor(1) as reader:
        following = reader.submit(next, blocks, None)
        while (block := following.result()) is not None:
            following = reader.submit(next, blocks, None)
            yield block


def _after(blocks: Iterable[Samples], skipped: int) -> Iterator[Samples]:
    """The samples after the first `skipped`."""
    for block in blocks:
        if skipped >= len(block):
            skipped -= len(block)
            continue
        yield block[skipped:]
        skipped = 0


def _joined(parts: Iterable[Transcript]) -> Transcript:
    utterances: list[Utterance] = []
    missed: list[Stretch] = []
    removed: list[Removed] = []
    for part in parts:
        utterances.extend(part.utterances)
        missed.extend(part.not_understood)
        removed.extend(part.removed)
    return Transcript(tuple(utterances), tuple(missed), tuple(removed))

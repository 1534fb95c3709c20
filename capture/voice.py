"""Where somebody speaks in a recording, found in blocks so that length costs no memory.

The voice detector is Silero VAD as faster-whisper ships it. A block is always cut in a pause, never through
words, so that what comes after may treat each block alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from capture.audio import RATE, Samples, levelled
from capture.faint import searched
from shared.types import Stretch

BLOCK_S = 400.0
"""About how much is looked at in one go."""
LONGEST_S = 27.0
"""The longest stretch; longer talk is cut at its shortest pause. Whisper hears 30 s at once."""

PAD_S = 0.25
"""How far a stretch reaches beyond the voice on each side."""

LEAD_S = 5.0
"""What the detector hears of the block before, to be warm when a block begins."""

_PAUSE_MS = 600
_LEAST_MS = 150  # less is a knock, not a word
_THRESHOLD = 0.35
_STILL = 0.1  # a voice goes on while the detector gives this: the ends of lines are often faint


@dataclass(frozen=True, slots=True)
class Block:
    """A part of a recording, cut in pauses, and the stretches of it with voice in them."""

    index: int
    start: float
    """Seconds into the recording of the first sample."""
    samples: Samples
    stretches: tuple[Stretch, ...]
    """In seconds into the recording, in order, without overlap."""
    faint: tuple[Stretch, ...] = ()
    """Where the detector hears nobody and somebody may whisper: mostly it is noise."""
    holes: tuple[Stretch, ...] = ()
    """What could not be read and is silent for that."""

    @property
    def end(self) -> float:
        return self.start + len(self.samples) / RATE

    def piece(self, stretch: Stretch) -> Samples:
        """The samples of a stretch."""
        first = round((stretch.start - self.start) * RATE)
        return self.samples[max(0, first) : round((stretch.end - self.start) * RATE)]


def spoken_blocks(
    pieces: Iterable[Samples], *, index: int = 0, done: int = 0, holes: Sequence[Stretch] = ()
) -> Iterator[Block]:
    """The recording as blocks with their voiced stretches; quiet blocks are levelled first.

    `index` and `done` (samples) say which blocks were done before; the pieces then begin `lead(done)` samples
    before that point. `holes` may grow while pieces come: a block is given those that lie in it.
    """
    held: list[Samples] = []
    count = 0
    before = lead(done)
    for piece in pieces:
        held.append(piece)
        count += len(piece)
        if count - before < BLOCK_S * RATE:
            continue
        whole = np.concatenate(held)
        block, cut = _block(index, done, whole, before, last=False)
        yield _with_holes(block, holes)
        done, index = done + cut, index + 1
        kept = lead(done)
        held = [whole[before + cut - kept :]]
        before, count = kept, len(held[0])
    if count > before:
        block, _ = _block(index, done, np.concatenate(held), before, last=True)
        yield _with_holes(block, holes)


def _with_holes(block: Block, holes: Sequence[Stretch]) -> Block:
    inside = tuple(hole for hole in holes if hole.end > block.start and hole.start < block.end)
    return replace(block, holes=inside)


def lead(done: int) -> int:
    """How many samples before sample `done` the detector hears to get warm."""
    return min(done, round(LEAD_S * RATE))


def stretches(samples: Samples, *, start: float = 0.0) -> tuple[Stretch, ...]:
    """The stretches with voice in them, padded by a quarter second each side; `start` is added to each."""
    from faster_whisper.vad import VadOptions, get_speech_timestamps

    if not len(samples):
        return ()
    options = VadOptions(
        threshold=_THRESHOLD,
        neg_threshold=_STILL,
        min_silence_duration_ms=_PAUSE_MS,
        min_speech_duration_ms=_LEAST_MS,
        speech_pad_ms=round(PAD_S * 1000),
        max_speech_duration_s=LONGEST_S,
    )
    return tuple(
        Stretch(start + found["start"] / RATE, start + min(found["end"], len(samples)) / RATE)
        for found in get_speech_timestamps(samples, options)
    )


def _block(index: int, done: int, whole: Samples, before: int, *, last: bool) -> tuple[Block, int]:
    """The block that can be cut from `whole` after its first `before` samples, and its length in samples."""
    start = done / RATE
    level = levelled(whole)
    begins = start - before / RATE
    heard, quiet = searched(level, stretches(level, start=begins), start=begins)
    found, faint = (
        tuple(Stretch(max(start, one.start), one.end) for one in row if one.end > start + PAD_S)
        for row in (heard, quiet)
    )
    cut = len(whole) - before
    final = max((*found, *faint), key=lambda one: one.end, default=None)
    if not last and final and final.end > start + cut / RATE - 1.0:
        # someone may be in the middle of a word at the end: leave the last stretch to the next block
        earlier = round((final.start - start) * RATE)
        if earlier > cut // 2:
            cut = earlier
            found, faint = (tuple(one for one in row if one != final) for row in (found, faint))
    return Block(index, start, level[before : before + cut], found, faint), cut

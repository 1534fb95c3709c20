"""Where somebody may speak although the voice detector hears nobody: whispers over noise.

A whisper has no pitch, and over a kitchen's noise the detector is sure that it is no voice. What tells it is
its colour, which changes ten times a second: the sound of each band above the noise that lies under it all
the time. Fans, water, frying and machines keep their colour, and knocks are too short. Dishes put down
without a pause are found too, so that whoever asks has to hear what is in these stretches.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import NDArray

from capture.audio import RATE, Samples
from shared.types import Stretch

LEAST_S = 0.7
"""What is shorter is a knock."""
LONGEST_S = 20.0

_EDGES_HZ = (300, 700, 1200, 2000, 3000, 4000, 5500, 7500)
_FRAME = 512
_HOP = 256
_PER_S = RATE / _HOP
_KNOCK = 7  # frames; the median over them passes over what rings for less than half of them
_FLOOR_S = 6.0  # to each side: nobody speaks for that long without a breath
_FLOOR_SHARE = 20  # percentile of that time that counts as noise
_MOST_DB = 15.0
_WINDOW = 62  # frames: a second, which holds a few syllables
_STEP = 6  # frames, a tenth of a second: about a sound of speech
_SPREAD_DB = 2.4
_CHANGE_DB = 2.1
_STILL = 0.8  # a stretch goes on while it has this share of what begins one
_MORE_S = 0.25
_JOINED_S = 0.3
_FROM_VOICE_S = 0.4  # a window of a second beside a voice holds some of the voice
_CUT_S = 0.55  # a region reaches up to half a second beyond what is said
_MOST_CUT_S = 1.5  # more than that is heard by itself
_LONGEST_VOICE_S = 28.5  # what the model hears at once
_SILENCE = 1e-9

Frames = NDArray[np.float32]


def searched(
    samples: Samples, voiced: Iterable[Stretch], *, start: float = 0.0
) -> tuple[list[Stretch], list[Stretch]]:
    """The voiced stretches, with what the detector cut off, and where else the sound changes as speech does.

    `start` is where in the recording the samples begin, as the voiced stretches are told.
    """
    regions = [Stretch(start + one.start, start + one.end) for one in _regions(samples)]
    whole = _widened(list(voiced), regions)
    free = [
        Stretch(max(start, one.start - _MORE_S), min(one.end + _MORE_S, start + len(samples) / RATE))
        for one in regions
    ]
    free = _joined(free)
    for voice in whole:
        around = Stretch(voice.start - _FROM_VOICE_S, voice.end + _FROM_VOICE_S)
        free = [part for one in free for part in _without(one, around)]
    return whole, [part for one in free if one.end - one.start >= LEAST_S for part in _parts(one)]


def _regions(samples: Samples) -> list[Stretch]:
    """Where the sound changes as speech does, in seconds."""
    if len(samples) < _FRAME + _HOP * _WINDOW:
        return []
    likeness = speechlike(samples)
    edges = np.flatnonzero(np.diff(np.r_[0, likeness >= _STILL, 0])).tolist()
    runs = zip(edges[::2], edges[1::2], strict=True)
    return [Stretch(first / _PER_S, last / _PER_S) for first, last in runs if likeness[first:last].max() >= 1]


def _widened(voiced: list[Stretch], regions: list[Stretch]) -> list[Stretch]:
    """The voiced stretches, with what was clearly said beside them and the detector did not hear."""
    whole: list[Stretch] = []
    for index, voice in enumerate(voiced):
        first, last = voice.start, voice.end
        before = whole[-1].end if whole else -np.inf
        after = voiced[index + 1].start if index + 1 < len(voiced) else np.inf
        for region in regions:
            if region.end <= voice.start or region.start >= voice.end:
                continue
            if region.start > before and _CUT_S < voice.start - region.start <= _MOST_CUT_S:
                first = region.start
            if region.end < after and _CUT_S < region.end - voice.end <= _MOST_CUT_S:
                last = region.end
        whole.append(Stretch(first, last) if last - first <= _LONGEST_VOICE_S else voice)
    return whole


def _joined(parts: list[Stretch]) -> list[Stretch]:
    """The parts in order, those with next to nothing between them as one."""
    whole: list[Stretch] = []
    for part in parts:
        if whole and part.start - whole[-1].end < _JOINED_S:
            part = Stretch(whole.pop().start, part.end)
        whole.append(part)
    return whole


def speechlike(samples: Samples) -> NDArray[np.float64]:
    """How much the colour of the sound changes in the second around each frame; 1 is as much as speech."""
    over = _over_the_noise(_bands(samples))
    colour = over - over.mean(axis=1, keepdims=True)
    spread = np.sqrt(np.maximum(_mean(colour**2) - _mean(colour) ** 2, 0)).mean(axis=1)
    step = np.abs(colour[_STEP:] - colour[:-_STEP]).mean(axis=1)
    change = _mean(np.pad(step, (_STEP // 2, _STEP // 2))[:, None])[:, 0]
    found: NDArray[np.float64] = np.minimum(spread / _SPREAD_DB, change / _CHANGE_DB)
    return found


def _bands(samples: Samples) -> Frames:
    """The level of each band in dB, frame by frame."""
    frequencies = np.fft.rfftfreq(_FRAME, 1 / RATE)
    cuts = np.searchsorted(frequencies, _EDGES_HZ)
    window = np.hanning(_FRAME + 1)[:-1].astype(np.float32)
    frames = sliding_window_view(samples, _FRAME)[::_HOP]
    rows: list[Frames] = []
    for first in range(0, len(frames), 4096):  # a part at a time, since the spectra of a block are large
        power = np.abs(np.fft.rfft(frames[first : first + 4096] * window)) ** 2
        sums = np.add.reduceat(power[:, : cuts[-1]], cuts[:-1], axis=1)
        rows.append((10 * np.log10(sums + _SILENCE)).astype(np.float32))
    return np.concatenate(rows)


def _over_the_noise(bands: Frames) -> Frames:
    """How far each band lies above what is there all the time, in dB, without knocks."""
    padded = np.pad(bands, ((_KNOCK // 2, _KNOCK // 2), (0, 0)), "edge")
    calm = np.median(sliding_window_view(padded, _KNOCK, axis=0), axis=-1)
    places = np.arange(0, len(calm), int(_PER_S))
    side = int(_FLOOR_S * _PER_S)
    floors = np.stack(
        [
            np.percentile(calm[max(0, at - side) : at + side + 1], _FLOOR_SHARE, axis=0)
            for at in places.tolist()
        ]
    )
    every = np.arange(len(calm))
    floor = np.stack([np.interp(every, places, row) for row in floors.T], axis=1)
    over: Frames = np.clip(calm - floor, 0, _MOST_DB).astype(np.float32)
    return over


def _mean(values: NDArray[np.floating]) -> NDArray[np.float64]:
    """The mean over the second around each frame."""
    before = _WINDOW // 2
    sums = np.cumsum(
        np.pad(values, ((before + 1, _WINDOW - before - 1), (0, 0)), "edge"), axis=0, dtype=float
    )
    means: NDArray[np.float64] = (sums[_WINDOW:] - sums[:-_WINDOW]) / _WINDOW
    return means


def _without(one: Stretch, other: Stretch) -> list[Stretch]:
    """What is left of a stretch outside of another."""
    if one.start >= other.end or one.end <= other.start:
        return [one]
    sides = (Stretch(one.start, other.start), Stretch(other.end, one.end))
    return [side for side in sides if side.end > side.start]


def _parts(one: Stretch) -> list[Stretch]:
    """The stretch in equal parts that are short enough to be heard at once."""
    count = int(np.ceil((one.end - one.start) / LONGEST_S))
    edges = np.linspace(one.start, one.end, count + 1).tolist()
    return [Stretch(first, last) for first, last in pairwise(edges)]

"""A kitchen that nobody recorded: exhaust hood, mains hum, dishes, far talk; and the room around a voice."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.signal import fftconvolve

Sound = NDArray[np.float32]

HUM_HZ = 60
DISHES_PER_S = 1.2
_FRAME_S = 0.02


def rms(sound: Sound) -> float:
    """Root mean square of the whole sound."""
    return float(np.sqrt(np.mean(np.square(sound, dtype=np.float64)) + 1e-20))


def speech_level(sound: Sound, rate: int) -> float:
    """Root mean square over the frames that hold speech: those within 30 dB of the loudest frame."""
    size = int(_FRAME_S * rate)
    frames = sound[: len(sound) // size * size].reshape(-1, size).astype(np.float64)
    power = np.mean(frames**2, axis=1)
    return float(np.sqrt(power[power > power.max() / 1000].mean()))


def _unit(sound: NDArray[np.float64]) -> NDArray[np.float64]:
    return sound / np.sqrt(np.mean(sound**2) + 1e-20)


def hood(length: int, rate: int, random: np.random.Generator) -> NDArray[np.float64]:
    """The exhaust hood: noise falling as (f/200)^-0.6, a bump at 450 Hz, off above 4.5 kHz, a slow swell."""
    spectrum = np.fft.rfft(random.standard_normal(length))
    frequency = np.fft.rfftfreq(length, 1 / rate)
    shape = (np.maximum(frequency, 40) / 200) ** -0.6
    shape *= 1 + 1.5 * np.exp(-(((frequency - 450) / 120) ** 2))
    shape /= 1 + (frequency / 4500) ** 4
    swell = 1 + 0.15 * np.sin(2 * np.pi * 0.7 * np.arange(length) / rate)
    return _unit(np.fft.irfft(spectrum * shape, length) * swell)


def hum(length: int, rate: int) -> NDArray[np.float64]:
    """Mains hum with its harmonics."""
    time = np.arange(length) / rate
    return _unit(np.sum([np.sin(2 * np.pi * HUM_HZ * part * time) / part for part in range(1, 9)], axis=0))


def dishes(length: int, rate: int, random: np.random.Generator) -> NDArray[np.float64]:
    """Dishes being put down, 1.2 times a second on average, each bouncing one to four times."""
    out = np.zeros(length)
    for start in random.uniform(0, length, random.poisson(DISHES_PER_S * length / rate)):
        modes = random.uniform(1100, 3200, 5)
        strength = random.lognormal(0, 0.6)
        at = start
        for _ in range(random.integers(1, 5)):
            time = np.arange(int(0.12 * rate)) / rate
            ring = sum(np.sin(2 * np.pi * mode * time + random.uniform(0, 6)) for mode in modes)
            knock = strength * ring * np.exp(-time / random.uniform(0.008, 0.025))
            end = min(length, int(at) + knock.size)
            out[int(at) : end] += knock[: end - int(at)]
            at += random.uniform(0.04, 0.14) * rate
            strength *= 0.55
            if at >= length:
                break
    return _unit(out)


def far_talk(
    length: int, voices: list[Sound], random: np.random.Generator, *, layers: int = 6
) -> NDArray[np.float64]:
    """People talking far off: layers of speech played backwards, so that no word in it was said by anyone."""
    out = np.zeros(length)
    for _ in range(layers):
        at = int(random.uniform(-20_000, 20_000))
        while at < length:
            voice = voices[random.integers(len(voices))][::-1].astype(np.float64)
            start, end = max(at, 0), min(length, at + voice.size)
            if end > start:
                out[start:end] += voice[start - at : end - at]
            at += voice.size + int(random.uniform(2_000, 30_000))
    return _unit(out)


def kitchen(length: int, rate: int, voices: list[Sound], *, seed: int) -> Sound:
    """`length` samples of a working kitchen, root mean square 1."""
    random = np.random.default_rng(seed)
    parts = (
        (1.0, hood(length, rate, random)),
        (0.5, hum(length, rate)),
        (0.6, dishes(length, rate, random)),
        (0.35, far_talk(length, voices, random)),
    )
    return _unit(sum(weight * part for weight, part in parts)).astype(np.float32)  # type: ignore[arg-type]


def in_room(sound: Sound, rate: int, *, direct_db: float, decay_s: float = 0.4, seed: int = 1) -> Sound:
    """`sound` as heard in a tiled room: `decay_s` is its T60, `direct_db` the direct to reverberant ratio."""
    random = np.random.default_rng(seed)
    time = np.arange(int(decay_s * rate)) / rate
    tail = random.standard_normal(time.size) * 10 ** (-3 * time / decay_s)
    tail[: int(0.005 * rate)] = 0
    tail *= 10 ** (-direct_db / 20) / np.sqrt(np.sum(tail**2))
    tail[0] = 1
    return np.asarray(fftconvolve(sound, tail), np.float32)

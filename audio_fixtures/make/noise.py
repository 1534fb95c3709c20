"""A kitchen that nobody recorded: exhaust hood, mains hum, dishes, far talk; and the room around a voice.

Also single sounds of a kitchen without anybody in it, which may be taken for a whisper.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray
from scipy.signal import fftconvolve

Sound = NDArray[np.float32]
Wave = NDArray[np.float64]
Range = tuple[float, float]

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


def _unit(sound: Wave) -> Wave:
    return sound / np.sqrt(np.mean(sound**2) + 1e-20)


def hood(length: int, rate: int, random: np.random.Generator) -> Wave:
    """The exhaust hood: noise falling as (f/200)^-0.6, a bump at 450 Hz, off above 4.5 kHz, a slow swell."""
    spectrum = np.fft.rfft(random.standard_normal(length))
    frequency = np.fft.rfftfreq(length, 1 / rate)
    shape = (np.maximum(frequency, 40) / 200) ** -0.6
    shape *= 1 + 1.5 * np.exp(-(((frequency - 450) / 120) ** 2))
    shape /= 1 + (frequency / 4500) ** 4
    swell = 1 + 0.15 * np.sin(2 * np.pi * 0.7 * np.arange(length) / rate)
    return _unit(np.fft.irfft(spectrum * shape, length) * swell)


def hum(length: int, rate: int) -> Wave:
    """Mains hum with its harmonics."""
    time = np.arange(length) / rate
    return _unit(np.sum([np.sin(2 * np.pi * HUM_HZ * part * time) / part for part in range(1, 9)], axis=0))


def dishes(length: int, rate: int, random: np.random.Generator) -> Wave:
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


def far_talk(length: int, voices: list[Sound], random: np.random.Generator, *, layers: int = 6) -> Wave:
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


# ---------------------------------------------------------------- what may be taken for a voice


def _coloured(length: int, rate: int, random: np.random.Generator, slope: float, off_hz: float) -> Wave:
    """Noise that falls or rises as a power of the frequency, off above `off_hz`."""
    frequency = np.fft.rfftfreq(length, 1 / rate)
    shape = (np.maximum(frequency, 50) / 300) ** slope / (1 + (frequency / off_hz) ** 4)
    return _unit(np.fft.irfft(np.fft.rfft(random.standard_normal(length)) * shape, length))


def _between(length: int, rate: int, low_hz: float, high_hz: float, random: np.random.Generator) -> Wave:
    """Noise between two frequencies."""
    spectrum = np.fft.rfft(random.standard_normal(length))
    frequency = np.fft.rfftfreq(length, 1 / rate)
    spectrum[(frequency < low_hz) | (frequency > high_hz)] = 0
    return np.fft.irfft(spectrum, length)


def _times(
    length: int, rate: int, random: np.random.Generator, lasting: Range, pause: Range
) -> Iterator[tuple[int, int]]:
    """First and last sample of something that comes and goes."""
    at = random.uniform(0, pause[1])
    while at * rate < length:
        lasts = random.uniform(*lasting)
        yield int(at * rate), min(length, int((at + lasts) * rate))
        at += lasts + random.uniform(*pause)


def _on_and_off(sound: Wave, rate: int, random: np.random.Generator, lasting: Range, pause: Range) -> Wave:
    """The sound where it is switched on, with soft edges."""
    gain = np.zeros(len(sound))
    for first, last in _times(len(sound), rate, random, lasting, pause):
        edge = max(1, min(int(random.uniform(0.15, 1.0) * rate), (last - first) // 2))
        places = np.arange(last - first)
        gain[first:last] = np.clip(np.minimum(places, places[::-1]) / edge, 0, 1)
    return sound * gain


def _rung(out: Wave, at: float, sound: Wave) -> None:
    """Adds a short sound at a sample, as much of it as there is room for."""
    first = int(at)
    end = min(len(out), first + len(sound))
    if first < end:
        out[first:end] += sound[: end - first]


def compressor(length: int, rate: int, random: np.random.Generator) -> Wave:
    """A cooler's compressor that goes on and off: two rows of harmonics over a fan."""
    time, base = np.arange(length) / rate, random.uniform(28, 60)

    def harmonics() -> Wave:
        tones = [
            np.sin(2 * np.pi * base * part * time + random.uniform(0, 6)) / part**0.7 for part in range(1, 30)
        ]
        return np.asarray(np.sum(tones, axis=0))

    sound = harmonics() + 1.5 * _coloured(length, rate, random, -0.4, 3500) + harmonics()
    return _on_and_off(sound, rate, random, (20, 90), (20, 90))


def water(length: int, rate: int, random: np.random.Generator) -> Wave:
    """A tap that is opened and closed."""
    slow = np.repeat(random.standard_normal(length // (rate // 10) + 1), rate // 10)[:length]
    sound = _between(length, rate, 400, 5000, random) * (1 + 0.2 * slow)
    return _on_and_off(sound, rate, random, (3, 15), (5, 25))


def frying(length: int, rate: int, random: np.random.Generator) -> Wave:
    """Something in hot fat: hiss and crackle."""
    crackle = np.zeros(length)
    places = random.integers(0, length, 80 * length // rate)
    crackle[places] = random.lognormal(0, 1, len(places)) * random.choice([-1, 1], len(places))
    sound = _coloured(length, rate, random, 0.3, 7500) + _unit(np.diff(crackle, prepend=0))
    return _on_and_off(sound, rate, random, (5, 40), (5, 40))


def chopping(length: int, rate: int, random: np.random.Generator) -> Wave:
    """A knife on a board, two to five times a second: the rhythm of syllables."""
    out = np.zeros(length)
    time = np.arange(int(0.12 * rate)) / rate
    for first, last in _times(length, rate, random, (3, 10), (5, 30)):
        often, low_hz, fades = random.uniform(2.5, 5), random.uniform(150, 500), random.uniform(0.012, 0.03)
        strength, at = random.lognormal(0, 0.4), float(first)
        while at < last:
            knock = np.sin(2 * np.pi * low_hz * time) + 0.7 * random.standard_normal(len(time))
            _rung(out, at, strength * random.uniform(0.6, 1.3) * knock * np.exp(-time / fades))
            at += random.uniform(0.85, 1.15) / often * rate
    return out


def beeps(length: int, rate: int, random: np.random.Generator) -> Wave:
    """Timers of fryers and ovens."""
    out = np.zeros(length)
    for first, _ in _times(length, rate, random, (1, 2), (10, 60)):
        hz, lasts = random.uniform(800, 3800), random.uniform(0.08, 0.4)
        tone = np.sin(2 * np.pi * hz * np.arange(int(lasts * rate)) / rate)
        for count in range(random.integers(1, 8)):
            _rung(out, first + count * 2 * lasts * rate, tone)
    return out


def rustling(length: int, rate: int, random: np.random.Generator) -> Wave:
    """Bags, drawers, carts: short swells of noise that tremble."""
    out = np.zeros(length)
    for first, last in _times(length, rate, random, (0.3, 1.5), (1, 12)):
        time = np.arange(last - first) / rate
        swell = np.sin(np.pi * time / max(time[-1], 1 / rate)) ** 2
        trembling = 1 + 0.5 * np.sin(2 * np.pi * random.uniform(3, 12) * time)
        sound = _between(last - first, rate, random.uniform(100, 400), random.uniform(1500, 6000), random)
        out[first:last] += random.lognormal(0, 0.5) * _unit(sound * swell * trembling)
    return out


def _ringing(
    length: int,
    rate: int,
    random: np.random.Generator,
    *,
    often: float,
    hz: Range,
    fades: Range,
    bounces: int,
) -> Wave:
    """Things that ring and bounce when they are put down, `often` a second."""
    out = np.zeros(length)
    time = np.arange(int(0.3 * rate)) / rate
    for start in random.uniform(0, length, random.poisson(often * length / rate)):
        modes, strength, at = random.uniform(*hz, 6), random.lognormal(0, 0.7), float(start)
        for _ in range(random.integers(1, bounces + 1)):
            ring = sum(np.sin(2 * np.pi * mode * time + random.uniform(0, 6)) for mode in modes)
            knock = (ring + random.standard_normal(len(time))) * np.exp(-time / random.uniform(*fades))
            _rung(out, at, strength * knock)
            at += random.uniform(0.03, 0.2) * rate
            strength *= 0.6
    return out


def ice(length: int, rate: int, random: np.random.Generator) -> Wave:
    """An ice machine that drops its ice."""
    return _ringing(length, rate, random, often=0.25, hz=(900, 5500), fades=(0.01, 0.04), bounces=14)


def cutlery(length: int, rate: int, random: np.random.Generator) -> Wave:
    """Cutlery being sorted without a pause."""
    return _ringing(length, rate, random, often=3.0, hz=(1500, 6500), fades=(0.01, 0.06), bounces=4)


def pans(length: int, rate: int, random: np.random.Generator) -> Wave:
    """Pans on a stove."""
    return _ringing(length, rate, random, often=0.5, hz=(250, 2500), fades=(0.05, 0.25), bounces=3)


KINDS = {
    kind.__name__: kind
    for kind in (compressor, water, frying, chopping, beeps, rustling, ice, cutlery, pans)
}  # fmt: skip


def nobody(kind: str, length: int, rate: int, *, seed: int, over_db: float = 6.0) -> Sound:
    """One of `KINDS` in a room over a hood, its loud parts `over_db` above it."""
    random = np.random.default_rng(seed)
    below = _coloured(length, rate, random, random.uniform(-1.2, -0.3), random.uniform(2500, 7000))
    direct_db = random.uniform(0, 9)
    sound = in_room(
        KINDS[kind](length, rate, random).astype(np.float32), rate, direct_db=direct_db, seed=seed
    )
    level = speech_level(sound, rate)
    return (below + sound[:length] / level * 10 ** (over_db / 20)).astype(np.float32)

"""Speaks `lines.txt` into `clips/NNN-voice.opus`: Kokoro voices (see ../make), Debian's festival and flite.

    /tmp/voices/bin/python make.py --voices package/voices

The tests and the benchmark need only its output; the noise is added when the benchmark runs.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
from fractions import Fraction
from pathlib import Path

import av
import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "make"))
import kokoro

HERE = Path(__file__).parent
RATE = 24_000
SPEED = {"am_fenrir": 1.1, "em_alex": 1.1}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--voices", type=Path, required=True, help="folder of Kokoro's NAME.bin")
    parser.add_argument("--lines", type=Path, default=HERE / "lines.txt")
    parser.add_argument("--out", type=Path, default=HERE / "clips")
    options = parser.parse_args()
    speaker = kokoro.Speaker(options.voices)
    options.out.mkdir(parents=True, exist_ok=True)
    for number, (voice, text) in enumerate(_lines(options.lines), start=1):
        target = options.out / f"{number:03d}-{voice}.opus"
        if target.exists():
            continue
        if voice.startswith(("festival", "flite")):
            sound = _debian(voice, text)
        else:
            sound = speaker.say(text, voice=voice, speed=SPEED.get(voice, 1.0))
        _write(target, 0.7 * sound / np.abs(sound).max())


def _lines(path: Path) -> list[tuple[str, str]]:
    rows = [line.split("|") for line in path.read_text("utf-8").splitlines() if line and line[0] != "#"]
    return [(row[0].strip(), row[1].strip()) for row in rows]


def _debian(voice: str, text: str) -> np.ndarray:
    """What festival (`festvox-us-slt-hts`) or flite says, 24 kHz mono."""
    with tempfile.TemporaryDirectory() as folder:
        wav = f"{folder}/said.wav"
        if voice == "festival_slt":
            call = ["text2wave", "-eval", "(voice_cmu_us_slt_arctic_hts)", "-o", wav]
            subprocess.run(call, input=text, text=True, check=True)
        else:
            subprocess.run(
                ["flite", "-voice", voice.removeprefix("flite_"), "-t", text, "-o", wav], check=True
            )
        with av.open(wav) as container:
            resampler = av.AudioResampler(format="flt", layout="mono", rate=RATE)
            frames = [part for frame in container.decode(audio=0) for part in resampler.resample(frame)]
            frames += resampler.resample(None)
    return np.concatenate([frame.to_ndarray().ravel() for frame in frames])


def _write(path: Path, sound: np.ndarray) -> None:
    with av.open(str(path), "w", format="ogg") as container:
        stream = container.add_stream("libopus", rate=RATE, layout="mono")
        stream.bit_rate = 32_000
        samples = (np.clip(sound, -1, 1) * 32767).astype(np.int16)[None]
        frame = av.AudioFrame.from_ndarray(samples, format="s16", layout="mono")
        frame.sample_rate, frame.time_base, frame.pts = RATE, Fraction(1, RATE), 0
        for packet in [*stream.encode(frame), *stream.encode(None)]:
            container.mux(packet)


if __name__ == "__main__":
    main()

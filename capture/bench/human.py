"""People instead of synthetic voices: short recordings from PocketSphinx's test data.

Six files are in `audio_fixtures/noise_bench/human` (BSD-2, Carnegie Mellon University). Where Debian's
`pocketsphinx-testdata` is installed, its spoken digits and five sentences read from a novel are heard too.
"""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from capture.audio import RATE, load, wav_bytes
from capture.bench.recordings import FIXTURES, Line
from capture.bench.scoring import Score, score
from capture.speech.model import SpeechModel
from capture.speech.transcribe import transcribe

_DEBIAN = Path("/usr/share/pocketsphinx/test/data")
_BOOK = "librivox/sense_and_sensibility_01_austen_64kb-0"
_SHIPPED = (
    ("card-001.flac", "ten of clubs", "10"),
    ("card-002.flac", "four queen of clubs", "4"),
    ("card-003.flac", "seven of clubs", "7"),
    ("card-004.flac", "five five", "5 5"),
    ("card-005.flac", "eight of spades four of clubs seven of hearts", "8 4 7"),
    ("goforward.flac", "go forward ten meters", "10"),
)
_INSTALLED = (
    ("tidigits/dhd.2934z.raw", "two nine three four zero", "29340"),
    (
        f"{_BOOK}870.wav",
        "and mister john dashwood had then leisure to consider how much there might be prudently "
        "in his power to do for them",
        "",
    ),
    (f"{_BOOK}880.wav", "he was not an ill disposed young man", ""),
    (
        f"{_BOOK}890.wav",
        "unless to be rather cold hearted and rather selfish is to be ill disposed",
        "",
    ),
    (
        f"{_BOOK}920.wav",
        "had he married a more amiable woman he might have been made still more respectable than he was",
        "",
    ),
    (f"{_BOOK}930.wav", "he might even have been made amiable himself", ""),
)
"""Words as in the package's own transcriptions; digits said in a row are one number."""


@dataclass(frozen=True, slots=True)
class HumanScore:
    """The score of one file, with what was heard."""

    file: str
    said: str
    heard: str
    doubts: int
    score: Score


def files(*, shipped: bool = False) -> list[tuple[Path, str, str]]:
    """Path, words and numbers of every file that is there, or of the shipped ones only."""
    ours = [(FIXTURES / "noise_bench" / "human" / name, words, numbers) for name, words, numbers in _SHIPPED]
    installed = [(_DEBIAN / name, words, numbers) for name, words, numbers in _INSTALLED]
    return [row for row in (ours if shipped else [*ours, *installed]) if row[0].is_file()]


def human_scores(*, model: SpeechModel, shipped: bool = False) -> list[HumanScore]:
    """How each of the files is heard; `shipped`: those of the project only."""
    found: list[HumanScore] = []
    for path, words, numbers in files(shipped=shipped):
        with tempfile.TemporaryDirectory() as folder:
            playable = path
            if path.suffix == ".raw":  # 16 kHz, 16 bits, one channel
                samples = np.frombuffer(path.read_bytes(), "<i2").astype(np.float32)
                playable = Path(folder) / "raw.wav"
                playable.write_bytes(wav_bytes(samples / np.float32(32768)))
            heard = transcribe(playable, model=model)
            length = len(load(playable)) / RATE
        line = Line(words, tuple(numbers.split()), "human", 0.0, length)
        text = " ".join(utterance.text for utterance in heard.utterances)
        doubts = sum(len(utterance.doubts) for utterance in heard.utterances)
        found.append(HumanScore(path.name, words, text, doubts, score([line], heard)))
    return found

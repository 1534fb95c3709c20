"""Words from windows of sound: the only part that talks to the speech model.

A window is encoded once. The same encoding serves the first hearing (with the trade's words as a bias), a
second without bias where a second is wanted, and the alignment of the words in time.
"""

from __future__ import annotations

import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from capture.audio import RATE, Samples
from capture.speech.model import SpeechModel
from shared.types import Stretch, Word

BEAM = 5
WINDOW_S = 30.0
"""What Whisper hears at once."""

_GAP_S = 0.4  # silence put between stretches that share a window
_FRAMES_PER_S = 100
_SILENT_FEATURE = 0.0


@dataclass(frozen=True, slots=True)
class Window:
    """Up to 30 s of sound: one or more stretches of a recording in a row."""

    samples: Samples
    stretches: tuple[Stretch, ...]
    """In seconds into the recording."""
    offsets: tuple[float, ...]
    """Where in the window each stretch begins, in seconds."""

    @property
    def duration_s(self) -> float:
        return len(self.samples) / RATE

    def in_recording(self, at: float) -> float:
        """Seconds into the window as seconds into the recording."""
        index = max((i for i, offset in enumerate(self.offsets) if offset <= at + 1e-6), default=0)
        stretch = self.stretches[index]
        return min(stretch.start + at - self.offsets[index], stretch.end)


@dataclass(frozen=True, slots=True)
class Heard:
    """What the model printed for one window."""

    words: tuple[Word, ...]
    """With times in the recording; texts keep their punctuation and lose their leading space."""
    no_speech: float
    """The model's probability that nobody speaks."""
    log_probability: float
    """Mean over the tokens."""

    @property
    def text(self) -> str:
        return " ".join(word.text for word in self.words)

    @property
    def compression(self) -> float:
        return compression(self.text)


def compression(text: str) -> float:
    """How many times smaller the text gets when packed; loops exceed 2.4."""
    raw = text.encode()
    return len(raw) / len(zlib.compress(raw)) if raw else 0.0


def pack(pieces: Sequence[tuple[Stretch, Samples]], *, longest_s: float = 28.0) -> list[Window]:
    """The stretches packed in order into as few windows as hold them, with a short silence between."""
    windows: list[Window] = []
    row: list[tuple[Stretch, Samples]] = []
    length = 0.0
    for stretch, samples in pieces:
        more = len(samples) / RATE + (_GAP_S if row else 0.0)
        if row and length + more > longest_s:
            windows.append(window(row))
            row, length = [], 0.0
            more = len(samples) / RATE
        row.append((stretch, samples))
        length += more
    if row:
        windows.append(window(row))
    return windows


def window(row: Sequence[tuple[Stretch, Samples]]) -> Window:
    """One window of the given stretches."""
    silence = np.zeros(round(_GAP_S * RATE), np.float32)
    parts: list[Samples] = []
    offsets: list[float] = []
    length = 0
    for _, samples in row:
        if parts:
            parts.append(silence)
            length += len(silence)
        offsets.append(length / RATE)
        parts.append(samples)
        length += len(samples)
    return Window(np.concatenate(parts), tuple(stretch for stretch, _ in row), tuple(offsets))


class Encoded:
    """A batch of windows, encoded by one model, ready to be heard once or more."""

    def __init__(self, model: SpeechModel, windows: Sequence[Window], *, frames: int | None = None) -> None:
        self.model = model
        self.windows = list(windows)
        whisper = model.whisper
        features = [whisper.feature_extractor(item.samples)[..., :-1] for item in windows]
        self._frames = frames or whisper.feature_extractor.nb_max_frames
        batch = np.full((len(features), features[0].shape[0], self._frames), _SILENT_FEATURE, np.float32)
        for row, feature in zip(batch, features, strict=True):
            used = min(feature.shape[-1], self._frames)
            row[:, :used] = feature[:, :used]
        self._output = whisper.encode(batch)

    def hear(self, *, hotwords: str | None = None) -> list[Heard]:
        """What the model hears in each window, best guess, no sampling."""
        whisper = self.model.whisper
        tokenizer = self._tokenizer
        prompt = whisper.get_prompt(tokenizer, [], without_timestamps=True, hotwords=hotwords)
        results = whisper.model.generate(
            self._output,
            [list(prompt) for _ in self.windows],
            beam_size=BEAM,
            max_length=min(whisper.max_length, len(prompt) + 224),
            suppress_blank=True,
            suppress_tokens=self._suppressed,
            return_scores=True,
            return_no_speech_prob=True,
            sampling_temperature=0.0,
        )
        tokens = [[token for token in result.sequences_ids[0] if token < tokenizer.eot] for result in results]
        words = self._align(tokens)
        return [
            Heard(tuple(row), float(result.no_speech_prob), float(result.scores[0]))
            for row, result in zip(words, results, strict=True)
        ]

    def _align(self, tokens: list[list[int]]) -> list[list[Word]]:
        whisper = self.model.whisper
        heard: list[list[Word]] = [[] for _ in tokens]
        filled = [index for index, row in enumerate(tokens) if row]
        if not filled:
            return heard
        frames = [min(self._frames, int(np.ceil(item.duration_s) * _FRAMES_PER_S)) for item in self.windows]
        aligned = whisper.find_alignment(self._tokenizer, tokens, self._output, frames)
        for index in filled:
            heard[index] = _words(aligned[index], self.windows[index])
        return heard

    @cached_property
    def _tokenizer(self) -> Any:
        from faster_whisper.tokenizer import Tokenizer

        whisper = self.model.whisper
        return Tokenizer(
            whisper.hf_tokenizer, whisper.model.is_multilingual, task="transcribe", language="en"
        )

    @cached_property
    def _suppressed(self) -> tuple[int, ...]:
        tokenizer = self._tokenizer
        return tuple(
            sorted(
                {
                    *tokenizer.non_speech_tokens,
                    tokenizer.transcribe,
                    tokenizer.translate,
                    tokenizer.sot,
                    tokenizer.sot_prev,
                    tokenizer.sot_lm,
                    tokenizer.no_speech,
                }
            )
        )


def _words(aligned: list[dict[str, Any]], where: Window) -> list[Word]:
    """The aligner's pieces as words; a piece without a leading space belongs to the word before it."""
    words: list[Word] = []
    for piece in aligned:
        text = str(piece["word"])
        if not text.strip():
            continue
        start, end = float(piece["start"]), float(piece["end"])
        if words and not text.startswith(" "):
            before = words[-1]
            words[-1] = Word(
                before.text + text.strip(),
                before.start,
                where.in_recording(end),
                min(before.probability, float(piece["probability"]))
                if text.strip().isalnum()
                else before.probability,
            )
        else:
            middle = (start + end) / 2
            moved = where.in_recording(middle) - middle
            words.append(Word(text.strip(), start + moved, end + moved, float(piece["probability"])))
    return words

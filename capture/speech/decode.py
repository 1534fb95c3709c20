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
from numpy.typing import NDArray

from capture.audio import RATE, Samples
from capture.speech import two_voices
from capture.speech.model import SpeechModel
from shared.types import Stretch, Word

BEAM = 5
COMPARING_BEAM = 2
"""For hearings that only the first is compared with: as good at that as 5, and 0.55 of its cost."""
LOOP = 2.4
"""Text that packs better than this repeats itself."""
WINDOW_S = 30.0
"""What Whisper hears at once."""

_FULL_S = 28.6
_GAP_S = 0.4  # silence put between stretches that share a window
_FRAMES_PER_S = 100
_MOST_TOKENS = 224
_TOKENS_PER_S = 9.0  # nobody talks faster; what runs on longer is a loop, and slow
_TOKENS_MORE = 12
_SILENT_FEATURE = 0.0
_SHORTEST_S = 0.02  # no word is shorter, so that its middle lies inside its stretch
_SHORT_FRAMES = (1000, 2000, 3000)
"""Lengths at which single stretches are encoded; below 10 s the model begins to loop."""
_SHORT_MORE_S = 0.7  # silence left after the sound, so that the model sees where it ends


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

    def stretch_at(self, at: float) -> tuple[Stretch, float]:
        """The stretch that is heard `at` seconds into the window, or was last, and where it begins there."""
        index = max((i for i, offset in enumerate(self.offsets) if offset <= at + 1e-6), default=0)
        return self.stretches[index], self.offsets[index]


@dataclass(frozen=True, slots=True)
class Heard:
    """What the model printed for one window."""

    words: tuple[Word, ...]
    """With times in the recording; texts keep their punctuation and lose their leading space."""
    no_speech: float
    """The model's probability that nobody speaks."""
    log_probability: float
    """Mean over the tokens."""
    at_once: tuple[Stretch, ...] = ()
    """Where two people talk at once."""

    @property
    def text(self) -> str:
        return " ".join(word.text for word in self.words)

    @property
    def compression(self) -> float:
        return compression(self.text)


def compression(text: str) -> float:
    """How many times smaller the text gets when packed; loops exceed `LOOP`."""
    raw = text.encode()
    return len(raw) / len(zlib.compress(raw)) if raw else 0.0


def pack(pieces: Sequence[tuple[Stretch, Samples]], *, longest_s: float = _FULL_S) -> list[Window]:
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


def slowed(one: Window, speed: float) -> Window:
    """The same window played at another speed (and pitch): another view of the same sound."""
    count = int(len(one.samples) / speed)
    places = np.linspace(0, len(one.samples) - 1, count)
    samples = np.interp(places, np.arange(len(one.samples)), one.samples).astype(np.float32)
    return Window(samples, one.stretches, tuple(offset / speed for offset in one.offsets))


def short_frames(one: Window) -> int:
    """How many frames a window needs when it is encoded at its own length instead of 30 s."""
    needed = (one.duration_s + _SHORT_MORE_S) * _FRAMES_PER_S
    return next((frames for frames in _SHORT_FRAMES if frames >= needed), _SHORT_FRAMES[-1])


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
        self._output = self._encode(batch)

    def hear(self, *, hotwords: str | None = None) -> list[Heard]:
        """What the model hears in each window, best guess, no sampling, each word with its time."""
        results = self._generate(hotwords)
        words = self._align([self._text_tokens(result) for result in results])
        return [
            Heard(tuple(row), float(result.no_speech_prob), float(result.scores[0]), tuple(at_once))
            for row, result, at_once in zip(words, results, self._at_once(), strict=True)
        ]

    def _encode(self, batch: NDArray[np.float32]) -> Any:
        """One window after the other on a CPU: it gives the same, sooner, and with a fraction of the memory,
        since what attention holds grows with the batch."""
        whisper = self.model.whisper
        if self.model.device != "cpu" or len(batch) == 1:
            return whisper.encode(batch)
        import ctranslate2

        states = [np.array(whisper.encode(batch[at : at + 1]), np.float32) for at in range(len(batch))]
        return ctranslate2.StorageView.from_array(np.concatenate(states))

    def texts(self, *, hotwords: str | None = None) -> list[str | None]:
        """The bare text of each window, without times: what comparing needs. None where the model looped."""
        results = self._generate(hotwords, beam=COMPARING_BEAM)
        texts = [str(self._tokenizer.decode(self._text_tokens(result))) for result in results]
        return [text if compression(text) <= LOOP else None for text in texts]

    def _generate(self, hotwords: str | None, *, beam: int = BEAM) -> list[Any]:
        whisper = self.model.whisper
        prompt = whisper.get_prompt(self._tokenizer, [], without_timestamps=True, hotwords=hotwords)
        results: list[Any] = whisper.model.generate(
            self._output,
            [list(prompt) for _ in self.windows],
            beam_size=beam,
            max_length=min(whisper.max_length, len(prompt) + self._most_tokens()),
            suppress_blank=True,
            suppress_tokens=self._suppressed,
            return_scores=True,
            return_no_speech_prob=True,
            sampling_temperature=0.0,
        )
        return results

    def states(self) -> NDArray[np.float32]:
        """What the encoder made of the windows: window, time, state."""
        output = self._output
        if self.model.device != "cpu":
            import ctranslate2

            output = output.to_device(ctranslate2.Device.cpu)
        return np.array(output, np.float32)

    def _at_once(self) -> list[list[Stretch]]:
        """Where two people talk at once in each window; nowhere where the model is one that cannot tell."""
        if self.model.sha256 != two_voices.MODEL:
            return [[] for _ in self.windows]
        found: list[list[Stretch]] = []
        for states, one in zip(self.states(), self.windows, strict=True):
            found.append([])
            for stretch, offset in zip(one.stretches, one.offsets, strict=True):
                first = round(offset * two_voices.STATES_PER_S)
                last = first + int((stretch.end - stretch.start) * two_voices.STATES_PER_S)
                found[-1] += two_voices.regions(states[first:last], stretch.start)
        return found

    def _most_tokens(self) -> int:
        longest = max(item.duration_s for item in self.windows)
        return min(_MOST_TOKENS, int(longest * _TOKENS_PER_S) + _TOKENS_MORE)

    def _text_tokens(self, result: Any) -> list[int]:
        return [token for token in result.sequences_ids[0] if token < self._tokenizer.eot]

    def _align(self, tokens: list[list[int]]) -> list[list[Word]]:
        whisper = self.model.whisper
        heard: list[list[Word]] = [[] for _ in tokens]
        filled = [index for index, row in enumerate(tokens) if row]
        if not filled:
            return heard
        frames = [min(self._frames, int(np.ceil(item.duration_s) * _FRAMES_PER_S)) for item in self.windows]
        aligned = whisper.find_alignment(self._tokenizer, tokens, self._output, frames)
        for index in filled:
            heard[index] = placed(aligned[index], self.windows[index])
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


def placed(aligned: list[dict[str, Any]], where: Window) -> list[Word]:
    """The aligner's pieces as words; a piece without a leading space belongs to the word before it."""
    words: list[Word] = []
    last = 0.0  # the middle of the piece that the last word began with
    for piece in aligned:
        text = str(piece["word"])
        if not text.strip():
            continue
        start, end = float(piece["start"]), float(piece["end"])
        if words and not text.startswith(" "):
            before = words[-1]
            own, _ = where.stretch_at(last)
            probability = before.probability
            if any(character.isalnum() for character in text):
                probability = min(probability, float(piece["probability"]))
            stretch, offset = where.stretch_at(start)
            ends = max(before.end, min(stretch.start + end - offset, own.end))  # never into another stretch
            words[-1] = Word(before.text + text.strip(), before.start, ends, probability)
        else:
            last = (start + end) / 2
            stretch, offset = where.stretch_at(last)
            moved = stretch.start - offset
            words.append(
                Word(
                    text.strip(),
                    min(max(stretch.start, start + moved), stretch.end - _SHORTEST_S),
                    min(end + moved, stretch.end),
                    float(piece["probability"]),
                )
            )
    return words

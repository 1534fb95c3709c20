"""The plain alternative: one call of faster-whisper with its defaults, same model and threads."""

from __future__ import annotations

from pathlib import Path

from capture.audio import Samples
from capture.speech.model import SpeechModel
from shared.types import Transcript, Utterance, Word


def transcribe(audio: Path | Samples, *, model: SpeechModel) -> Transcript:
    """What `WhisperModel.transcribe` prints, with word times; it has no doubts and lists nothing."""
    source = str(audio) if isinstance(audio, Path) else audio
    segments, _ = model.whisper.transcribe(source, language="en", word_timestamps=True)
    utterances = []
    for segment in segments:
        words = tuple(
            Word(word.word.strip(), word.start, word.end, word.probability)
            for word in segment.words or ()
            if word.word.strip()
        )
        if words:
            text = " ".join(word.text for word in words)
            utterances.append(Utterance(text, words[0].start, words[-1].end, words))
    return Transcript(tuple(utterances))

"""What to tell the user of a recording that was heard: what is damaged, and that no words came of it."""

from __future__ import annotations

from capture.damaged import BREAKS_OFF
from shared.types import Recording, Stretch, Transcript

_NAMED = 3


def what_to_tell(recording: Recording, transcript: Transcript) -> str | None:
    """A sentence for the damage that words may be lost by, and when `recording` gave no words at all."""
    told = [f"{recording.name}: {warning}" for warning in transcript.warnings]
    if any(f": {BREAKS_OFF}" in warning for warning in recording.warnings):
        told = [sentence for sentence in told if not sentence.startswith(f"{recording.name}: {BREAKS_OFF}")]
    silent = _no_words(recording, transcript)
    return "; ".join([*told, silent] if silent else told) or None


def _no_words(recording: Recording, transcript: Transcript) -> str | None:
    if transcript.utterances:
        return None
    if transcript.not_understood:
        return (
            f"{recording.name}: somebody speaks at {_places(transcript.not_understood)}, but no word was "
            "understood; listen to it and type what matters"
        )
    return (
        f"{recording.name}: nobody speaks in it (silence, or only noise or music); "
        "listen to it, and record again or leave it out"
    )


def _places(stretches: tuple[Stretch, ...]) -> str:
    shown = ", ".join(
        f"{int(part.start) // 60:02d}:{int(part.start) % 60:02d}" for part in stretches[:_NAMED]
    )
    return shown + (f" and {len(stretches) - _NAMED} more places" if len(stretches) > _NAMED else "")

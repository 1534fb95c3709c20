"""What to tell the user when a recording was read and no words came of it."""

from __future__ import annotations

from shared.types import Recording, Stretch, Transcript

_NAMED = 3


def nothing_heard(recording: Recording, transcript: Transcript) -> str | None:
    """A sentence when `recording` gave no words at all; None when it did."""
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

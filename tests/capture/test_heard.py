"""Silence, noise and words that nobody understood are told apart."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from capture.heard import what_to_tell
from shared.types import Recording, Removed, Stretch, Transcript, Utterance

QUIET = Recording("0" * 64, "quiet.wav", "audio/wav", 60.0, datetime(2026, 10, 13, tzinfo=UTC), "container")
NOBODY = (
    "quiet.wav: nobody speaks in it (silence, or only noise or music); "
    "listen to it, and record again or leave it out"
)


@pytest.mark.parametrize(
    ("transcript", "told"),
    [
        (Transcript(()), NOBODY),
        (Transcript((), removed=(Removed("Thank you.", 3.0, 4.0, "no voice there"),)), NOBODY),
        (
            Transcript((), (Stretch(3.2, 5.0), Stretch(64.0, 66.0))),
            "quiet.wav: somebody speaks at 00:03, 01:04, but no word was understood; "
            "listen to it and type what matters",
        ),
        (
            Transcript((), tuple(Stretch(10.0 * at, 10.0 * at + 2) for at in range(5))),
            "quiet.wav: somebody speaks at 00:00, 00:10, 00:20 and 2 more places, but no word was "
            "understood; listen to it and type what matters",
        ),
        (Transcript((Utterance("Soup, 118."),)), None),
        (Transcript((Utterance("Soup, 118."),), (Stretch(3.2, 5.0),)), None),
        (
            Transcript((Utterance("Soup, 118."),), warnings=("9.1 s of it cannot be read: 00:17 to 00:26",)),
            "quiet.wav: 9.1 s of it cannot be read: 00:17 to 00:26",
        ),
        (Transcript((), warnings=("breaks off after 9 s",)), f"quiet.wav: breaks off after 9 s; {NOBODY}"),
    ],
)
def test_what_is_told(transcript: Transcript, told: str | None) -> None:
    assert what_to_tell(QUIET, transcript) == told


def test_a_missing_end_that_was_told_when_it_was_taken_in_is_not_told_again() -> None:
    cut = replace(QUIET, warnings=("quiet.wav: breaks off after 9 s of 20 s; what is there is used",))
    heard = Transcript((Utterance("Soup, 118."),), warnings=("breaks off after 9 s of 20 s",))
    assert what_to_tell(cut, heard) is None

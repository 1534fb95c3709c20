"""What a stopped transcription had already done, kept block by block, so that the next run goes on there.

The folder is named after the recording's content, the model and all that changes the result, the version of
the program among it; nothing is ever taken over from a run that would have heard something else.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from capture.speech.weights import cache_folder, sha256
from shared import wire
from shared.errors import InputError
from shared.types import Doubt, Removed, Stretch, Transcript, Utterance, Word


@dataclass(frozen=True, slots=True)
class Done:
    """A finished block."""

    index: int
    end: int
    """Samples of the recording up to the end of the block."""
    part: Transcript


class Checkpoints:
    """The finished blocks of one recording under one set of settings."""

    def __init__(self, root: Path, recording: Path, settings: Mapping[str, object]) -> None:
        told = json.dumps(settings, sort_keys=True)
        key = hashlib.sha256(f"{sha256(recording)}\n{told}".encode()).hexdigest()
        self._folder = root / key[:32]

    def done(self) -> list[Done]:
        """The finished blocks, in order from the first, up to the first that is missing or damaged."""
        found: list[Done] = []
        while True:
            try:
                told = json.loads(self._file(len(found)).read_text(encoding="utf-8"))
                found.append(Done(len(found), int(told["end"]), _transcript(told["part"])))
            except (OSError, ValueError, KeyError, TypeError):
                return found

    def keep(self, done: Done) -> None:
        """Stores a block, whole or not at all. Raises `InputError` when there is no room."""
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            part = self._file(done.index).with_suffix(".part")
            with part.open("w", encoding="utf-8") as out:
                json.dump({"end": done.end, "part": wire.plain(done.part)}, out)
                out.flush()
                os.fsync(out.fileno())
            part.replace(self._file(done.index))
        except OSError as error:
            raise InputError(
                f"{self._folder}: progress cannot be kept there ({error.strerror}); free some room, or set "
                "PROBESIDE_CACHE to another folder"
            ) from error

    def clear(self) -> None:
        """Forgets the blocks; to be called when the whole transcript is safe."""
        shutil.rmtree(self._folder, ignore_errors=True)

    def _file(self, index: int) -> Path:
        return self._folder / f"block-{index:04d}.json"


def default_folder() -> Path:
    """Where the command line keeps progress."""
    return cache_folder() / "progress"


def _transcript(told: Mapping[str, Any]) -> Transcript:
    return Transcript(
        tuple(_utterance(item) for item in told["utterances"]),
        tuple(Stretch(**item) for item in told["not_understood"]),
        tuple(Removed(**item) for item in told["removed"]),
        tuple(told["warnings"]),
    )


def _utterance(told: Mapping[str, Any]) -> Utterance:
    doubts = [
        Doubt(
            **{
                **item,
                "span": tuple(item["span"]) if item["span"] else None,
                "alternatives": tuple(item["alternatives"]),
            }
        )
        for item in told["doubts"]
    ]
    return Utterance(
        told["text"],
        told["start"],
        told["end"],
        tuple(Word(**item) for item in told["words"]),
        tuple(doubts),
        told["heard"],
    )

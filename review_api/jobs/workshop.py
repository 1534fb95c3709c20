"""What the steps work with: the data folder, its database, the originals, the speech model, loaded once."""

from __future__ import annotations

import threading
import time
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Protocol

from capture.originals import Originals
from review_api.data_folder import DataFolder
from review_api.settings import Settings
from review_api.store import inspections
from review_api.store.database import Database

if TYPE_CHECKING:
    from capture.speech import SpeechModel

_QUIET_S = 0.4
"""The shortest time between two notes of progress."""


class Tell(Protocol):
    """Notes how far a step is: part of the whole work, and a few words."""

    def __call__(self, part: float, note: str = "", /) -> None: ...


@dataclass
class Workshop:
    """One worker's tools."""

    folder: DataFolder
    database: Database
    settings: Settings
    _told: float = 0.0
    _lock: threading.Lock = field(default_factory=threading.Lock)

    @cached_property
    def originals(self) -> Originals:
        return Originals(self.folder.originals)

    @cached_property
    def model(self) -> SpeechModel:
        """The speech model. Raises WeightsError."""
        from capture.speech import load_model

        return load_model(self.settings.speech_model)

    def teller(self, inspection_id: int, step: str) -> Tell:
        """What notes how far this step is; too frequent notes are passed over."""

        def tell(part: float, note: str = "", /) -> None:
            with self._lock:
                if time.monotonic() - self._told < _QUIET_S:
                    return
                self._told = time.monotonic()
            with self.database.writing() as session:
                inspection = inspections.get(session, inspection_id)
                inspection.state, inspection.step = "working", step
                inspection.part, inspection.note = round(part, 3), note
                session.add(inspection)

        return tell

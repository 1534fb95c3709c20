"""The one folder in which the service keeps everything: database, originals, what was derived, reports."""

from __future__ import annotations

import errno
import fcntl
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from shared.errors import InputError


@dataclass(frozen=True, slots=True)
class DataFolder:
    """Where each kind of thing lies below `root`."""

    root: Path

    @property
    def database(self) -> Path:
        return self.root / "probeside.sqlite"

    @property
    def originals(self) -> Path:
        return self.root / "originals"

    @property
    def inbox(self) -> Path:
        """Files as they were handed over, until intake has taken them into the originals."""
        return self.root / "inbox"

    @property
    def derived(self) -> Path:
        """What can be computed again from the originals: may be deleted at any time."""
        return self.root / "derived"

    @property
    def reports(self) -> Path:
        return self.root / "reports"

    def make(self) -> DataFolder:
        """Makes the folder and its parts. Raises InputError where it cannot be written."""
        try:
            for folder in (self.root, self.originals, self.inbox, self.derived, self.reports):
                folder.mkdir(parents=True, exist_ok=True)
                folder.chmod(0o700)
        except OSError as error:
            raise InputError(
                f"{self.root}: cannot be used as data folder ({error.strerror}); name another with --data"
            ) from error
        return self

    @contextmanager
    def held(self) -> Iterator[None]:
        """Holds the folder for this process alone: its jobs must not be taken up by two at once.

        Raises InputError while another process holds it. However
        this process ends, the system lets go of it.
        """
        handle = os.open(self.root / "worker.lock", os.O_RDWR | os.O_CREAT, 0o600)
        try:
            try:
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except OSError as error:
                if error.errno not in (errno.EAGAIN, errno.EACCES):
                    raise
                raise InputError(
                    f"{self.root}: another Probeside is working in this data folder; "
                    "stop it, or name another with --data"
                ) from error
            yield
        finally:
            os.close(handle)

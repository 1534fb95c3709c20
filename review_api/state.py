"""The running service: a data folder, its database, its settings and its queue of work."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from capture.originals import Originals
from review_api.data_folder import DataFolder
from review_api.jobs.queue import Jobs
from review_api.settings import Settings
from review_api.store.database import Database


@dataclass
class State:
    """The running service."""

    folder: DataFolder
    database: Database
    settings: Settings
    jobs: Jobs

    @cached_property
    def originals(self) -> Originals:
        return Originals(self.folder.originals)


def open_state(folder: DataFolder, settings: Settings) -> State:
    """The data folder ready for work: its parts made, its database brought to the newest form."""
    folder.make()
    database = Database.at(folder.database)
    database.migrate()
    return State(folder=folder, database=database, settings=settings, jobs=Jobs(database))

"""The running service: a data folder, its database, its settings and its queue of work."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from functools import cached_property

import sqlalchemy as sa
from alembic.util.exc import CommandError

from capture.originals import Originals
from review_api.data_folder import DataFolder
from review_api.jobs.queue import Jobs
from review_api.settings import Settings
from review_api.store.database import Database
from shared.errors import InputError


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
    """The data folder ready for work: its parts made, its database brought to the newest form.

    Raises InputError where the folder cannot be used, or its database is damaged or of a newer Probeside.
    """
    folder.make()
    database = Database.at(folder.database)
    try:
        database.migrate()
        return State(folder=folder, database=database, settings=settings, jobs=Jobs(database))
    except (sa.exc.DBAPIError, sqlite3.Error) as error:
        database.close()
        told = str(getattr(error, "orig", None) or error)
        raise InputError(
            f"{folder.database}: cannot be used as database ({told}); put back a copy of the data folder"
        ) from error
    except CommandError as error:
        database.close()
        raise InputError(
            f"{folder.database}: was made by another version of Probeside ({error}); start that one"
        ) from error

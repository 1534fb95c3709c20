"""The database: its engine with the settings that keep what was said to be saved, and its migrations."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import sqlalchemy as sa
from alembic import command
from alembic.config import Config
from sqlalchemy import event
from sqlmodel import Session

MIGRATIONS = Path(__file__).parent / "migrations"


class Database:
    """One database, SQLite by default: `Database.at(path)`; any other by its address."""

    def __init__(self, address: str) -> None:
        self.address = address
        self.engine = sa.create_engine(address)
        if self.engine.dialect.name == "sqlite":
            event.listen(self.engine, "connect", _settle)

    @classmethod
    def at(cls, path: Path) -> Database:
        return cls(f"sqlite:///{path}")

    def migrate(self) -> None:
        """Brings the tables to the newest form; safe to call at every start."""
        config = Config()
        config.set_main_option("script_location", str(MIGRATIONS))
        with self.engine.begin() as connection:
            config.attributes["connection"] = connection
            command.upgrade(config, "head")

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """A session that only reads: sees one state of the database from beginning to end."""
        with Session(self.engine, autoflush=False) as session:
            self._begin(session, "BEGIN")
            yield session

    @contextmanager
    def writing(self) -> Iterator[Session]:
        """A session in one transaction, begun as a writer: all of it is stored, or nothing."""
        with Session(self.engine, expire_on_commit=False) as session, session.begin():
            self._begin(session, "BEGIN IMMEDIATE")
            yield session

    def _begin(self, session: Session, statement: str) -> None:
        """The driver begins a transaction only at the first change, too late for what was read before it."""
        if self.engine.dialect.name == "sqlite":
            session.connection().exec_driver_sql(statement)

    def close(self) -> None:
        self.engine.dispose()


def _settle(connection: Any, _record: object) -> None:
    """What SQLite needs so that a power cut loses nothing, and writers wait for each other."""
    connection.isolation_level = "IMMEDIATE"
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    connection.execute("PRAGMA busy_timeout=30000")
    connection.execute("PRAGMA foreign_keys=ON")

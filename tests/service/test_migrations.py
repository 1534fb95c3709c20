"""The tables that the migrations make are those that the program works with."""

from __future__ import annotations

from pathlib import Path

import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlmodel import SQLModel

from review_api.store import tables
from review_api.store.database import Database


def test_migrations_and_models_agree(tmp_path: Path) -> None:
    database = Database.at(tmp_path / "new.sqlite")
    database.migrate()
    with database.engine.connect() as connection:
        context = MigrationContext.configure(
            connection,
            opts={
                "include_object": lambda _item, name, kind, *_: (
                    kind != "table" or name in SQLModel.metadata.tables
                ),
                "compare_type": False,
            },
        )
        assert compare_metadata(context, SQLModel.metadata) == []
    database.close()


def test_migrating_again_changes_nothing(tmp_path: Path) -> None:
    database = Database.at(tmp_path / "new.sqlite")
    database.migrate()
    with database.writing() as session:
        session.add(tables.Word(meant="quat"))
    database.migrate()
    with database.reading() as session:
        assert session.get_one(tables.Word, 1).meant == "quat"
    database.close()


def test_what_sqlite_needs_to_lose_nothing_is_set(tmp_path: Path) -> None:
    database = Database.at(tmp_path / "new.sqlite")
    with database.engine.connect() as connection:
        settings = {
            name: connection.execute(sa.text(f"PRAGMA {name}")).scalar()
            for name in ("journal_mode", "synchronous", "busy_timeout", "foreign_keys")
        }
    assert settings == {"journal_mode": "wal", "synchronous": 2, "busy_timeout": 30_000, "foreign_keys": 1}
    database.close()

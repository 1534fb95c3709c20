"""Runs the migrations on the connection that `Database.migrate` gives, on our own tables only."""

from __future__ import annotations

from alembic import context
from sqlmodel import SQLModel

from review_api.store import tables

OURS = frozenset(SQLModel.metadata.tables)
assert tables.Inspection.__tablename__ in OURS


def _ours(_item: object, name: str | None, kind: str, _reflected: bool, _against: object) -> bool:
    return kind != "table" or name in OURS


context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=SQLModel.metadata,
    include_object=_ours,
    version_table="probeside_version",
)
with context.begin_transaction():
    context.run_migrations()

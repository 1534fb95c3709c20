"""The first tables, the search index, and the guard of the event log."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


_SEARCH = """
CREATE VIRTUAL TABLE search USING fts5(
    inspection_id UNINDEXED, kind UNINDEXED, subject UNINDEXED, body,
    tokenize = 'unicode61 remove_diacritics 2'
)
"""

_GUARDS = (
    """
    CREATE TRIGGER event_stays BEFORE UPDATE ON event
    BEGIN SELECT RAISE(ABORT, 'the event log is never changed'); END
    """,
    """
    CREATE TRIGGER event_is_kept BEFORE DELETE ON event
    BEGIN SELECT RAISE(ABORT, 'the event log is never changed'); END
    """,
    """
    CREATE TRIGGER event_follows BEFORE INSERT ON event
    WHEN NEW.sequence != 1 + (
        SELECT coalesce(max(sequence), 0) FROM event WHERE inspection_id = NEW.inspection_id
    )
    BEGIN SELECT RAISE(ABORT, 'an event is only ever added at the end of the log'); END
    """,
)


def upgrade() -> None:
    op.create_table(
        "inspection",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("number", sa.String(), nullable=False),
        sa.Column("content", sa.String(), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("rules", sa.String(), nullable=False),
        sa.Column("state", sa.String(), nullable=False),
        sa.Column("generation", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("facts", sa.JSON(), nullable=False),
        sa.Column("problems", sa.JSON(), nullable=False),
        sa.Column("step", sa.String(), nullable=False),
        sa.Column("part", sa.Float(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("establishment", sa.String(), nullable=True),
        sa.Column("visited", sa.String(32), nullable=True),
        sa.Column("findings", sa.Integer(), nullable=False),
        sa.Column("undecided", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("number"),
    )
    op.create_index(op.f("ix_inspection_content"), "inspection", ["content"], unique=True)
    op.create_index(op.f("ix_inspection_state"), "inspection", ["state"], unique=False)
    op.create_index(op.f("ix_inspection_visited"), "inspection", ["visited"], unique=False)
    op.create_table(
        "vocabulary",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("meant", sa.String(), nullable=False),
        sa.Column("heard", sa.String(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("meant", "heard"),
    )
    op.create_table(
        "choice",
        sa.Column("inspection_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("subject", sa.String(), nullable=False),
        sa.Column("value", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["inspection_id"], ["inspection.id"]),
        sa.PrimaryKeyConstraint("inspection_id", "kind", "subject"),
    )
    op.create_table(
        "due",
        sa.Column("inspection_id", sa.Integer(), nullable=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("subject", sa.String(), nullable=False),
        sa.Column("text", sa.String(), nullable=False),
        sa.Column("at", sa.String(32), nullable=False),
        sa.Column("done", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(["inspection_id"], ["inspection.id"]),
        sa.PrimaryKeyConstraint("inspection_id", "what", "subject"),
    )
    op.create_index("due_open_by_time", "due", ["done", "at"], unique=False)
    op.create_table(
        "event",
        sa.Column("inspection_id", sa.Integer(), nullable=False),
        sa.Column("sequence", sa.Integer(), nullable=False),
        sa.Column("event", sa.JSON(), nullable=False),
        sa.Column("previous", sa.String(), nullable=False),
        sa.Column("hash", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(["inspection_id"], ["inspection.id"]),
        sa.PrimaryKeyConstraint("inspection_id", "sequence"),
        sa.UniqueConstraint("inspection_id", "hash"),
    )
    op.create_table(
        "photo",
        sa.Column("inspection_id", sa.Integer(), nullable=False),
        sa.Column("sha256", sa.String(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("content", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["inspection_id"], ["inspection.id"]),
        sa.PrimaryKeyConstraint("inspection_id", "sha256"),
    )
    op.create_table(
        "proposal",
        sa.Column("inspection_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("subject", sa.String(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("anchor", sa.JSON(), nullable=False),
        sa.Column("content", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["inspection_id"], ["inspection.id"]),
        sa.PrimaryKeyConstraint("inspection_id", "kind", "subject"),
    )
    op.create_table(
        "recording",
        sa.Column("inspection_id", sa.Integer(), nullable=False),
        sa.Column("sha256", sa.String(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("content", sa.JSON(), nullable=False),
        sa.Column("heard", sa.JSON(), nullable=True),
        sa.Column("not_understood", sa.JSON(), nullable=False),
        sa.Column("removed", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["inspection_id"], ["inspection.id"]),
        sa.PrimaryKeyConstraint("inspection_id", "sha256"),
    )
    op.create_table(
        "report",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("inspection_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("sha256", sa.String(), nullable=False),
        sa.Column("record", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["inspection_id"], ["inspection.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_report_inspection_id"), "report", ["inspection_id"], unique=False)
    op.create_table(
        "seen",
        sa.Column("inspection_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("subject", sa.String(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["inspection_id"], ["inspection.id"]),
        sa.PrimaryKeyConstraint("inspection_id", "kind", "subject"),
    )
    op.create_table(
        "utterance",
        sa.Column("inspection_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("recording", sa.String(), nullable=True),
        sa.Column("content", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["inspection_id"], ["inspection.id"]),
        sa.PrimaryKeyConstraint("inspection_id", "position"),
    )
    if op.get_context().dialect.name == "sqlite":
        op.execute(_SEARCH)
        for statement in _GUARDS:
            op.execute(statement)


def downgrade() -> None:
    raise NotImplementedError("going back would lose decisions; restore a copy of the data folder")

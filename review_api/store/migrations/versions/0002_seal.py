"""Sealing and hand-over, and the guard over everything that a seal covers."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

_COVERED = ("choice", "proposal", "utterance", "recording", "photo")
"""Tables that a report is made from: once it is sealed, their rows of that inspection stay as they are."""

_SAYS = "this inspection is sealed; it changes only by an amendment"


def upgrade() -> None:
    op.create_table(
        "sealing",
        sa.Column("inspection_id", sa.Integer(), sa.ForeignKey("inspection.id"), nullable=False),
        sa.Column("number", sa.String(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("record", sa.JSON(), nullable=False),
        sa.Column("amends", sa.Integer(), sa.ForeignKey("report.id"), nullable=True),
        sa.Column("log_head", sa.String(), nullable=False),
        sa.Column("who", sa.String(), nullable=False),
        sa.Column("done", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("inspection_id", "number"),
    )
    op.create_table(
        "hand_over",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("inspection_id", sa.Integer(), sa.ForeignKey("inspection.id"), nullable=False),
        sa.Column("report_id", sa.Integer(), sa.ForeignKey("report.id"), nullable=False),
        sa.Column("at", sa.String(32), nullable=False),
        sa.Column("how", sa.String(), nullable=False),
        sa.Column("to_whom", sa.String(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("ix_hand_over_inspection_id", "hand_over", ["inspection_id"])
    if op.get_context().dialect.name == "sqlite":
        for statement in _guards():
            op.execute(statement)


def _guards() -> list[str]:
    guards = []
    for table in _COVERED:
        for deed, row in (("INSERT", "NEW"), ("UPDATE", "OLD"), ("DELETE", "OLD")):
            guards.append(
                f"CREATE TRIGGER {table}_sealed_{deed.lower()} BEFORE {deed} ON {table} WHEN EXISTS ("
                f"SELECT 1 FROM sealing WHERE inspection_id = {row}.inspection_id AND kind = 'sealed')"
                f" BEGIN SELECT RAISE(ABORT, '{_SAYS}'); END"
            )
    guards.append(
        "CREATE TRIGGER inspection_sealed BEFORE UPDATE OF number, content, made, rules, facts, problems"
        " ON inspection WHEN EXISTS (SELECT 1 FROM sealing WHERE inspection_id = OLD.id AND kind = 'sealed')"
        " AND (NEW.number != OLD.number OR NEW.content != OLD.content OR NEW.made != OLD.made"
        " OR NEW.rules != OLD.rules OR NEW.facts != OLD.facts OR NEW.problems != OLD.problems)"
        f" BEGIN SELECT RAISE(ABORT, '{_SAYS}'); END"
    )
    guards += [
        "CREATE TRIGGER sealing_stays BEFORE UPDATE ON sealing WHEN OLD.done"
        " OR NEW.record != OLD.record OR NEW.number != OLD.number OR NEW.log_head != OLD.log_head"
        f" BEGIN SELECT RAISE(ABORT, '{_SAYS}'); END",
        f"CREATE TRIGGER sealing_is_kept BEFORE DELETE ON sealing BEGIN SELECT RAISE(ABORT, '{_SAYS}'); END",
        "CREATE TRIGGER report_stays BEFORE UPDATE ON report WHEN OLD.kind != 'draft'"
        f" BEGIN SELECT RAISE(ABORT, '{_SAYS}'); END",
        "CREATE TRIGGER report_is_kept BEFORE DELETE ON report WHEN OLD.kind != 'draft'"
        f" BEGIN SELECT RAISE(ABORT, '{_SAYS}'); END",
        "CREATE TRIGGER hand_over_stays BEFORE UPDATE ON hand_over"
        " BEGIN SELECT RAISE(ABORT, 'a hand-over is never changed'); END",
        "CREATE TRIGGER hand_over_is_kept BEFORE DELETE ON hand_over"
        " BEGIN SELECT RAISE(ABORT, 'a hand-over is never changed'); END",
    ]
    return guards


def downgrade() -> None:
    raise NotImplementedError("going back would lose decisions; restore a copy of the data folder")

"""Recordings and photos are asked for by their hash alone."""

from __future__ import annotations

from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_index("ix_recording_sha256", "recording", ["sha256"])
    op.create_index("ix_photo_sha256", "photo", ["sha256"])


def downgrade() -> None:
    op.drop_index("ix_photo_sha256", "photo")
    op.drop_index("ix_recording_sha256", "recording")

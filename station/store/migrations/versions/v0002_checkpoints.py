"""Version 0002: checkpoints, so that a start need not fold the whole journal again."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        "checkpoints",
        sa.Column("seq", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("digest", sa.String(64), nullable=False),
        sa.Column("code", sa.String(64), nullable=False),
        sa.Column("seal", sa.String(64), nullable=False),
        sa.Column("standing", sa.Text, nullable=False),
    )


def downgrade() -> None:
    """A checkpoint is only a shortcut."""
    op.drop_table("checkpoints")

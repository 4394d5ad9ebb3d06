"""Version 0007: the air's humidity beside each pour. Casts from before it was kept have none."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the column."""
    op.add_column("pours", sa.Column("humidity_percent", sa.Float(53)))


def downgrade() -> None:
    """It can be told again from the journal."""
    op.drop_column("pours", "humidity_percent")

"""Version 0006: what may have mattered in each pour, so that many casts can be compared at once."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table. What it holds takes plans and weighings to reckon: `versions` has it filled from the journal."""
    op.create_table(
        "pours",
        sa.Column("number", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("poured_seq", sa.Integer, sa.ForeignKey("journal.seq"), nullable=False),
        sa.Column("before", sa.Integer),
        sa.Column("mold_key", sa.Text, nullable=False),
        sa.Column("material_key", sa.Text, nullable=False),
        sa.Column("mold_shot", sa.Integer, nullable=False),
        sa.Column("released_shot", sa.Integer),
        sa.Column("renewed", sa.SmallInteger, nullable=False, server_default="0"),
        sa.Column("planned_mg", sa.BigInteger, nullable=False),
        sa.Column("mixed_mg", sa.BigInteger, nullable=False),
        sa.Column("left_mg", sa.BigInteger),
        sa.Column("ratio_error", sa.Float(53)),
        sa.Column("mix_s", sa.Float(53)),
        sa.Column("contact_s", sa.Float(53)),
        sa.Column("cure_s", sa.Float(53)),
        sa.Column("temperature_c", sa.Float(53)),
        sa.Column("cavity_cm3", sa.Float(53)),
        sa.Column("free_rise", sa.Float(53)),
        sa.Column("lots", sa.Text, nullable=False),
    )
    op.create_index("ix_pours_poured_seq", "pours", ["poured_seq"])
    op.create_index("ix_pours_mold_key_number", "pours", ["mold_key", "number"])
    op.create_index("ix_pours_mold_key_material_key_number", "pours", ["mold_key", "material_key", "number"])
    op.create_index("ix_pours_mold_key_mold_shot", "pours", ["mold_key", "mold_shot"])
    op.create_index("ix_pours_material_key_number", "pours", ["material_key", "number"])


def downgrade() -> None:
    """All of it can be told again from the journal."""
    op.drop_table("pours")

"""Version 0004: parts and how they were judged: mass, verdict, defects, hardness and lengths."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add what the parts need. Before this version nobody could say any of it, so only the waiting is filled in."""
    op.add_column("casts", sa.Column("part_mg", sa.BigInteger))
    op.add_column("casts", sa.Column("trimmed", sa.SmallInteger))
    op.add_column("casts", sa.Column("verdict", sa.String(10)))
    op.add_column("casts", sa.Column("waits", sa.SmallInteger, nullable=False, server_default="0"))
    op.execute("UPDATE casts SET waits = 1 WHERE stage = 'demolded'")
    op.create_index("ix_casts_verdict_number", "casts", ["verdict", "number"])
    op.create_index("ix_casts_waits_number", "casts", ["waits", "number"])
    op.create_table(
        "defects",
        sa.Column("cast_number", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("ordinal", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("kind", sa.String(20), nullable=False),
        sa.Column("severity", sa.String(20), nullable=False),
        sa.Column("place", sa.Text, nullable=False),
    )
    op.create_index("ix_defects_kind_cast_number", "defects", ["kind", "cast_number"])
    op.create_table(
        "hardness",
        sa.Column("seq", sa.Integer, sa.ForeignKey("journal.seq"), primary_key=True, autoincrement=False),
        sa.Column("cast_number", sa.Integer, nullable=False),
        sa.Column("reading", sa.Integer, nullable=False),
        sa.Column("scale", sa.String(10), nullable=False),
        sa.Column("value", sa.Float(53), nullable=False),
        sa.Column("place", sa.Text, nullable=False),
        sa.Column("since_demold_s", sa.Float(53)),
        sa.Column("withdrawn_seq", sa.Integer, sa.ForeignKey("journal.seq")),
    )
    op.create_index("ix_hardness_cast_number_seq", "hardness", ["cast_number", "seq"])
    op.create_table(
        "lengths",
        sa.Column("seq", sa.Integer, sa.ForeignKey("journal.seq"), primary_key=True, autoincrement=False),
        sa.Column("cast_number", sa.Integer, nullable=False),
        sa.Column("mold_mm", sa.Float(53), nullable=False),
        sa.Column("part_mm", sa.Float(53), nullable=False),
        sa.Column("place", sa.Text, nullable=False),
        sa.Column("replaced_seq", sa.Integer, sa.ForeignKey("journal.seq")),
    )
    op.create_index("ix_lengths_cast_number_seq", "lengths", ["cast_number", "seq"])


def downgrade() -> None:
    """All of it can be told again from the journal."""
    for table in ("lengths", "hardness", "defects"):
        op.drop_table(table)
    for index in ("ix_casts_verdict_number", "ix_casts_waits_number"):
        op.drop_index(index, "casts")
    for column in ("part_mg", "trimmed", "verdict", "waits"):
        op.drop_column("casts", column)

"""Version 0001: the journal, evidence, traces and the first derived tables."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

_REFUSALS = {
    "journal_keeps_rows": "BEFORE DELETE ON journal",
    "journal_keeps_values": "BEFORE UPDATE ON journal",
}


def upgrade() -> None:
    """Make the tables. On SQLite two triggers refuse to change or remove a journal row."""
    op.create_table(
        "journal",
        sa.Column("seq", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("kind", sa.String(40), nullable=False),
        sa.Column("cast_number", sa.Integer),
        sa.Column("boot_id", sa.Text, nullable=False),
        sa.Column("boot_s", sa.Float(53), nullable=False),
        sa.Column("wall", sa.Text, nullable=False),
        sa.Column("trusted", sa.SmallInteger, nullable=False),
        sa.Column("payload", sa.Text, nullable=False),
        sa.Column("previous", sa.String(64), nullable=False),
        sa.Column("digest", sa.String(64), nullable=False),
    )
    op.create_index("ix_journal_cast_number_seq", "journal", ["cast_number", "seq"])
    op.create_table(
        "evidence",
        sa.Column("ordinal", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("boot_id", sa.Text, nullable=False, unique=True),
        sa.Column("first_boot_s", sa.Float(53), nullable=False),
        sa.Column("first_wall", sa.Text, nullable=False),
        sa.Column("first_trusted", sa.SmallInteger, nullable=False),
        sa.Column("last_boot_s", sa.Float(53), nullable=False),
        sa.Column("last_wall", sa.Text, nullable=False),
        sa.Column("last_trusted", sa.SmallInteger, nullable=False),
        sa.Column("wall_offset", sa.Float(53)),
        sa.Column("journal_seq", sa.Integer),
        sa.Column("journal_digest", sa.String(64)),
    )
    op.create_table(
        "traces",
        sa.Column("cast_number", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("step", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("points", sa.LargeBinary, nullable=False),
    )
    _derived_tables()
    if op.get_bind().dialect.name == "sqlite":
        for name, when in _REFUSALS.items():
            op.execute(f"CREATE TRIGGER {name} {when} BEGIN SELECT RAISE(ABORT, 'the journal only grows'); END")


def _derived_tables() -> None:
    op.create_table(
        "casts",
        sa.Column("number", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("begun_seq", sa.Integer, sa.ForeignKey("journal.seq"), nullable=False),
        sa.Column("begun_by", sa.Text, nullable=False),
        sa.Column("material_key", sa.Text, nullable=False),
        sa.Column("material", sa.Text, nullable=False),
        sa.Column("mold_key", sa.Text, nullable=False),
        sa.Column("mold", sa.Text, nullable=False),
        sa.Column("way", sa.String(20), nullable=False),
        sa.Column("total_mg", sa.BigInteger, nullable=False),
        sa.Column("stage", sa.String(20), nullable=False),
        sa.Column("stage_seq", sa.Integer, sa.ForeignKey("journal.seq"), nullable=False),
        sa.Column("searched", sa.Text, nullable=False),
    )
    op.create_index("ix_casts_stage_number", "casts", ["stage", "number"])
    op.create_index("ix_casts_material_key_number", "casts", ["material_key", "number"])
    op.create_table(
        "weighings",
        sa.Column("seq", sa.Integer, sa.ForeignKey("journal.seq"), primary_key=True, autoincrement=False),
        sa.Column("cast_number", sa.Integer, nullable=False),
        sa.Column("step", sa.Integer, nullable=False),
        sa.Column("ingredient", sa.Text, nullable=False),
        sa.Column("cup", sa.Text, nullable=False),
        sa.Column("target_mg", sa.BigInteger, nullable=False),
        sa.Column("low_mg", sa.BigInteger, nullable=False),
        sa.Column("high_mg", sa.BigInteger, nullable=False),
        sa.Column("net_mg", sa.BigInteger, nullable=False),
        sa.Column("reopened_seq", sa.Integer, sa.ForeignKey("journal.seq")),
    )
    op.create_index("ix_weighings_cast_number_seq", "weighings", ["cast_number", "seq"])
    op.create_table(
        "alarms",
        sa.Column("raised_seq", sa.Integer, sa.ForeignKey("journal.seq"), primary_key=True, autoincrement=False),
        sa.Column("cast_number", sa.Integer, nullable=False),
        sa.Column("clock", sa.String(20), nullable=False),
        sa.Column("late_s", sa.Float(53)),
        sa.Column("why", sa.Text, nullable=False),
        sa.Column("due_while_off", sa.SmallInteger, nullable=False),
        sa.Column("silenced_seq", sa.Integer, sa.ForeignKey("journal.seq")),
        sa.Column("acknowledged_by", sa.Text),
        sa.Column("after_s", sa.Float(53)),
    )
    op.create_index("ix_alarms_cast_number_raised_seq", "alarms", ["cast_number", "raised_seq"])

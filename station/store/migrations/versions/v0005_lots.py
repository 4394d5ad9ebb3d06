"""Version 0005: which casts were begun with a lot, and how often its container was counted."""

from __future__ import annotations

import json

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make both tables and fill them from the journal."""
    op.create_table(
        "cast_lots",
        sa.Column("lot", sa.Text, primary_key=True),
        sa.Column("cast_number", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("ingredient", sa.Text, primary_key=True),
    )
    op.create_index("ix_cast_lots_cast_number", "cast_lots", ["cast_number"])
    op.create_table(
        "lot_counts",
        sa.Column("seq", sa.Integer, sa.ForeignKey("journal.seq"), primary_key=True, autoincrement=False),
        sa.Column("lot", sa.Text, nullable=False),
    )
    op.create_index("ix_lot_counts_lot_seq", "lot_counts", ["lot", "seq"])
    db = op.get_bind()
    _fill_lots(db)
    _fill_counts(db)


def downgrade() -> None:
    """All of it can be told again from the journal."""
    op.drop_table("lot_counts")
    op.drop_table("cast_lots")


def _fill_lots(db: sa.Connection) -> None:
    begun = db.execute(
        sa.text("SELECT casts.number, journal.payload FROM casts JOIN journal ON journal.seq = casts.begun_seq")
    ).all()
    rows = [
        {"lot": lot, "number": number, "ingredient": ingredient}
        for number, payload in begun
        for lot, ingredient in dict.fromkeys(
            (_storable(one["number"]), _storable(one["component"])) for one in json.loads(payload)["plan"]["lots"]
        )
    ]
    if rows:
        db.execute(
            sa.text("INSERT INTO cast_lots (lot, cast_number, ingredient) VALUES (:lot, :number, :ingredient)"), rows
        )


def _fill_counts(db: sa.Connection) -> None:
    counted = db.execute(
        sa.text("SELECT seq, payload FROM journal WHERE cast_number IS NULL AND kind = 'LotCounted'")
    ).all()
    rows = [{"seq": seq, "lot": _storable(json.loads(payload)["lot"])} for seq, payload in counted]
    if rows:
        db.execute(sa.text("INSERT INTO lot_counts (seq, lot) VALUES (:seq, :lot)"), rows)


def _storable(text: str) -> str:
    return text.replace("\0", "").encode("utf-8", "replace").decode("utf-8")

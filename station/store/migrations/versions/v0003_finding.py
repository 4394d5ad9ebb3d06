"""Version 0003: finding casts among many: by day, by mold, and by parts of words in names, lots and notes."""

from __future__ import annotations

import json
from datetime import datetime

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

_TEXT = (
    # Three letters in a row are looked up in an index; the text itself stays in `casts`.
    "CREATE VIRTUAL TABLE casts_text USING fts5"
    "(searched, content='casts', content_rowid='number', tokenize='trigram', columnsize=0)",
    "CREATE TRIGGER casts_text_new AFTER INSERT ON casts BEGIN"
    " INSERT INTO casts_text(rowid, searched) VALUES (new.number, new.searched); END",
    "CREATE TRIGGER casts_text_gone AFTER DELETE ON casts BEGIN"
    " INSERT INTO casts_text(casts_text, rowid, searched) VALUES ('delete', old.number, old.searched); END",
    "CREATE TRIGGER casts_text_changed AFTER UPDATE OF searched ON casts BEGIN"
    " INSERT INTO casts_text(casts_text, rowid, searched) VALUES ('delete', old.number, old.searched);"
    " INSERT INTO casts_text(rowid, searched) VALUES (new.number, new.searched); END",
    "INSERT INTO casts_text(casts_text) VALUES ('rebuild')",
)


def upgrade() -> None:
    """Add what is looked up, from what the journal says of each cast."""
    op.add_column("casts", sa.Column("begun_s", sa.Float(53), nullable=False, server_default="0"))
    op.add_column("casts", sa.Column("begun_sure", sa.SmallInteger, nullable=False, server_default="0"))
    db = op.get_bind()
    _fill_days(db)
    _fill_notes(db)
    op.create_index("ix_casts_mold_key_number", "casts", ["mold_key", "number"])
    op.create_index("ix_casts_begun_s_number", "casts", ["begun_s", "number"])
    if db.dialect.name == "sqlite":
        for statement in _TEXT:
            op.execute(statement)


def downgrade() -> None:
    """All of it can be told again from the journal."""
    if op.get_bind().dialect.name == "sqlite":
        for trigger in ("casts_text_new", "casts_text_gone", "casts_text_changed"):
            op.execute(f"DROP TRIGGER {trigger}")
        op.execute("DROP TABLE casts_text")
    op.drop_index("ix_casts_mold_key_number", "casts")
    op.drop_index("ix_casts_begun_s_number", "casts")
    op.drop_column("casts", "begun_s")
    op.drop_column("casts", "begun_sure")


def _fill_days(db: sa.Connection) -> None:
    rows = db.execute(
        sa.text(
            "SELECT casts.number, journal.wall, journal.trusted, journal.boot_s, evidence.wall_offset FROM casts"
            " JOIN journal ON journal.seq = casts.begun_seq LEFT JOIN evidence ON evidence.boot_id = journal.boot_id"
        )
    )
    days = []
    for number, wall, trusted, boot_s, offset in rows:
        known = trusted or offset is None
        begun = datetime.fromisoformat(wall).timestamp() if known else offset + boot_s
        days.append({"number": number, "begun_s": begun, "begun_sure": int(bool(trusted))})
    if days:
        change = "UPDATE casts SET begun_s = :begun_s, begun_sure = :begun_sure WHERE number = :number"
        db.execute(sa.text(change), days)


def _fill_notes(db: sa.Connection) -> None:
    rows = db.execute(
        sa.text(
            "SELECT journal.cast_number, journal.payload FROM journal"
            " JOIN casts ON casts.number = journal.cast_number AND journal.seq > casts.begun_seq"
            " WHERE journal.kind = 'Noted' ORDER BY journal.seq"
        )
    ).all()
    for number, payload in rows:
        words = json.loads(payload)["text"].replace("\0", "").encode("utf-8", "replace").decode("utf-8").casefold()
        change = "UPDATE casts SET searched = searched || ' ' || :words WHERE number = :number"
        db.execute(sa.text(change), {"words": words, "number": number})

"""Tables of the record: the journal, the evidence of having run, the traces, and the tables derived for lists.

The journal is the truth and only grows. The tables of `DERIVED` can be thrown away and rebuilt from it; they point at
journal rows for every moment. Masses are whole milligrams.
"""

from __future__ import annotations

from typing import Final

from sqlalchemy import (
    BigInteger,
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    SmallInteger,
    String,
    Table,
    Text,
)

VERSION: Final = "0007"
"""The newest migration; a record of this version needs none."""

metadata: Final = MetaData()

journal: Final = Table(
    "journal",
    metadata,
    Column("seq", Integer, primary_key=True, autoincrement=False),
    Column("kind", String(40), nullable=False),
    Column("cast_number", Integer),
    Column("boot_id", Text, nullable=False),
    Column("boot_s", Float(53), nullable=False),
    Column("wall", Text, nullable=False),
    Column("trusted", SmallInteger, nullable=False),
    Column("payload", Text, nullable=False),
    Column("previous", String(64), nullable=False),
    Column("digest", String(64), nullable=False),
    Index("ix_journal_cast_number_seq", "cast_number", "seq"),
)

evidence: Final = Table(
    "evidence",
    metadata,
    Column("ordinal", Integer, primary_key=True, autoincrement=False),
    Column("boot_id", Text, nullable=False, unique=True),
    Column("first_boot_s", Float(53), nullable=False),
    Column("first_wall", Text, nullable=False),
    Column("first_trusted", SmallInteger, nullable=False),
    Column("last_boot_s", Float(53), nullable=False),
    Column("last_wall", Text, nullable=False),
    Column("last_trusted", SmallInteger, nullable=False),
    # Seconds since 1970 (UTC) at boot-time zero; empty until the wall clock of this boot was trusted.
    Column("wall_offset", Float(53)),
    # Where the journal ended when this boot last wrote to it: a row cut off at the end is found by this.
    Column("journal_seq", Integer),
    Column("journal_digest", String(64)),
)

traces: Final = Table(
    "traces",
    metadata,
    Column("cast_number", Integer, primary_key=True, autoincrement=False),
    Column("step", Integer, primary_key=True, autoincrement=False),
    Column("points", LargeBinary, nullable=False),
)

checkpoints: Final = Table(
    "checkpoints",
    metadata,
    Column("seq", Integer, primary_key=True, autoincrement=False),
    Column("digest", String(64), nullable=False),
    Column("code", String(64), nullable=False),
    Column("seal", String(64), nullable=False),
    Column("standing", Text, nullable=False),
)

casts: Final = Table(
    "casts",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("begun_seq", Integer, ForeignKey("journal.seq"), nullable=False),
    Column("begun_by", Text, nullable=False),
    Column("material_key", Text, nullable=False),
    Column("material", Text, nullable=False),
    Column("mold_key", Text, nullable=False),
    Column("mold", Text, nullable=False),
    Column("way", String(20), nullable=False),
    Column("total_mg", BigInteger, nullable=False),
    Column("stage", String(20), nullable=False),
    Column("stage_seq", Integer, ForeignKey("journal.seq"), nullable=False),
    Column("searched", Text, nullable=False),
    # Seconds since 1970 (UTC), corrected once its boot knew the time; `begun_sure`: the clock was right at the time.
    Column("begun_s", Float(53), nullable=False, server_default="0"),
    Column("begun_sure", SmallInteger, nullable=False, server_default="0"),
    # The part: what it weighs, whether it was trimmed before, the verdict on it, and whether one is still waited for.
    Column("part_mg", BigInteger),
    Column("trimmed", SmallInteger),
    Column("verdict", String(10)),
    Column("waits", SmallInteger, nullable=False, server_default="0"),
    Index("ix_casts_verdict_number", "verdict", "number"),
    Index("ix_casts_waits_number", "waits", "number"),
    Index("ix_casts_stage_number", "stage", "number"),
    Index("ix_casts_material_key_number", "material_key", "number"),
    Index("ix_casts_mold_key_number", "mold_key", "number"),
    Index("ix_casts_begun_s_number", "begun_s", "number"),
)

CASTS_TEXT: Final = "casts_text"
"""SQLite's index of the letters in `casts.searched`; triggers keep it, see migration 0003. Elsewhere there is none."""

weighings: Final = Table(
    "weighings",
    metadata,
    Column("seq", Integer, ForeignKey("journal.seq"), primary_key=True, autoincrement=False),
    Column("cast_number", Integer, nullable=False),
    Column("step", Integer, nullable=False),
    Column("ingredient", Text, nullable=False),
    Column("cup", Text, nullable=False),
    Column("target_mg", BigInteger, nullable=False),
    Column("low_mg", BigInteger, nullable=False),
    Column("high_mg", BigInteger, nullable=False),
    Column("net_mg", BigInteger, nullable=False),
    Column("reopened_seq", Integer, ForeignKey("journal.seq")),
    Index("ix_weighings_cast_number_seq", "cast_number", "seq"),
)

alarms: Final = Table(
    "alarms",
    metadata,
    Column("raised_seq", Integer, ForeignKey("journal.seq"), primary_key=True, autoincrement=False),
    Column("cast_number", Integer, nullable=False),
    Column("clock", String(20), nullable=False),
    Column("late_s", Float(53)),
    Column("why", Text, nullable=False),
    Column("due_while_off", SmallInteger, nullable=False),
    Column("silenced_seq", Integer, ForeignKey("journal.seq")),
    Column("acknowledged_by", Text),
    Column("after_s", Float(53)),
    Index("ix_alarms_cast_number_raised_seq", "cast_number", "raised_seq"),
)

pours: Final = Table(
    "pours",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("poured_seq", Integer, ForeignKey("journal.seq"), nullable=False),
    # The cast that was poured before it, in whatever mold.
    Column("before", Integer),
    Column("mold_key", Text, nullable=False),
    Column("material_key", Text, nullable=False),
    Column("mold_shot", Integer, nullable=False),
    # Shots since the mold's release agent was renewed, this one included; `renewed`: it was, after this shot.
    Column("released_shot", Integer),
    Column("renewed", SmallInteger, nullable=False, server_default="0"),
    Column("planned_mg", BigInteger, nullable=False),
    Column("mixed_mg", BigInteger, nullable=False),
    # What stayed in the mixing cup.
    Column("left_mg", BigInteger),
    Column("ratio_error", Float(53)),
    Column("mix_s", Float(53)),
    Column("contact_s", Float(53)),
    # In its mold, from the pour until it came out.
    Column("cure_s", Float(53)),
    Column("temperature_c", Float(53)),
    Column("cavity_cm3", Float(53)),
    Column("free_rise", Float(53)),
    # JSON: pairs of component and lot.
    Column("lots", Text, nullable=False),
    Column("humidity_percent", Float(53)),
    Index("ix_pours_poured_seq", "poured_seq"),
    Index("ix_pours_mold_key_number", "mold_key", "number"),
    Index("ix_pours_mold_key_material_key_number", "mold_key", "material_key", "number"),
    Index("ix_pours_mold_key_mold_shot", "mold_key", "mold_shot"),
    Index("ix_pours_material_key_number", "material_key", "number"),
)

cast_lots: Final = Table(
    "cast_lots",
    metadata,
    Column("lot", Text, primary_key=True),
    Column("cast_number", Integer, primary_key=True, autoincrement=False),
    Column("ingredient", Text, primary_key=True),
    Index("ix_cast_lots_cast_number", "cast_number"),
)

lot_counts: Final = Table(
    "lot_counts",
    metadata,
    Column("seq", Integer, ForeignKey("journal.seq"), primary_key=True, autoincrement=False),
    Column("lot", Text, nullable=False),
    Index("ix_lot_counts_lot_seq", "lot", "seq"),
)

defects: Final = Table(
    "defects",
    metadata,
    Column("cast_number", Integer, primary_key=True, autoincrement=False),
    Column("ordinal", Integer, primary_key=True, autoincrement=False),
    Column("kind", String(20), nullable=False),
    Column("severity", String(20), nullable=False),
    Column("place", Text, nullable=False),
    Index("ix_defects_kind_cast_number", "kind", "cast_number"),
)

hardness: Final = Table(
    "hardness",
    metadata,
    Column("seq", Integer, ForeignKey("journal.seq"), primary_key=True, autoincrement=False),
    Column("cast_number", Integer, nullable=False),
    Column("reading", Integer, nullable=False),
    Column("scale", String(10), nullable=False),
    Column("value", Float(53), nullable=False),
    Column("place", Text, nullable=False),
    Column("since_demold_s", Float(53)),
    Column("withdrawn_seq", Integer, ForeignKey("journal.seq")),
    Index("ix_hardness_cast_number_seq", "cast_number", "seq"),
)

lengths: Final = Table(
    "lengths",
    metadata,
    Column("seq", Integer, ForeignKey("journal.seq"), primary_key=True, autoincrement=False),
    Column("cast_number", Integer, nullable=False),
    Column("mold_mm", Float(53), nullable=False),
    Column("part_mm", Float(53), nullable=False),
    Column("place", Text, nullable=False),
    Column("replaced_seq", Integer, ForeignKey("journal.seq")),
    Index("ix_lengths_cast_number_seq", "cast_number", "seq"),
)

DERIVED: Final = (pours, lot_counts, cast_lots, lengths, hardness, defects, alarms, weighings, casts)
"""Tables that `projection.rebuild` empties and fills again."""

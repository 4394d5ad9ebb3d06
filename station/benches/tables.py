"""Tables of the shared log, and making them: once, by whichever station comes first.

Instants that are compared are the server's own (`clock_timestamp()`): no station's wall clock need be right.
"""

from __future__ import annotations

from typing import Final

from sqlalchemy import (
    BigInteger,
    Column,
    Connection,
    DateTime,
    Float,
    Index,
    Integer,
    MetaData,
    SmallInteger,
    String,
    Table,
    Text,
    func,
    insert,
    inspect,
    select,
)

from station.benches.faults import NotTaken
from station.texts import t

VERSION: Final = 1
"""The version of these tables. A station refuses a log of a newer one."""

_MAKING: Final = 0x7A_6E_0B
"""The number of the lock that keeps two stations from making the tables at the same time."""

metadata: Final = MetaData()

version: Final = Table("shared_version", metadata, Column("version", Integer, nullable=False))

journal: Final = Table(
    "shared_journal",
    metadata,
    Column("bench", SmallInteger, primary_key=True, autoincrement=False),
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
    Index("ix_shared_journal_bench_cast_number_seq", "bench", "cast_number", "seq"),
)

casts: Final = Table(
    "shared_casts",
    metadata,
    Column("bench", SmallInteger, primary_key=True, autoincrement=False),
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("begun", DateTime(timezone=True), nullable=False),
    Column("sure", SmallInteger, nullable=False),
    Column("material", Text, nullable=False),
    Column("mold", Text, nullable=False),
    Column("total_mg", BigInteger, nullable=False),
    Column("stage", Text, nullable=False),
    Column("text", Text, nullable=False),
    Column("edition", Integer, nullable=False),
    Column("changed", DateTime(timezone=True), nullable=False),
    Index("ix_shared_casts_changed", "changed"),
)

bench_now: Final = Table(
    "bench_now",
    metadata,
    Column("bench", SmallInteger, primary_key=True, autoincrement=False),
    Column("station_id", String(32), nullable=False),
    Column("title", Text, nullable=False),
    Column("at", DateTime(timezone=True), nullable=False),
    Column("json", Text, nullable=False),
)

errand: Final = Table(
    "errand",
    metadata,
    Column("id", String(36), primary_key=True),
    Column("from_bench", SmallInteger, nullable=False),
    Column("to_bench", SmallInteger, nullable=False),
    Column("number", Integer, nullable=False),
    Column("clock", String(20), nullable=False),
    Column("by", Text, nullable=False),
    Column("asked", DateTime(timezone=True), nullable=False),
    Column("state", String(10), nullable=False),
    # The run of a station that took it: another run of the same station must not act on it again.
    Column("taken_by", String(32)),
    Column("words", Text, nullable=False),
    Index("ix_errand_to_bench_state", "to_bench", "state"),
    Index("ix_errand_from_bench_asked", "from_bench", "asked"),
)


def prepare(db: Connection) -> None:
    """Make the tables if there are none. Raises NotTaken for a log of a newer version."""
    if not inspect(db).has_table(version.name):
        db.execute(select(func.pg_advisory_xact_lock(_MAKING)))
        # Another station may have made them while this one waited for the lock.
        metadata.create_all(db, checkfirst=True)
        if db.execute(select(func.count()).select_from(version)).scalar_one() == 0:
            db.execute(insert(version).values(version=VERSION))
    found = db.execute(select(func.max(version.c.version))).scalar()
    if found is None or found > VERSION:
        raise NotTaken(
            t(
                "The shared log was made by a newer version of the station (version {version} of its tables).",
                version=found,
            ),
            t("Bring this station to that version; meanwhile its record is complete here."),
        )

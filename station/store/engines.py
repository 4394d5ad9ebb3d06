"""Connections to the record: one that writes, durably, and others that can only read.

A place is a path (SQLite, the default) or a database URL. SQLite writes with a write-ahead log and
synchronous=FULL: only then is a commit on the disk before it returns, also when the power goes.
"""

from __future__ import annotations

import shutil
import sqlite3
from pathlib import Path
from typing import Final
from urllib.parse import quote

from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url
from sqlalchemy.pool import NullPool

from station.store.scratch import scratch

BUSY_S: Final = 0.5
"""How long a locked record may hold up the bench before it is called locked."""


def sqlite_path(place: Path | str) -> Path | None:
    """The file of a SQLite record; None for another kind of database."""
    if isinstance(place, Path):
        return place
    if "://" not in place:
        return Path(place)
    url = make_url(place)
    return Path(url.database) if url.get_backend_name() == "sqlite" and url.database else None


def open_writer(place: Path | str) -> Engine:
    """An engine that may write. Each of its transactions takes the write lock at once. Nothing is opened yet."""
    path = sqlite_path(place)
    if path is None:
        return create_engine(str(place))
    engine = create_engine(URL.create("sqlite", database=str(path)), connect_args={"timeout": BUSY_S})

    @event.listens_for(engine, "connect")
    def _prepare(connection: sqlite3.Connection, _record: object) -> None:
        connection.isolation_level = None  # we say BEGIN ourselves
        for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
            connection.execute(f"PRAGMA {pragma}").fetchall()

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        connection.exec_driver_sql("BEGIN IMMEDIATE")

    return engine


def open_reader(place: Path | str) -> Engine:
    """An engine that can only read; each of its transactions sees one state of the record. Nothing is opened yet."""
    path = sqlite_path(place)
    if path is None:
        return create_engine(str(place), execution_options={"postgresql_readonly": True})
    engine = create_engine("sqlite://", creator=lambda: connect_read_only(path), poolclass=NullPool)

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        connection.exec_driver_sql("BEGIN")

    return engine


def connect_read_only(path: Path) -> sqlite3.Connection:
    """A plain connection that can only read, also on a card that can only be read. Raises `STORE_ERRORS`."""
    try:
        return _connected(path, "mode=ro")
    except sqlite3.OperationalError as why:
        # A write-ahead log needs its index file beside it; on a card that can only be read there is none.
        name = getattr(why, "sqlite_errorname", "")
        if not path.is_file() or name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
            raise
    logs = [path.with_name(path.name + kind) for kind in ("-wal", "-journal")]
    logs = [log for log in logs if log.is_file() and log.stat().st_size]
    if not logs:
        return _connected(path, "mode=ro&immutable=1")
    # Immutable would overlook what only the log holds, perhaps the cast at the bench, or that a change the journal
    # undoes was cut off half-way: read a copy instead.
    with scratch(sum(file.stat().st_size for file in (path, *logs))) as folder:
        copy = folder / path.name
        for file in (path, *logs):
            shutil.copyfile(file, folder / file.name)
        with_log = _connected(copy, "mode=rw")
        whole = sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False)
        try:
            with_log.backup(whole)
        finally:
            with_log.close()
    whole.execute("PRAGMA query_only=1")
    return whole


def _connected(path: Path, how: str) -> sqlite3.Connection:
    uri = f"file:{quote(str(path.absolute()))}?{how}"
    connection = sqlite3.connect(uri, uri=True, timeout=BUSY_S, isolation_level=None, check_same_thread=False)
    try:
        connection.execute("PRAGMA query_only=1")
        connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except BaseException:
        connection.close()
        raise
    return connection

"""The record's version: what it is, and the way to the newest. Alembic is loaded only when there is a way to go."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Final

from sqlalchemy import Connection, Engine, column, inspect, select, table

from station.store import pours
from station.store.engines import sqlite_path
from station.store.faults import RecordForeign
from station.store.schema import VERSION
from station.texts import t

_VERSION_TABLE: Final = "alembic_version"
_MIGRATIONS: Final = Path(__file__).with_name("migrations")


def bring_up_to_date(
    place: Path | str, writer: Engine, reader: Engine, before: Callable[[], object] | None = None
) -> bool:
    """Make the tables of a new record, or migrate an older one; whether anything had to be done.

    `before` is called before an older one is changed. Raises RecordForeign for a record of a newer version, or a
    database that holds something else.
    """
    path = sqlite_path(place)
    if path is None or (path.is_file() and path.stat().st_size > 0):
        with reader.begin() as db:
            version = version_of(db)
        if version == VERSION:
            return False
        if version is not None and version < VERSION and before is not None:
            before()
    with writer.begin() as db:
        _migrate(db, place)
    return True


def version_of(db: Connection) -> str | None:
    """The version of the record; None when it has no tables of ours yet."""
    if not inspect(db).has_table(_VERSION_TABLE):
        return None
    return db.execute(select(column("version_num")).select_from(table(_VERSION_TABLE))).scalar()


def _migrate(db: Connection, place: Path | str) -> None:
    from alembic import command
    from alembic.config import Config
    from alembic.script import ScriptDirectory

    config = Config()
    config.set_main_option("script_location", str(_MIGRATIONS).replace("%", "%%"))
    config.attributes["connection"] = db
    known = {step.revision for step in ScriptDirectory.from_config(config).walk_revisions()}
    version = version_of(db)
    if version is None and inspect(db).get_table_names():
        raise RecordForeign(
            t("{place} is a database, but not a record of this station.", place=place),
            t("Move that file away, or name another folder in the settings."),
        )
    if version is not None and version not in known:
        raise RecordForeign(
            t(
                "{place} was written by a newer version of the station (record version {version}).",
                place=place,
                version=version,
            ),
            t("Install that version again, or restore the backup made before it. Nothing was changed."),
        )
    command.upgrade(config, "head")
    if version is not None and version < pours.SINCE:
        pours.fill(db)

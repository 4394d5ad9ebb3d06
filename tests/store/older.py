"""A record as an earlier version of the station left it."""

from __future__ import annotations

from pathlib import Path

from station.store import migrations
from station.store.engines import open_writer


def made_older(record: Path, version: str) -> None:
    """Take the record's tables back to those of `version`, by the migrations' own way down."""
    from alembic import command
    from alembic.config import Config

    engine = open_writer(record)
    try:
        with engine.begin() as db:
            config = Config()
            config.set_main_option("script_location", str(Path(migrations.__file__).parent).replace("%", "%%"))
            config.attributes["connection"] = db
            command.downgrade(config, version)
    finally:
        engine.dispose()

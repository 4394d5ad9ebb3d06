"""Reading ahead: a version that is about to take over folds the record while the one before it still runs.

Other code may fold the same rows to something else, so an update cannot use the old checkpoint; a record of years takes
minutes to fold, and the bench would stand still meanwhile. What was read ahead lies in a file of its own beside the
record, since only the station that runs may write into that.
"""

from __future__ import annotations

import json
import logging
from collections.abc import Callable
from pathlib import Path
from typing import Final

from sqlalchemy import Connection

from station.core.fold import apply
from station.core.standing import Standing
from station.keeping import replace_whole
from station.store import checkpoint
from station.store.backup.contents import RECORD
from station.store.chain import GENESIS, entry_of
from station.store.engines import open_reader
from station.store.faults import RecordDamaged, told_as_faults
from station.store.verify import ChainBroken, walked
from station.texts import t

log = logging.getLogger("tarebell.record")

FILE: Final = "read-ahead.json"
TOLD_EVERY: Final = 500
"""Rows between two words about how far it has come."""

Told = Callable[[int], object]
"""Is told how many rows are read."""


def read_ahead(state_dir: Path, told: Told = lambda _: None) -> int:
    """Fold the whole record with this code and keep that for its first start; how many rows. Raises LedgerFault."""
    place = state_dir / RECORD
    seq, digest, standing = 0, GENESIS, Standing()
    reader = open_reader(place)
    try:
        with told_as_faults(place):
            for row in walked(reader):
                seq, digest, standing = row.seq, row.digest, apply(standing, entry_of(row))
                if seq % TOLD_EVERY == 0:
                    told(seq)
    except ChainBroken as broken:
        raise RecordDamaged(t("The record is damaged. {why}", why=broken)) from broken
    finally:
        reader.dispose()
    columns = checkpoint.columns_of(checkpoint.Checkpoint(seq, digest, standing))
    replace_whole(state_dir / FILE, json.dumps(columns))
    return seq


def found(state_dir: Path, db: Connection) -> checkpoint.Checkpoint | None:
    """What this code has read ahead of the record behind `db`, if it may be used."""
    try:
        return checkpoint.usable(db, json.loads((state_dir / FILE).read_text("utf-8")))
    except FileNotFoundError:
        return None
    except (OSError, ValueError, TypeError, KeyError, AttributeError) as why:
        log.warning("what was read ahead is not used why=%r", why)
        return None


def forget(state_dir: Path) -> None:
    """It has served, or is of no use. That it cannot be removed does no harm: it counts only as long as it is true."""
    try:
        (state_dir / FILE).unlink(missing_ok=True)
    except OSError as why:
        log.warning("what was read ahead is still there why=%s", why)

"""A checkpoint: the folded state at some row of the journal, so that a start need not fold years of casts again.

It is only a shortcut. It counts when the row it names is still there with the same digest and when the very code that
folds is still the same; otherwise the whole journal is folded, and gives the same state.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, delete, insert, select

from station import casting, core
from station.core.standing import Standing
from station.store import codec
from station.store.schema import checkpoints, journal


@dataclass(frozen=True, slots=True)
class Checkpoint:
    """The state after row `seq`, whose digest is `digest`."""

    seq: int
    digest: str
    standing: Standing


@cache
def folding_code() -> str:
    """SHA-256 over the sources that a fold depends on: other code may fold the same rows to something else."""
    seal = hashlib.sha256(Path(codec.__file__).read_bytes())
    for package in (core, casting):
        for folder in package.__path__:
            for file in sorted(Path(folder).rglob("*.py")):
                seal.update(file.name.encode() + b"\0" + file.read_bytes())
    return seal.hexdigest()


def columns_of(checkpoint: Checkpoint) -> dict[str, Any]:
    """The checkpoint as it is kept, with the code that folded it and a seal."""
    text = json.dumps(codec.plain(checkpoint.standing), sort_keys=True, separators=(",", ":"))
    seal = hashlib.sha256(text.encode()).hexdigest()
    return {
        "seq": checkpoint.seq,
        "digest": checkpoint.digest,
        "code": folding_code(),
        "seal": seal,
        "standing": text,
    }


def keep(db: Connection, checkpoint: Checkpoint) -> None:
    """Keep this checkpoint instead of the one before. The newest of other code stays: an update may go back to it."""
    columns = columns_of(checkpoint)
    others = select(checkpoints.c.seq).where(checkpoints.c.code != columns["code"], checkpoints.c.seq != checkpoint.seq)
    stays = db.execute(others.order_by(checkpoints.c.seq.desc()).limit(1)).scalar()
    gone = delete(checkpoints)
    db.execute(gone if stays is None else gone.where(checkpoints.c.seq != stays))
    db.execute(insert(checkpoints).values(**columns))


def newest(db: Connection) -> Checkpoint | None:
    """The checkpoint of this code, if it may be used."""
    found = db.execute(
        select(checkpoints).where(checkpoints.c.code == folding_code()).order_by(checkpoints.c.seq.desc())
    ).first()
    return None if found is None else usable(db, found._asdict())


def usable(db: Connection, columns: dict[str, Any]) -> Checkpoint | None:
    """What these columns hold, if this code folded them and the journal still has their row. Raises KeyError."""
    if columns["code"] != folding_code():
        return None
    row = db.execute(select(journal.c.digest).where(journal.c.seq == columns["seq"])).scalar()
    text = columns["standing"]
    if row is None or row != columns["digest"] or hashlib.sha256(text.encode()).hexdigest() != columns["seal"]:
        return None
    standing = codec.standing_from(json.loads(text))
    return None if standing is None else Checkpoint(columns["seq"], row, standing)

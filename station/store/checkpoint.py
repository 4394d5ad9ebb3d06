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


def keep(db: Connection, checkpoint: Checkpoint) -> None:
    """Keep this checkpoint instead of the one before."""
    text = json.dumps(codec.plain(checkpoint.standing), sort_keys=True, separators=(",", ":"))
    seal = hashlib.sha256(text.encode()).hexdigest()
    db.execute(delete(checkpoints))
    db.execute(
        insert(checkpoints).values(
            seq=checkpoint.seq, digest=checkpoint.digest, code=folding_code(), seal=seal, standing=text
        )
    )


def newest(db: Connection) -> Checkpoint | None:
    """The checkpoint, if it may be used."""
    found = db.execute(select(checkpoints)).first()
    if found is None or found.code != folding_code():
        return None
    row = db.execute(select(journal.c.digest).where(journal.c.seq == found.seq)).scalar()
    if row != found.digest or hashlib.sha256(found.standing.encode()).hexdigest() != found.seal:
        return None
    standing = codec.standing_from(json.loads(found.standing))
    return None if standing is None else Checkpoint(found.seq, found.digest, standing)

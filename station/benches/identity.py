"""Who a station is to the others: a random name kept in its state folder, and the hold on its bench's digit."""

from __future__ import annotations

import re
import uuid
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from sqlalchemy import Connection, func, select
from sqlalchemy.dialects.postgresql import insert

from station.benches.faults import NotTaken
from station.benches.tables import bench_now
from station.benches.telling import told
from station.core.at_hand import AtHand
from station.errors import LedgerFault
from station.keeping import replace_whole
from station.texts import t

ID_FILE: Final = "station.id"


@dataclass(frozen=True, slots=True)
class Own:
    """This station: its bench's digit, its random name, and what people call it."""

    bench: int
    station_id: str
    title: str


def station_id(state_dir: Path) -> str:
    """The random name of the station whose record lies in this folder; made once. Raises LedgerFault."""
    place = state_dir / ID_FILE
    try:
        found = place.read_text("ascii").strip() if place.exists() else ""
    except (OSError, ValueError) as why:
        raise LedgerFault(t("{place} cannot be read.", place=place)) from why
    if re.fullmatch("[0-9a-f]{32}", found):
        return found
    name = uuid.uuid4().hex
    replace_whole(place, name + "\n")
    return name


def claim(db: Connection, own: Own) -> None:
    """Take the digit if nobody has it, and hold it until this transaction ends. Raises NotTaken if another has it."""
    new = insert(bench_now).values(
        bench=own.bench,
        station_id=own.station_id,
        title=own.title,
        at=func.clock_timestamp(),
        json=told(AtHand()),
    )
    db.execute(new.on_conflict_do_nothing(index_elements=[bench_now.c.bench]))
    held = select(bench_now.c.station_id, bench_now.c.title).where(bench_now.c.bench == own.bench)
    holder = db.execute(held.with_for_update()).one()
    if holder.station_id != own.station_id:
        raise NotTaken(
            t(
                "Another station, {title}, is bench {bench} in the shared log.",
                title=holder.title,
                bench=own.bench,
            ),
            t("Give this one another digit: bench under [shared] in the settings. Its record is complete here."),
        )

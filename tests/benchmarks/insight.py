"""How long facts, charts and the page of insight take with 1,000, 10,000 and 100,000 casts on record.

    python -m tests.benchmarks.insight [FOLDER]

The rows are made up and stand in no chain: only the tables that are read are filled, as for a workshop of forty molds.
One mold has exactly sixty casts at every size, so the same is asked each time. A figure is the least of some tries, in
processor time of this process, the operating system's cache warm, so that others on the machine and the disk do not
count; the ratio to the smallest size is what matters. What a pour costs as it is written down is measured against
another step, and what a record without the table costs to be filled.
"""

from __future__ import annotations

import sqlite3
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from datetime import timedelta
from pathlib import Path

from station.core.events import StepDone
from station.insight.capability import Tolerance
from station.insight.charted import Charted
from station.insight.study import study
from station.logbook import Logbook
from station.phone.insight_view import insight_view
from station.store.archive import Archive
from station.store.engines import open_writer
from station.store.ledger import SqlLedger
from station.store.pours import fill
from tests.benchmarks.log_questions import CAST, FIRST, JOURNAL, MOLDS
from tests.phone.shown import FREE, opened_station
from tests.store.stories import Story

SIZES = (1_000, 10_000, 100_000)
TRIES = 9
SAME = "the mold of sixty"
POURING = 6
"""The step of the story's casts that pours."""
POUR = (
    "INSERT INTO pours (number, poured_seq, before, mold_key, material_key, mold_shot, planned_mg, mixed_mg, left_mg,"
    " ratio_error, mix_s, contact_s, temperature_c, cavity_cm3, free_rise, lots)"
    ' VALUES (?, ?, ?, ?, ?, ?, 228000, 228100, 4000, ?, ?, ?, ?, 675, 0.32, \'[["A", "wf-1"], ["B", "wf-2"]]\')'
)
DEFECT = "INSERT INTO defects (cast_number, ordinal, kind, severity, place) VALUES (?, 0, ?, 'clear', 'heel')"


def filled(folder: Path, casts: int) -> Path:
    """A record with so many poured and judged casts; each sixtieth part of them went into the same mold."""
    with SqlLedger(folder) as ledger:
        place = ledger.place
    shots: dict[str, int] = {}
    with closing(sqlite3.connect(place)) as db:
        for number in range(1, casts + 1):
            at = FIRST + timedelta(minutes=10 * number)
            mold = SAME if number % (casts // 60) == 0 and shots.get(SAME, 0) < 60 else MOLDS[number * 7 % 40]
            material = "foam 0" if mold == SAME else f"foam {number % 5}"
            shots[mold] = shots.get(mold, 0) + 1
            db.execute(JOURNAL, (number, number, 600.0 * number, at.isoformat()))
            row = (
                number,
                number,
                material,
                material,
                mold,
                mold,
                "demolded",
                number,
                f"{number} {mold}",
                at.timestamp(),
            )
            db.execute(CAST, row)
            good = number % 7 != 0
            verdict = "good" if good else "scrap"
            part = 270_000 + number * 7919 % 9000
            db.execute(
                "UPDATE casts SET part_mg = ?, trimmed = 1, verdict = ? WHERE number = ?", (part, verdict, number)
            )
            if not good:
                db.execute(DEFECT, (number, "void" if number % 3 else "flash"))
            noise = number * 7919 % 1000 / 1000 - 0.5
            pour = (number, number, number - 1 or None, mold, material, shots[mold])
            db.execute(POUR, (*pour, noise / 50, 60 + 10 * noise, 90 + 10 * noise, 20 + 8 * noise))
        db.commit()
    return place


def least_ms(question: Callable[[], object], tries: int = TRIES) -> float:
    question()
    took = []
    for _ in range(tries):
        began = time.process_time()
        question()
        took.append((time.process_time() - began) * 1000)
    return min(took)


def asked(log: Archive) -> dict[str, float]:
    """What a page of one mold's last sixty casts takes, and what more casts take."""
    sixty = log.facts(mold=SAME, material="foam 0", last=60)
    assert len(sixty) == 60, len(sixty)
    figure, limits = Charted.DENSITY, Tolerance(0.39, 0.42)
    with opened_station(facts=Logbook(log)) as station:
        station.post(FREE)
        client, place = station.client(), f"/insight?figure=density&mold={SAME}&material=foam 0"
        assert client.get(place).status_code == 200
        page = least_ms(lambda: client.get(place))
        everything = least_ms(lambda: client.get("/insight?mold=&material=&last=1000"))
    return {
        "facts of one mold's last 60": least_ms(lambda: log.facts(mold=SAME, material="foam 0", last=60)),
        "their study, tables and drawings": least_ms(lambda: insight_view(sixty, study(sixty, figure, limits))),
        "the page of those": page,
        "facts of the newest 1,000": least_ms(lambda: log.facts(last=1000)),
        "the page of those 1,000": everything,
    }


def written(folder: Path) -> tuple[float, float, float]:
    """Milliseconds of writing down a pour, of another step, and of filling in one cast."""
    story, count = Story(), 200
    for number in range(1, count + 1):
        story.whole_cast(number)
    pours, others = [], []
    with SqlLedger(folder) as ledger:
        for entry in story.entries:
            began = time.process_time()
            ledger.write([entry])
            if isinstance(entry.event, StepDone):
                kind = pours if entry.event.step == POURING else others
                kind.append((time.process_time() - began) * 1000)
    engine = open_writer(folder / "record.db")
    with engine.begin() as db:
        db.exec_driver_sql("DELETE FROM pours")
        began = time.process_time()
        fill(db)
        each = (time.process_time() - began) * 1000 / count
    engine.dispose()
    return statistics.median(pours), statistics.median(others), each


def main(folder: Path) -> None:
    found: dict[str, list[float]] = {}
    for casts in SIZES:
        place = filled(folder / str(casts), casts)
        with Archive(place) as log:
            for name, took in asked(log).items():
                found.setdefault(name, []).append(took)
        print(f"{casts} casts, {place.stat().st_size / 1e6:.1f} MB", flush=True)
    print(f"{'':36}" + "".join(f"{casts:>12,}" for casts in SIZES) + f"{'ratio':>8}")
    for name, took in found.items():
        print(f"{name:36}" + "".join(f"{one:9.1f} ms" for one in took) + f"{took[-1] / took[0]:8.2f}")
    pour, other, filling = written(folder / "written")
    print(f"a pour written down: {pour:.1f} ms, another step {other:.1f} ms; filled in: {filling:.1f} ms a cast")


if __name__ == "__main__":
    if len(sys.argv) > 1:
        main(Path(sys.argv[1]))
    else:
        with tempfile.TemporaryDirectory() as room:
            main(Path(room))

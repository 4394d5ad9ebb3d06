"""How long the log's questions take with 1,000 and with 100,000 casts, and what a hundredfold record costs.

    python -m tests.benchmarks.log_questions [FOLDER]

The rows are made up and stand in no chain: only the tables that the list reads are filled. A figure is the median of
some tries in this process, the operating system's cache warm; the ratio of the two sizes is what counts.
"""

from __future__ import annotations

import sqlite3
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

from station.core.judging_events import DefectKind, Verdict
from station.records import Asked, Stage
from station.store.archive import Archive
from station.store.ledger import SqlLedger

SIZES = (1_000, 100_000)
TRIES = 9
FIRST = datetime(2016, 1, 4, 8, tzinfo=UTC)
MOLDS = [f"mold {n} of Wrenfield Works" for n in range(40)]
STAGES = [stage.value for stage in Stage]
CAST = (
    "INSERT INTO casts (number, begun_seq, begun_by, material_key, material, mold_key, mold, way, total_mg, stage,"
    " stage_seq, searched, begun_s, begun_sure, verdict, waits)"
    " VALUES (?, ?, 'page', ?, ?, ?, ?, 'one cup', 228000, ?, ?, ?, ?, 1, ?, ?)"
)
LOT = "INSERT INTO cast_lots (lot, cast_number, ingredient) VALUES (?, ?, ?)"
DEFECT = "INSERT INTO defects (cast_number, ordinal, kind, severity, place) VALUES (?, 0, ?, 'slight', '')"
WEIGHING = (
    "INSERT INTO weighings (seq, cast_number, step, ingredient, cup, target_mg, low_mg, high_mg, net_mg)"
    " VALUES (?, ?, 1, ?, 'cup', 100000, 98000, 102000, 100100)"
)
JOURNAL = (
    "INSERT INTO journal (seq, kind, cast_number, boot_id, boot_s, wall, trusted, payload, previous, digest)"
    " VALUES (?, 'CastBegun', ?, 'boot', ?, ?, 1, '{}', '', '')"
)


def filled(folder: Path, casts: int) -> Path:
    """A record with so many casts, ten minutes apart, the oldest in 2016."""
    with SqlLedger(folder) as ledger:
        place = ledger.place
    with closing(sqlite3.connect(place)) as db:
        for number in range(1, casts + 1):
            at = FIRST + timedelta(minutes=10 * number)
            mold, material = MOLDS[number * 7 % 40], f"foam {number % 5}"
            lots = f"wf-{number // 50:05} wf-{number // 50 + 3:05}"
            note = "the heel is dry at the seam" if number % 977 == 5 else "fills the corner well"
            words = f"{number} {material} {mold} page {lots} {note}"
            stage = STAGES[2] if number % 10 else STAGES[3 + number // 10 % 2]
            db.execute(JOURNAL, (number, number, 600.0 * number, at.isoformat()))
            for ingredient, lot in zip("AB", lots.split(), strict=True):
                db.execute(LOT, (lot, number, ingredient))
                db.execute(WEIGHING, (2 * number + (ingredient == "B"), number, ingredient))
            waits = number % 400 == 7
            kind = "void" if number % 500 == 3 else "flash" if number % 7 == 0 else None
            verdict = None if waits else "scrap" if kind == "void" else "usable" if kind else "good"
            if kind is not None:
                db.execute(DEFECT, (number, kind))
            row = (number, number, material, material, mold, mold, stage, number, words, at.timestamp(), verdict, waits)
            db.execute(CAST, row)
        db.commit()
    return place


def questions(casts: int) -> dict[str, Callable[[Archive], object]]:
    """What a person asks of the log."""
    day = FIRST + timedelta(minutes=5 * casts)
    return {
        "first page": lambda log: log.page(Asked()),
        "deep page": lambda log: log.page(Asked(), before=casts // 50),
        "a word on every cast": lambda log: log.page(Asked("wrenfield")),
        "a lot": lambda log: log.page(Asked(f"wf-{casts // 100:05}")),
        "all casts of a lot": lambda log: log.lot(f"wf-{casts // 100:05}"),
        "words of a rare note": lambda log: log.page(Asked("dry seam")),
        "no such word": lambda log: log.page(Asked("nowhere")),
        "two letters that no cast has": lambda log: log.page(Asked("zq")),
        "a mold": lambda log: log.page(Asked(mold=MOLDS[3])),
        "a mold, given up": lambda log: log.page(Asked(mold=MOLDS[0], stage=Stage.GIVEN_UP)),
        "a verdict": lambda log: log.page(Asked(verdict=Verdict.USABLE)),
        "a rare defect": lambda log: log.page(Asked(defect=DefectKind.VOID)),
        "a frequent defect": lambda log: log.page(Asked(defect=DefectKind.FLASH)),
        "parts that wait for a verdict": lambda log: log.page(Asked(unjudged=True)),
        "a week long ago": lambda log: log.page(Asked(since=day, until=day + timedelta(days=7))),
        "all years": lambda log: log.page(Asked(since=FIRST)),
        "the molds to choose from": lambda log: log.molds(),
    }


def median_ms(log: Archive, question: Callable[[Archive], object]) -> float:
    question(log)
    took = []
    for _ in range(TRIES):
        began = time.perf_counter()
        question(log)
        took.append((time.perf_counter() - began) * 1000)
    return statistics.median(took)


def main(folder: Path) -> None:
    found: dict[str, list[float]] = {}
    for casts in SIZES:
        place = filled(folder / str(casts), casts)
        print(f"{casts} casts, {place.stat().st_size / 1e6:.1f} MB", flush=True)
        with Archive(place) as log:
            for name, question in questions(casts).items():
                found.setdefault(name, []).append(median_ms(log, question))
    print(f"{'':32}{'1,000':>10}{'100,000':>10}{'ratio':>8}")
    for name, (few, many) in found.items():
        print(f"{name:32}{few:7.1f} ms{many:7.1f} ms{many / few:8.1f}")


if __name__ == "__main__":
    if len(sys.argv) > 1:
        main(Path(sys.argv[1]))
    else:
        with tempfile.TemporaryDirectory() as room:
            main(Path(room))

"""What a station can be busy with while somebody weighs: begun from inside, gone on with until told, and counted."""

from __future__ import annotations

import tempfile
import threading
from collections.abc import Callable
from pathlib import Path

from station.app import Station
from station.confined.making import make
from station.export_desk.desk import CHILD
from station.mesh.survey import survey

NAMED = "ThreadPoolExecutor, of the benchmark"
"""A name that the watchdog lets end."""


class Load:
    """One job again and again, in a thread as a page's or a chore's would be, until `end`."""

    def __init__(self, job: Callable[[], object]) -> None:
        self.rounds, self._job = 0, job
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._run, name=NAMED, daemon=True)
        self._thread.start()

    def _run(self) -> None:
        while not self._over.is_set():
            self._job()
            self.rounds += 1

    def end(self) -> int:
        """Let the round that runs be the last one; how many there were."""
        self._over.set()
        self._thread.join()
        return self.rounds


def backup(station: Station, _: str) -> Load:
    """A backup: copied, packed, read back. All but the newest are thrown away."""

    def job() -> None:
        station.record.back_up("", "benchmark")
        for file in sorted(station.record._tools.shelf.folder.glob("*.zip"))[:-1]:
            file.unlink()

    return Load(job)


def check(station: Station, _: str) -> Load:
    """The daily check of the whole record."""
    return Load(station.record.check_record)


def mesh(_: Station, place: str) -> Load:
    """A mesh that somebody has sent."""

    def job() -> None:
        with Path(place).open("rb") as file:
            survey(file, Path(place).name)

    return Load(job)


def export(station: Station, _: str) -> Load:
    """The whole log taken away as a page has it made: by a process of its own, into a file."""
    place = Path(station.archive.place)
    shop = {"name": "Wrenfield Works", "address": station.url, "version": "0", "photos": str(place.parent / "photos")}

    def job() -> None:
        with tempfile.TemporaryDirectory() as room, tempfile.TemporaryFile() as file:
            make(CHILD, {"do": "export", "place": str(place), "room": room, **shop}, file, wall_s=600.0)

    return Load(job)


LOADS: dict[str, Callable[[Station, str], Load]] = {"backup": backup, "check": check, "export": export, "mesh": mesh}

"""A running station whose record is damaged: it weighs and sounds on, and a person restores the record from a phone."""

from __future__ import annotations

import json
import re
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import cast

import pytest
from playwright.sync_api import Browser, Page, expect

from station.core.mass import Mass
from station.core.material import Lot
from station.core.messages import Demold
from station.store.archive import Archive
from station.store.ledger import SqlLedger
from tests.browser.conftest import PHONE, Shop, paired_by_hand
from tests.phone.shown import Station
from tests.play import Play
from tests.system.guarded_process import PORT, ROOT, WITHIN_S, Manager

pytestmark = pytest.mark.browser

PAGE = 4096
SPOILT = b"\xa5" * PAGE
WEIGHING_MS = 30_000


class Pan:
    """The simulated scale's pan: it sends what lies on it ten times a second, in a thread of its own."""

    def __init__(self, manager: Manager) -> None:
        self._port = manager.scale
        self._tenths = 0
        self._over = threading.Event()
        self._pour: list[int] = []
        self._thread = threading.Thread(target=self._send, name="pan")

    def __enter__(self) -> Pan:
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._over.set()
        self._thread.join(WITHIN_S)

    def put(self, grams: float) -> None:
        """Add this much at once."""
        self._pour = [round(grams * 10)]

    def pour(self, grams: float, g_per_s: float = 60.0) -> None:
        """Add this much in a stream."""
        whole, each = round(grams * 10), round(g_per_s)
        self._pour = [each] * (whole // each) + [whole % each]

    def _send(self) -> None:
        while not self._over.wait(0.1):
            moving = bool(self._pour)
            if moving:
                self._tenths += self._pour.pop(0)
            self._port.emit(f"{'US' if moving else 'ST'},+{self._tenths / 10:08.1f}  g\r\n".encode())


def three_casts() -> Play:
    """Two parts were demolded; the third waits in its mold, and nobody has heard its alarm."""
    play = Play()
    for number in (1, 2, 3):
        play.silicone_in_the_mold((Lot("A", "S-11"), Lot("B", "S-12")))
        play.wait(14_460, tick_s=60)
        if number == 3:
            break
        play.press()
        play.send(Demold(number, "page"))
        play.wait(86_400, tick_s=600)
        play.press()
    return play


def tarebell(*words: object) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "station", *map(str, words)],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
        env={"PYTHONPATH": str(ROOT)},
        timeout=WITHIN_S,
    )


def spoil_a_page(state: Path, row: int) -> None:
    """Overwrite the page of the file in which this row of the journal lies, as a worn card does."""
    with closing(sqlite3.connect(state / "record.db")) as db:
        (digest,) = db.execute("SELECT digest FROM journal WHERE seq = ?", (row,)).fetchone()
    assert not (state / "record.db-wal").exists()
    place = (state / "record.db").read_bytes().index(digest.encode()) // PAGE * PAGE
    with (state / "record.db").open("r+b") as file:
        file.seek(place)
        file.write(SPOILT)


def bytes_of(folder: Path) -> dict[str, bytes]:
    """The files of the record in a folder, but for the index that the database makes anew."""
    files = [file for file in folder.glob("record.db*") if not file.name.endswith("-shm")]
    return {file.name: file.read_bytes() for file in files if file.stat().st_size}


def numbers(page: Page) -> list[str]:
    return [number.inner_text() for number in page.locator("tbody .num").all()]


@pytest.fixture
def manager(tmp_path: Path) -> Iterator[Manager]:
    with Manager(tmp_path) as manager:
        yield manager


@contextmanager
def started_on_a_spoilt_record(manager: Manager) -> Iterator[None]:
    """The station runs, is stopped, and is started again on a record of which a page in the middle was spoilt."""
    play = three_casts()
    with SqlLedger(manager.state) as ledger:
        ledger.write(play.entries, play.traces)
    manager.start()
    backup = tarebell("backup", "--state", manager.state)
    assert "read back and whole" in backup.stdout, backup.stderr
    assert manager.stop() == 0
    spoil_a_page(manager.state, len(play.entries) // 2)
    assert tarebell("verify", "--state", manager.state).returncode == 1
    manager.start()
    yield
    assert manager.stop() == 0


def weigh_a_new_cast(page: Page, pan: Pan) -> None:
    """Answer the alarm of the third cast, begin a fourth and weigh its first component."""
    heard = page.get_by_role("button", name="Heard it")
    expect(page.locator(".alarm")).to_contain_text("Cast 3")
    heard.click()
    expect(heard).to_have_count(0)
    page.get_by_role("link", name="Begin a cast").click()
    page.get_by_label("Amount of mix").fill("220 g")
    page.get_by_role("button", name="Work it out").click()
    page.get_by_role("button", name="Begin at the bench").click()
    pan.put(24.3)
    expect(page.locator(".strip li").nth(1)).to_have_attribute("data-state", "NOW")
    pan.pour(200.0)
    expect(page.locator(".cue")).to_contain_text("A accepted: 200.0 g", timeout=WEIGHING_MS)


def test_a_damaged_record_is_restored_from_a_phone_while_the_bench_works(browser: Browser, manager: Manager) -> None:
    with started_on_a_spoilt_record(manager), Pan(manager) as pan:
        shop = Shop(cast(Station, None), browser, PORT)
        with shop.page(PHONE) as page:
            # The station is another process: its log tells the codes that it has shown.
            paired_by_hand(page, shop.url, lambda: re.findall(r"pairing code (\d{6})", manager.logged()))
            damage = page.locator(".banner", has_text="The bench goes on from memory.")
            expect(damage).to_contain_text("The record is damaged.")
            found = bytes_of(manager.state)
            assert SPOILT in found["record.db"]
            weigh_a_new_cast(page, pan)
            waiting = page.locator(".banner", has_text="The record cannot be written")
            expect(waiting).to_be_visible()
            assert bytes_of(manager.state) == found

            damage.get_by_role("link", name="Restore it").click()
            expect(page).to_have_url(f"{shop.url}/record")
            expect(page.locator(".begin")).to_contain_text("No row is known to be lost.")
            page.get_by_role("button", name="Restore the record").click()
            expect(page.get_by_role("status").first).to_contain_text("The record is restored:")
            expect(damage.or_(waiting)).to_have_count(0)
            assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]

            page.goto(f"{shop.url}/log")
            assert numbers(page) == ["4", "3", "2", "1"]
            restored = page.locator(".banner", has_text="The record was restored:")
            expect(restored).to_be_visible()
            restored.get_by_role("link").click()
            page.get_by_role("button", name="I have read this").click()
            expect(restored).to_have_count(0)
            page.goto(shop.url)
            expect(page.locator(".strip")).to_be_visible()
            expect(page.locator(".banner", has_text="record")).to_have_count(0)
        assert shop.complaints == []

    (aside,) = manager.state.glob("set-aside-*")
    assert bytes_of(aside) == found
    verdict = tarebell("verify", "--state", manager.state)
    assert (verdict.returncode, verdict.stderr) == (0, "")
    listed = json.loads(tarebell("casts", "--state", manager.state, "--json").stdout)
    assert [line["number"] for line in listed] == [4, 3, 2, 1]
    with Archive(manager.state / "record.db") as archive:
        heard, weighed = archive.record(3), archive.record(4)
        assert heard is not None
        assert weighed is not None
        assert [alarm.silenced is not None for alarm in heard.alarms] == [True]
        assert [weighing.net for weighing in weighed.weighings] == [Mass.grams(200)]
        for number in (1, 2, 3, 4):
            assert archive.trace(number, 1)

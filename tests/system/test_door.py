"""The door of a whole station: pairings outlast a restart, the button at the bench ends them, a backup holds none."""

from __future__ import annotations

import http.cookiejar
import re
import urllib.error
import urllib.parse
import urllib.request
import zipfile
from pathlib import Path

import pytest

from station.phone.doorkeeper import FILE
from station.signals.pedal import HELD_S
from tests.system.whole import WITHIN_S, Whole

BUTTON = 5


class Phone:
    """A browser with its jar of cookies, at whatever port the station has after a restart."""

    def __init__(self) -> None:
        self._jar = http.cookiejar.CookieJar()
        self._opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(self._jar))
        self.status, self._token = 0, ""

    def send(self, whole: Whole, place: str, **form: str) -> str:
        """The text that comes back, also of a refusal."""
        url = whole.station.url
        data = urllib.parse.urlencode({"token": self._token, **form}).encode() if form or self._token else None
        asked = urllib.request.Request(url + place, data, {"Origin": url.rstrip("/")} if data else {})
        try:
            with self._opener.open(asked, timeout=WITHIN_S) as answer:
                self.status, text = answer.status, answer.read().decode()
        except urllib.error.HTTPError as refusal:
            self.status, text = refusal.code, refusal.read().decode()
        if found := re.search(r'name="token" content="([^"]+)"', text):
            self._token = found[1]
        return text

    def look(self, whole: Whole, place: str) -> str:
        self._token = ""
        return self.send(whole, place)

    def pair(self, whole: Whole) -> None:
        self.look(whole, "pair")
        self.send(whole, "pair/ask")
        self.send(whole, "pair", code=whole.codes[-1], device="phone")
        assert self.status == 200

    def move_to(self, whole: Whole) -> None:
        """The station has come back at another port, which no real one does: its cookie takes the new name."""
        port = urllib.parse.urlsplit(whole.station.url).port
        kept = list(self._jar)
        self._jar.clear()
        for cookie in kept:
            cookie.name = f"tarebell-{port}"
            self._jar.set_cookie(cookie)


@pytest.fixture
def phone() -> Phone:
    return Phone()


def test_a_pairing_outlasts_a_restart_until_somebody_holds_the_button_for_ten_seconds(tmp_path, phone):
    with Whole(tmp_path) as whole:
        phone.pair(whole)
        assert "This device is paired" in phone.look(whole, "pair")
    kept = tmp_path / FILE
    assert kept.stat().st_mode & 0o777 == 0o600
    with Whole(tmp_path) as whole:
        phone.move_to(whole)
        assert "This device is paired" in phone.look(whole, "pair")
        pin = whole.pins.pin(BUTTON)
        pin.drive_low()
        whole.clock.advance(HELD_S + 1)
        pin.drive_high()
        tick = whole.station.board
        for _ in range(int(WITHIN_S / 0.05)):
            if whole.codes:
                break
            tick.newer_than(whole.seen.seq, 0.05)
        [code] = whole.codes
        phone.send(whole, "api/press", press="short")
        refused = phone.look(whole, "devices")
        assert phone.status == 403
        assert "not paired any more" in refused
        assert code not in refused
        phone.look(whole, "pair")
        phone.send(whole, "pair", code=code, device="phone")
        assert "This device is paired" in phone.look(whole, "pair")


def test_a_backup_that_is_carried_away_holds_no_device_and_no_key(tmp_path, phone):
    with Whole(tmp_path) as whole:
        phone.pair(whole)
        kept = (tmp_path / FILE).read_text()
        [digest] = re.findall(r'"digest": "([0-9a-f]{64})"', kept)
        whole.station.record.back_up("test")
        packed = sorted(Path(tmp_path / "backups").glob("*.zip"))
        assert packed
        for file in packed:
            with zipfile.ZipFile(file) as inside:
                names = inside.namelist()
                assert not any("devices" in name or "session" in name for name in names), names
                assert all(digest.encode() not in inside.read(name) for name in names)

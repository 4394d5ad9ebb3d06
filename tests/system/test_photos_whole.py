"""Photos of a whole station: the bell rings on time while one is opened, and what is kept outlasts cast and restart."""

from __future__ import annotations

import os
import threading
import urllib.error
import urllib.request
from contextlib import suppress
from pathlib import Path

import pytest

from station.confined import asking
from station.core.clocks import ClockKind
from station.core.messages import Abort, Press, Pressed
from station.store.photos import FOLDER
from station.store.verify import verify, verify_photos
from tests.photos.pictures import TOLD_BESIDE, bomb, jpeg, with_place
from tests.system.test_door import Phone
from tests.system.test_push_whole import buzzes, to_the_pot_life, wait_for
from tests.system.whole import WITHIN_S, Whole


class Gate:
    """A program that says nothing before it is let go on, and then ends."""

    def __init__(self, folder: Path) -> None:
        self._pipe, self.program, self._held = folder / "gate", folder / "python", -1
        os.mkfifo(self._pipe)
        self.program.write_text(f"#!/bin/sh\nexec cat {self._pipe}\n")
        self.program.chmod(0o755)

    def has_somebody(self) -> bool:
        """Whether the program runs; then it is held."""
        with suppress(OSError):
            self._held = os.open(self._pipe, os.O_WRONLY | os.O_NONBLOCK)
        return self._held >= 0

    def open(self) -> None:
        os.close(self._held)


class Camera(Phone):
    """A phone that sends photos as its browser's form does."""

    def upload(self, whole: Whole, number: int, content: bytes, caption: str = "") -> str:
        self.look(whole, f"log/{number}")
        fields = (("token", self._token), ("caption", caption))
        parts = [f'Content-Disposition: form-data; name="{name}"\r\n\r\n{value}'.encode() for name, value in fields]
        parts.append(b'Content-Disposition: form-data; name="photo"; filename="a.jpg"\r\n\r\n' + content)
        body = b"".join(b"--edge\r\n" + part + b"\r\n" for part in parts) + b"--edge--\r\n"
        url = whole.station.url
        headers = {"Origin": url.rstrip("/"), "Content-Type": "multipart/form-data; boundary=edge"}
        asked = urllib.request.Request(f"{url}photos?number={number}", body, headers)
        try:
            with self._opener.open(asked, timeout=WITHIN_S) as answer:
                self.status, text = answer.status, answer.read().decode()
        except urllib.error.HTTPError as refusal:
            self.status, text = refusal.code, refusal.read().decode()
        return text

    def take(self, whole: Whole, place: str) -> bytes:
        with self._opener.open(f"{whole.station.url}{place}", timeout=WITHIN_S) as answer:
            assert answer.headers["Content-Type"] == "image/jpeg"
            return answer.read()


def test_the_bell_rings_while_a_photo_is_opened_that_never_ends(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    gate = Gate(tmp_path)
    with Whole(tmp_path) as whole:
        phone = Camera()
        phone.pair(whole)
        whole.ask(whole.station.library.plan("example-silicone", "paddle-grip", "220 g", {"A": "WW-SA-0117"}, "test"))
        with monkeypatch.context() as hanging:
            hanging.setattr(asking.sys, "executable", str(gate.program))
            said: list[str] = []
            sending = threading.Thread(target=lambda: said.append(phone.upload(whole, 1, jpeg())))
            sending.start()
            wait_for(gate.has_somebody)
            whole.stand(24.3)
            now = whole.pour(24.3, 200.0, 40)
            whole.ask(Pressed(Press.SHORT, "pedal"))
            whole.pour(now, 20.0, 5)
            whole.clock.advance(3 * 3600)
            whole.stand(now + 20.0, 0.3)
            assert ClockKind.POT_LIFE in [alarm.clock for alarm in whole.seen.alarms]
            before = buzzes(whole)
            wait_for(lambda: buzzes(whole) >= before + 2)
            assert sending.is_alive()
            gate.open()
            sending.join(WITHIN_S)
        assert phone.status == 409
        assert "ended without an answer" in said[0]
        assert whole.station.archive.photos(1) == ()


def test_a_photo_is_kept_shown_and_removed_also_after_its_cast_and_after_a_restart(tmp_path: Path) -> None:
    phone = Camera()
    with Whole(tmp_path) as whole:
        phone.pair(whole)
        to_the_pot_life(whole)
        page = phone.upload(whole, 1, with_place(6), "before the pour <b>")
        assert phone.status == 200
        assert 'alt="before the pour &lt;b&gt;"' in page
        phone.upload(whole, 1, with_place(6), "the same again")
        whole.ask(Abort(1, "a trial", "test"))
        assert "more than 50 million dots" in phone.upload(whole, 1, bomb())
        assert phone.status == 409
        phone.upload(whole, 1, jpeg(), "after the end")
        assert phone.status == 200
        first, second = whole.station.archive.photos(1)
        assert (first.caption, second.caption) == ("before the pour <b>", "after the end")
        assert (first.wide, first.high) == (600, 900)
        kept = phone.take(whole, f"log/1/photos/{first.name}.jpg")
        assert TOLD_BESIDE not in kept
        assert (tmp_path / FOLDER / f"{first.name}.jpg").read_bytes() == kept
        assert len(list((tmp_path / FOLDER).iterdir())) == 4
        assert whole.station.record.back_up("test").startswith("Backup made: ")
    assert verify(tmp_path / "record.db").ok
    assert verify_photos(tmp_path / "record.db").whole == 2
    (tmp_path / FOLDER / f"{first.name}.jpg").unlink()
    with Whole(tmp_path, whole.clock) as again:
        phone.move_to(again)
        assert again.station.record.check_record()
        assert phone.take(again, f"log/1/photos/{first.name}.jpg") == kept  # the check brought it back
        (tmp_path / FOLDER / f"{second.name}-small.jpg").write_bytes(b"spoilt")
        with pytest.raises(urllib.error.HTTPError, match="503"):
            phone.take(again, f"log/1/photos/small/{second.name}.jpg")
        page = phone.look(again, "log/1")
        assert page.count("<img") == 2
        page = phone.send(again, "photos/remove", number="1", name=second.name)
        assert (phone.status, page.count("<img")) == (200, 1)
        with pytest.raises(urllib.error.HTTPError, match="404"):
            phone.take(again, f"log/1/photos/{second.name}.jpg")
        assert (tmp_path / FOLDER / f"{second.name}.jpg").exists()

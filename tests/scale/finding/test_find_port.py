"""Finding through real ports: a pseudo-terminal, and the same shared over the network by ser2net, raw and by RFC
2217."""

from __future__ import annotations

import contextlib
import shutil
import subprocess
import threading
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from station.clock import SystemClock
from station.core.moment import Moment
from station.errors import ScaleFault
from station.scale.finding.find import find
from station.scale.finding.outcome import NotFound, Profile
from station.scale.finding.profiles import Profiles
from station.simulated.pty_port import PtyPort
from station.simulated.voices import Delivery, Voice

HURRY = 3
PORTS = {"socket": 21411, "rfc2217": 21412}


class HurriedClock:
    """Seconds pass several times as fast: what is waited for comes as fast as it can be read."""

    def __init__(self, times: int = HURRY) -> None:
        self._clock = SystemClock()
        self._times = times

    def now(self) -> Moment:
        """Real time, faster."""
        moment = self._clock.now()
        return replace(moment, boot_s=moment.boot_s * self._times)


class AtTheScale:
    """Somebody who presses the pan when told to, and says what the display shows."""

    def __init__(self, voice: Voice, port: PtyPort) -> None:
        self.voice, self.port = voice, port
        self.told_so_far: list[str] = []
        self.pressing = 0
        self.stop = threading.Event()

    def told(self, words: str) -> None:
        self.told_so_far.append(words)
        if "finger" in words:
            self.pressing = 60

    def stays(self) -> None:
        pass

    def confirms(self, question: str) -> bool | None:
        return "123.4 g" in question

    def reads(self, _question: str) -> str | None:
        return "123.4 g"

    def talk(self) -> None:
        """The scale, until stopped."""
        while not self.stop.wait(0.01):
            self.pressing = max(0, self.pressing - 1)
            load = Decimal("123.4") + self.pressing * 2
            if asked := self.port.received():
                self.port.emit(self.voice.answer(asked, load, self.pressing == 0))
            self.port.emit(self.voice.unasked(load, self.pressing == 0))


@contextlib.contextmanager
def talking(folder: Path, family: str, delivery: Delivery) -> Iterator[AtTheScale]:
    with PtyPort(folder / "scale") as port:
        person = AtTheScale(Voice(family, delivery), port)
        thread = threading.Thread(target=person.talk)
        thread.start()
        try:
            yield person
        finally:
            person.stop.set()
            thread.join()


@contextlib.contextmanager
def shared(device: Path, kind: str, folder: Path) -> Iterator[str]:
    """The device on the network, by the program that most people use for it."""
    number = PORTS[kind]
    accepter = f"tcp,127.0.0.1,{number}" if kind == "socket" else f"telnet(rfc2217),tcp,127.0.0.1,{number}"
    config = folder / "ser2net.yaml"
    config.write_text(
        f"connection: &scale\n  accepter: {accepter}\n  connector: serialdev,{device.resolve()},9600n81,local\n"
    )
    serving = subprocess.Popen(
        ["ser2net", "-d", "-n", "-c", str(config), "-P", str(folder / "pid")],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        yield f"{kind}://127.0.0.1:{number}"
    finally:
        serving.terminate()
        serving.wait(20)


def found_when_up(url: str, person: AtTheScale, profiles: Profiles) -> Profile | NotFound:
    """The search, begun again until the sharing program listens."""
    clock = HurriedClock()
    end_s = clock.now().boot_s + 20 * HURRY
    while True:
        try:
            return find(url, person, clock, profiles)
        except ScaleFault:
            if clock.now().boot_s > end_s:
                raise
            person.stop.wait(0.1)


@pytest.mark.parametrize(
    ("family", "delivery"),
    [("status-commas", Delivery.STREAM), ("reply-letter", Delivery.REQUEST), ("bare-number", Delivery.STREAM)],
)
def test_a_scale_at_a_terminal_is_found_and_kept(tmp_path: Path, family: str, delivery: Delivery) -> None:
    profiles = Profiles(tmp_path / "state")
    with talking(tmp_path, family, delivery) as person:
        found = find(str(person.port.path), person, HurriedClock(), profiles)
    assert isinstance(found, Profile), found
    assert (found.family, found.unit) == (family, "g")
    assert profiles.newest() == found
    assert any("Press the pan" in words for words in person.told_so_far)


@pytest.mark.skipif(shutil.which("ser2net") is None, reason="ser2net is not installed")
@pytest.mark.parametrize("kind", PORTS)
def test_a_scale_shared_over_the_network_is_found(tmp_path: Path, kind: str) -> None:
    profiles = Profiles(tmp_path / "state")
    with (
        talking(tmp_path, "status-commas", Delivery.STREAM) as person,
        shared(person.port.path, kind, tmp_path) as url,
    ):
        found = found_when_up(url, person, profiles)
    assert isinstance(found, Profile), found
    assert (found.port, found.family, found.unit) == (url, "status-commas", "g")


def test_a_port_that_goes_away_during_the_search_is_a_sentence_and_leaves_the_old_profile(tmp_path: Path) -> None:
    profiles = Profiles(tmp_path / "state")
    with talking(tmp_path, "status-commas", Delivery.STREAM) as person:
        kept = find(str(person.port.path), person, HurriedClock(), profiles)
        told = person.told

        def pulled(words: str) -> None:
            told(words)
            person.stop.set()
            person.port.unplug()

        person.told = pulled  # type: ignore[method-assign]
        with pytest.raises(ScaleFault, match=r"unplugged|no port"):
            find(str(person.port.path), person, HurriedClock(), profiles)
    assert profiles.newest() == kept

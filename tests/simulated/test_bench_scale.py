"""The simulated scale as a whole, and its cable at a serial setting, over real pseudo-terminals."""

from __future__ import annotations

import os
import select
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest
import serial

from station.clock import SystemClock
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.simulated.bench_scale import BenchScale
from station.simulated.line import LineSetting, heard
from station.simulated.load_cell import CellFaults, LoadCell
from station.simulated.pty_port import PtyPort
from station.simulated.voices import Delivery, Voice

CARD = ScaleCard(Mass.grams("0.1"), Mass.grams(3000), lag_s=0.3)
DEADLINE_S = 20.0
LINE = b"ST,+00123.4  g\r\n"


class Wire(PtyPort):
    """A cable without a terminal: keeps what the scale said, hands over what was put into `asked`."""

    def __init__(self, setting: LineSetting | None = None) -> None:
        super().__init__(Path("wire"), setting)
        self.said: list[bytes] = []
        self.asked = b""

    def emit(self, data: bytes) -> int:
        self.said.append(data)
        return len(data)

    def received(self) -> bytes:
        asked, self.asked = self.asked, b""
        return asked


def scale_on(
    wire: PtyPort, family: str = "status-commas", delivery: Delivery | None = None, seed: int = 1
) -> BenchScale:
    return BenchScale(Voice(family, delivery), LoadCell(CARD, faults=CellFaults(drift=0.0), seed=seed), wire)


@pytest.fixture
def wire() -> Wire:
    return Wire()


def test_a_streaming_scale_sends_a_line_at_each_renewal_and_settles_to_its_load(wire: Wire) -> None:
    scale = scale_on(wire)
    scale.load_g = 123.4
    scale.step(5.0)
    assert len(wire.said) == 50  # ten a second
    assert all(len(line) == 17 and line.endswith(b"g\r\n") for line in wire.said)
    assert abs(scale.grams - Decimal("123.4")) <= Decimal("0.1")
    assert wire.said[0].startswith(b"US")
    assert wire.said[-1] == scale.voice.line(scale.grams, True)


def test_the_same_steps_give_the_same_bytes_however_time_is_cut(wire: Wire) -> None:
    def said(dt: float, seed: int = 1) -> list[bytes]:
        wire = Wire()
        scale = scale_on(wire, seed=seed)
        for load in (0.0, 62.4, 310.0):
            scale.load_g = load
            for _ in range(round(3 / dt)):
                scale.step(dt)
        return wire.said

    assert said(0.01) == said(0.1) == said(1.0)
    assert said(0.1) != said(0.1, seed=2)


def test_a_scale_that_speaks_when_asked_is_silent_until_then(wire: Wire) -> None:
    scale = scale_on(wire, "reply-letter")
    scale.load_g = 62.4
    scale.step(5.0)
    assert wire.said == []
    wire.asked = b"SI\r\nSI\r\n"
    scale.step(0.0)
    assert wire.said == [scale.voice.answer(b"SI\r\n", scale.grams, True) * 2]
    assert b"62." in wire.said[0]


def test_a_scale_that_prints_at_rest_sends_one_line_per_load(wire: Wire) -> None:
    scale = scale_on(wire, delivery=Delivery.ON_STABLE)
    for load in (0.0, 62.4, 0.0, 99.0):
        scale.load_g = load
        scale.step(6.0)
    assert len(wire.said) == 2


def test_tare_is_taken_off_until_further_notice(wire: Wire) -> None:
    scale = scale_on(wire)
    scale.load_g = 50.0
    scale.step(5.0)
    scale.press_tare()
    assert scale.grams == 0
    scale.load_g = 150.0
    scale.step(5.0)
    assert abs(scale.grams - 100) <= Decimal("0.2")
    assert b"+000100." in wire.said[-1] or b"+000099." in wire.said[-1]


def test_no_line_begins_before_the_one_before_it_is_through() -> None:
    # 17 characters of 10 bits at 300 bit/s take 0.57 s: at ten renewals a second every sixth one is sent.
    wire = Wire(LineSetting(300))
    scale_on(wire).step(60.0)
    assert len(wire.said) == 100


class Host:
    """A program that has the port open, as pyserial opens it."""

    def __init__(self, port: PtyPort, baud: int, parity: str = "N", stop_bits: int = 1) -> None:
        self._port, self._clock = port, SystemClock()
        self.serial = serial.Serial(str(port.path), baud, parity=parity, stopbits=stop_bits, timeout=0)

    def hears(self, data: bytes) -> bytes:
        """What arrives when the scale sends `data`."""
        self._port.emit(data)
        setting, self._port.setting = self._port.setting, None
        self._port.emit(b"<end>")
        self._port.setting = setting
        return self._until(lambda: os.read(self.serial.fileno(), 4096), self.serial.fileno()).removesuffix(b"<end>")

    def _until(self, more, descriptor: int) -> bytes:  # type: ignore[no-untyped-def]
        got, end_s = b"", self._clock.now().boot_s + DEADLINE_S
        while not got.endswith(b"<end>"):
            assert self._clock.now().boot_s < end_s, got
            select.select([descriptor], [], [], 0.1)
            got += more()
        return got

    def says(self, data: bytes, size: int) -> bytes:
        """What the scale takes in of `data`, `size` bytes."""
        self.serial.write(data)
        got, end_s = b"", self._clock.now().boot_s + DEADLINE_S
        while len(got) < size:
            assert self._clock.now().boot_s < end_s, got
            got += self._port.received()
        return got


@pytest.fixture
def port(tmp_path: Path) -> Iterator[PtyPort]:
    with PtyPort(tmp_path / "scale") as port:
        yield port


def test_without_a_setting_every_host_hears_every_byte(port: PtyPort) -> None:
    host = Host(port, 1200, "O")
    assert host.hears(LINE) == LINE
    assert host.says(b"Q\r\n", 3) == b"Q\r\n"


@pytest.mark.parametrize("baud", [1200, 2400, 9600, 115200])
def test_a_host_at_the_scales_rate_hears_it(port: PtyPort, baud: int) -> None:
    port.setting = LineSetting(baud)
    host = Host(port, baud)
    assert port.host_setting == LineSetting(baud)
    assert host.hears(LINE) == LINE
    assert host.says(b"Q\r\n", 3) == b"Q\r\n"


@pytest.mark.parametrize(("scales", "hosts"), [(9600, 4800), (9600, 19200), (2400, 9600), (1200, 115200)])
def test_a_host_at_another_rate_hears_what_a_line_would_carry_and_is_heard_likewise(
    port: PtyPort, scales: int, hosts: int
) -> None:
    port.setting = LineSetting(scales)
    expected = heard(LINE, LineSetting(scales), LineSetting(hosts)).data
    assert expected != LINE
    host = Host(port, hosts)
    assert host.hears(LINE) == expected
    asked = heard(b"SI\r\n", LineSetting(hosts), LineSetting(scales)).data
    assert asked != b"SI\r\n"
    assert host.says(b"SI\r\n", len(asked)) == asked


def test_seven_bits_with_parity_arrive_at_an_eight_bit_host_with_the_parity_on_top(port: PtyPort) -> None:
    port.setting = LineSetting.named(2400, "7E1")
    host = Host(port, 2400)
    # S 0x53, T 0x54, CR 0x0D have four, three, three ones: even parity sets bit 7 of the latter two.
    assert host.hears(b"ST\r") == b"\x53\xd4\x8d"
    assert host.says(b"\x53\xd4\x8d", 3) == b"ST\r"


def test_two_stop_bits_and_odd_parity_of_the_host_are_seen(port: PtyPort) -> None:
    port.setting = LineSetting.named(1200, "8O1")
    host = Host(port, 1200, "O", 2)
    assert port.host_setting == LineSetting.named(1200, "8O2")
    assert host.hears(LINE) == LINE


def test_even_parity_of_the_host_cannot_be_seen_over_a_terminal(port: PtyPort) -> None:
    Host(port, 1200, "E")
    assert port.host_setting == LineSetting.named(1200, "8N1")


def test_a_host_at_a_rate_without_a_constant_hears_nothing(port: PtyPort) -> None:
    port.setting = LineSetting(9600)
    host = Host(port, 12345)
    assert port.host_setting is None
    assert host.hears(LINE) == b""


def test_another_device_is_another_number_and_the_path_may_move_too(port: PtyPort) -> None:
    seen = {port.device}
    for _ in range(3):
        before = port.device
        port.unplug()
        assert not os.path.lexists(port.path)
        port.plug_in(elsewhere=True)
        assert port.device != before
        assert os.readlink(port.path) == port.device
        seen.add(port.device)
    assert len(seen) > 1
    old = port.path
    port.unplug()
    port.plug_in(old.with_name("scale-2"))
    assert not old.exists()
    assert os.readlink(old.with_name("scale-2")) == port.device


def test_plugging_in_elsewhere_leaves_no_descriptor_behind(port: PtyPort) -> None:
    descriptors = len(os.listdir("/proc/self/fd"))
    for _ in range(10):
        port.unplug()
        port.plug_in(elsewhere=True)
    assert len(os.listdir("/proc/self/fd")) == descriptors

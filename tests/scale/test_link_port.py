"""How the thread that owns the port opens it, loses it, finds it again and lets go of it."""

from __future__ import annotations

import errno
import fcntl
import os
import struct
import threading
from pathlib import Path

import pytest

from station.config import ScaleSettings
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.messages import Message, Reading, ScaleFound, ScaleLost, Stability, Tick
from station.core.moment import Moment
from station.errors import SettingsError
from station.inbox import End
from station.scale.link import ScaleLink
from station.simulated.bench_scale import BenchScale
from station.simulated.faults import PluggedIn, Unplugged
from station.simulated.load_cell import CellFaults, LoadCell
from station.simulated.pty_port import PtyPort
from station.simulated.voices import Voice
from tests.scale.hearing import DEADLINE_S, Hearing, linked

GROWTH_KB = 5120
"""Most that the process may grow by over the cycles of one test."""

LINE = b"ST,+00123.4  g\r\n"


def test_unplugging_is_told_and_plugging_in_again_heals(hearing: Hearing, cable: PtyPort) -> None:
    with linked(cable, hearing):
        hearing.until_a(Reading, lambda: cable.emit(LINE))
        cable.unplug()
        lost = hearing.until_a(ScaleLost).message
        assert isinstance(lost, ScaleLost)
        assert "unplugged" in lost.why
        assert "Check the scale's cable" in lost.why
        cable.plug_in()
        hearing.until_a(ScaleFound)
        hearing.until(
            lambda m: m == Reading(Mass.grams("55.5"), Stability.STABLE), lambda: cable.emit(b"ST,+00055.5  g\r\n")
        )


def standing(cable: PtyPort) -> BenchScale:
    """A scale at rest under 55.5 g that shows another load at once."""
    card = ScaleCard(Mass.grams("0.1"), Mass.grams(3000), lag_s=0.0)
    scale = BenchScale(Voice("status-commas"), LoadCell(card, faults=CellFaults(0.0, 0.0)), cable)
    scale.load_g = 55.5
    return scale


def is_load(message: Message, grams: int) -> bool:
    return isinstance(message, Reading) and message.gross == Mass.grams(grams)


@pytest.mark.parametrize("cycles", [25, pytest.param(1000, marks=pytest.mark.soak)])
def test_unplugging_over_and_over_leaves_nothing_behind_half_of_the_times_as_another_device(
    hearing: Hearing, cable: PtyPort, cycles: int
) -> None:
    scale = standing(cable)
    with linked(cable, hearing):
        hearing.until_a(Reading, lambda: scale.step(0.1))
        before, devices = held(), set()
        for cycle in range(cycles):
            last = cable.device
            scale.befall(Unplugged())
            hearing.until_a(ScaleLost, lambda: scale.step(0.1))
            scale.befall(PluggedIn(elsewhere=cycle % 2 == 1))
            devices.add(cable.device)
            assert cycle % 2 == 0 or cable.device != last
            scale.load_g = 100.0 + cycle
            hearing.until_a(ScaleFound, lambda: scale.step(0.1))
            hearing.until(lambda m, n=cycle: is_load(m, 100 + n), lambda: scale.step(0.1))  # type: ignore[misc]
            hearing.heard.clear()
        after = held()
    assert len(devices) > 1
    assert after[:2] == before[:2]
    assert after[2] - before[2] < GROWTH_KB


def held() -> tuple[int, int, int]:
    """Threads, open descriptors and resident memory (kB) of this process."""
    status = Path("/proc/self/status").read_text()
    resident = next(line for line in status.splitlines() if line.startswith("VmRSS:"))
    return threading.active_count(), len(os.listdir("/proc/self/fd")), int(resident.split()[1])


def test_a_port_that_comes_back_under_another_name_is_missed_until_its_own_name_is_back(
    hearing: Hearing, cable: PtyPort
) -> None:
    scale, own = standing(cable), cable.path
    with linked(cable, hearing):
        hearing.until_a(Reading, lambda: scale.step(0.1))
        scale.befall(Unplugged())
        scale.befall(PluggedIn(elsewhere=True, suffix="-2"))
        scale.load_g = 99.0
        hearing.until(
            lambda m: isinstance(m, ScaleLost) and m.why.startswith(f"There is no port {own}."),
            lambda: scale.step(0.1),
        )
        assert set(hearing.loads()) == {"55.5 g"}
        scale.befall(Unplugged())
        scale.befall(PluggedIn())
        hearing.until_a(ScaleFound)
        hearing.until(lambda m: is_load(m, 99), lambda: scale.step(0.1))


def test_a_missing_port_is_told_once_and_found_when_it_comes(hearing: Hearing, tmp_path: Path) -> None:
    path = tmp_path / "later"
    with linked(path, hearing) as link:
        lost = hearing.until_a(ScaleLost).message
        assert isinstance(lost, ScaleLost)
        assert lost.why.startswith(f"There is no port {path}.")
        tries = link.progress
        with PtyPort(path) as cable:
            hearing.until_a(ScaleFound)
            hearing.until_a(Reading, lambda: cable.emit(LINE))
            assert link.progress > tries
            assert sum(isinstance(e.message, ScaleLost) for e in hearing.heard) == 1


def test_each_try_to_open_a_missing_port_counts_as_progress_but_is_told_only_once(
    hearing: Hearing, tmp_path: Path
) -> None:
    with linked(tmp_path / "nothing", hearing) as link:
        hearing.until_a(ScaleLost)
        end_s = hearing.clock.now().boot_s + DEADLINE_S
        while link.progress < 10:
            assert hearing.clock.now().boot_s < end_s
            hearing.inbox.next(0.01)
    assert [type(e.message) for e in hearing.heard] == [ScaleLost]


def test_a_port_in_use_by_another_station_is_told_with_its_cause(cable: PtyPort) -> None:
    first, second = Hearing(), Hearing()
    with linked(cable, first):
        first.until_a(ScaleFound)
        with linked(cable, second):
            lost = second.until_a(ScaleLost).message
            assert isinstance(lost, ScaleLost)
            assert "in use by another program" in lost.why
            first.until_a(Reading, lambda: cable.emit(LINE))
    third = Hearing()
    with linked(cable, third):
        third.until_a(ScaleFound)


TIOCGEXCL = 0x80045440  # Linux, asm-generic/ioctls.h: read the terminal's exclusive mode


def exclusive(path: Path) -> bool:
    """Whether the terminal is closed to other programs; root may open it all the same, and then looks."""
    try:
        descriptor = os.open(path, os.O_RDWR | os.O_NOCTTY | os.O_NONBLOCK)
    except OSError as refused:
        return refused.errno == errno.EBUSY
    try:
        return struct.unpack("i", fcntl.ioctl(descriptor, TIOCGEXCL, b"\0\0\0\0"))[0] == 1
    finally:
        os.close(descriptor)


def test_a_plain_open_by_another_program_is_kept_out_while_we_read_and_no_longer(
    hearing: Hearing, cable: PtyPort
) -> None:
    with linked(cable, hearing):
        hearing.until_a(ScaleFound)
        assert exclusive(cable.path)
    assert not exclusive(cable.path)


def test_a_path_that_is_no_port_is_told_in_a_sentence(hearing: Hearing, tmp_path: Path) -> None:
    plain = tmp_path / "notes.txt"
    plain.write_text("not a port")
    with linked(plain, hearing):
        lost = hearing.until_a(ScaleLost).message
    assert isinstance(lost, ScaleLost)
    assert lost.why.startswith(f"{plain} is not a serial port. Correct port")


def test_stop_ends_the_thread_lets_go_of_the_port_and_may_be_called_twice(hearing: Hearing, cable: PtyPort) -> None:
    descriptors, threads = len(os.listdir("/proc/self/fd")), threading.active_count()
    for _ in range(5):
        with linked(cable, hearing) as link:
            hearing.until_a(ScaleFound)
            assert threading.active_count() == threads + 1
        link.stop()
    assert len(os.listdir("/proc/self/fd")) == descriptors
    assert threading.active_count() == threads


def test_stop_without_start_posts_nothing(hearing: Hearing, cable: PtyPort) -> None:
    ScaleLink(ScaleSettings(str(cable.path), "value-unit"), hearing.inbox, hearing.clock).stop()
    envelope = hearing.inbox.next(0.0)
    assert not isinstance(envelope, End)
    assert isinstance(envelope.message, Tick)


class BrokenClock:
    """A clock with a bug in it."""

    def now(self) -> Moment:
        raise RuntimeError("a bug")


def test_a_bug_in_the_thread_ends_the_station(hearing: Hearing, cable: PtyPort) -> None:
    with ScaleLink(ScaleSettings(str(cable.path), "value-unit"), hearing.inbox, BrokenClock()):
        end = hearing.inbox.next(DEADLINE_S)
    assert isinstance(end, End)
    assert isinstance(end.bug, RuntimeError)


def test_wrong_settings_are_refused_all_at_once_with_what_is_accepted(hearing: Hearing) -> None:
    wrong = ScaleSettings("socket://bench", "value-units", baud=2**31, character="9N1", unit="stone", poll_s=0)
    with pytest.raises(SettingsError) as refused:
        ScaleLink(wrong, hearing.inbox, hearing.clock)
    assert len(refused.value.problems) == 6
    assert "7E1" in str(refused.value)
    assert "lb" in str(refused.value)
    assert "socket://host:number" in str(refused.value)
    assert "Did you mean 'value-unit" in str(refused.value)
    with pytest.raises(SettingsError, match="status-commas"):
        ScaleLink(ScaleSettings("/dev/null", "nonsense"), hearing.inbox, hearing.clock)


def test_a_family_that_cannot_guide_or_needs_a_unit_is_refused_before_the_port_is_opened(hearing: Hearing) -> None:
    with pytest.raises(SettingsError, match="printed at a key"):
        ScaleLink(ScaleSettings("/dev/null", "ticket"), hearing.inbox, hearing.clock)
    with pytest.raises(SettingsError, match="carry none"):
        ScaleLink(ScaleSettings("/dev/null", "bare-number"), hearing.inbox, hearing.clock)

"""The link against everything that befalls a scale in a workshop: no wrong load is ever posted, and it recovers."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest

from station.config import ScaleSettings
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.messages import Message, Reading, ScaleFound, ScaleLost, Tick
from station.scale.families import FAMILIES
from station.scale.link import ScaleLink
from station.simulated.bench_scale import BenchScale
from station.simulated.faults import (
    AutoOff,
    Burst,
    Fault,
    FamilyChanged,
    HalfLine,
    LineChanged,
    Lost,
    Mended,
    PluggedIn,
    Restarted,
    Silent,
    Stuck,
    UnitChanged,
    Unplugged,
)
from station.simulated.line import LineSetting
from station.simulated.load_cell import CellFaults, LoadCell
from station.simulated.pty_port import PtyPort
from station.simulated.voices import Delivery, Voice
from station.testing import ScriptedClock
from tests.scale.hearing import DEADLINE_S, RETRY_S, Hearing, linked

AT_ONCE = ScaleCard(Mass.grams("0.1"), Mass.grams(3000), lag_s=0.0)
"""Without a filter nothing lies between two loads, so every load that is posted must be one that was laid on."""

GROWTH_KB = 5120
GUIDING = [name for name, spec in FAMILIES.items() if spec.guides]


def scale_at(port: PtyPort, family: str = "status-commas", grams: float = 1234.5) -> BenchScale:
    delivery = Delivery.STREAM if FAMILIES[family].request is None else Delivery.REQUEST
    scale = BenchScale(Voice(family, delivery), LoadCell(AT_ONCE, faults=CellFaults(0.0, 0.0)), port)
    scale.load_g = grams
    return scale


def is_load(grams: str | float) -> Callable[[Message], bool]:
    return lambda message: isinstance(message, Reading) and message.gross == Mass.grams(str(grams))


def until_load(hearing: Hearing, scale: BenchScale, grams: str | float) -> None:
    hearing.until(is_load(grams), lambda: scale.step(0.1))


def worth(scale: BenchScale) -> Decimal:
    return Decimal(1).scaleb(-(scale.voice.implied_decimals or 0))


@pytest.mark.parametrize("family", GUIDING)
def test_a_frame_torn_at_any_byte_never_gives_a_wrong_load(hearing: Hearing, cable: PtyPort, family: str) -> None:
    scale = scale_at(cable, family)
    length = len(scale.voice.line(Decimal("1234.5"), True))
    with linked(cable, hearing, family, unit="g", worth=worth(scale), poll_s=0.01):
        until_load(hearing, scale, 1234.5)
        for at in range(1, length):
            for lost in Lost:
                scale.befall(HalfLine(at, lost))
                for _ in range(1 if scale.voice.streams else 2):
                    scale.step(0.6)
                until_load(hearing, scale, 1234.5)
        scale.load_g = 300.0
        until_load(hearing, scale, 300)
    assert set(hearing.loads()) == {"1234.5 g", "300.0 g"}


def test_a_burst_gives_its_newest_load_and_never_one_that_was_not_there(hearing: Hearing, cable: PtyPort) -> None:
    scale = scale_at(cable, grams=10.0)
    with linked(cable, hearing):
        until_load(hearing, scale, 10)
        before = len(hearing.loads())
        scale.befall(Burst(20.0))
        for grams in range(100, 300):
            scale.load_g = grams
            scale.step(0.1)
        hearing.until(is_load(299))
    posted = hearing.loads()[before:]
    assert set(posted) <= {"10.0 g"} | {f"{n}.0 g" for n in range(100, 300)}
    assert len(posted) < 50


def test_a_burst_that_overflows_the_buffer_ends_in_half_a_line_and_no_wrong_load(
    hearing: Hearing, cable: PtyPort
) -> None:
    scale = scale_at(cable)
    with linked(cable, hearing):
        until_load(hearing, scale, 1234.5)
        for pause_s in (100.0, 101.0, 102.0):  # about 17 kB: some four times what a terminal holds
            scale.befall(Burst(pause_s))
            scale.step(pause_s)
            until_load(hearing, scale, 1234.5)
        scale.load_g = 300.0
        until_load(hearing, scale, 300)
    assert set(hearing.loads()) == {"1234.5 g", "300.0 g"}


@pytest.mark.parametrize(
    ("cycles", "growth_kb"), [(25, GROWTH_KB), pytest.param(1000, GROWTH_KB, marks=pytest.mark.soak)]
)
def test_unplugging_over_and_over_leaves_nothing_behind_half_of_the_times_as_another_device(
    hearing: Hearing, cable: PtyPort, cycles: int, growth_kb: int, record_property: Callable[[str, object], None]
) -> None:
    scale = scale_at(cable)
    with linked(cable, hearing):
        until_load(hearing, scale, 1234.5)
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
            until_load(hearing, scale, 100 + cycle)
            hearing.heard.clear()
        after = held()
    record_property("threads, descriptors, kB before", before)
    record_property("threads, descriptors, kB after", after)
    assert len(devices) > 1
    assert after[:2] == before[:2]
    assert after[2] - before[2] < growth_kb


def held() -> tuple[int, int, int]:
    """Threads, open descriptors and resident memory (kB) of this process."""
    status = Path("/proc/self/status").read_text()
    resident = next(line for line in status.splitlines() if line.startswith("VmRSS:"))
    return threading.active_count(), len(os.listdir("/proc/self/fd")), int(resident.split()[1])


def test_a_port_that_comes_back_under_another_name_is_missed_until_its_own_name_is_back(
    hearing: Hearing, cable: PtyPort
) -> None:
    scale, own = scale_at(cable), cable.path
    with linked(cable, hearing):
        until_load(hearing, scale, 1234.5)
        scale.befall(Unplugged())
        scale.befall(PluggedIn(elsewhere=True, suffix="-2"))
        scale.load_g = 99.0
        hearing.until(
            lambda m: isinstance(m, ScaleLost) and m.why.startswith(f"There is no port {own}."),
            lambda: scale.step(0.1),
        )
        assert set(hearing.loads()) == {"1234.5 g"}
        scale.befall(Unplugged())
        scale.befall(PluggedIn())
        hearing.until_a(ScaleFound)
        until_load(hearing, scale, 99)


def test_a_restart_without_tare_shows_the_gross_load_and_nothing_between(hearing: Hearing, cable: PtyPort) -> None:
    scale = scale_at(cable, grams=250.0)
    scale.step(2.0)
    scale.press_tare()
    with linked(cable, hearing):
        until_load(hearing, scale, 0)
        scale.befall(Restarted(1.0))
        until_load(hearing, scale, 250)
        scale.befall(Restarted(1.0, zeroes=True))
        until_load(hearing, scale, 0)
    assert set(hearing.loads()) == {"0.0 g", "250.0 g"}


@pytest.mark.parametrize("unit", ["kg", "lb", "oz"])
def test_another_unit_outside_a_pour_is_the_same_load(hearing: Hearing, cable: PtyPort, unit: str) -> None:
    scale = scale_at(cable)
    with linked(cable, hearing):
        until_load(hearing, scale, 1234.5)
        before = len(hearing.heard)
        scale.befall(UnitChanged(unit))
        hearing.until_a(Reading, lambda: scale.step(0.1))
        changed = [e.message for e in hearing.heard[before:]]
        scale.befall(UnitChanged("g"))
        scale.load_g = 300.0
        until_load(hearing, scale, 300)
    # An ounce has 28.35 g and two decimals more than grams: a display cannot be further off than half its last digit.
    assert all(abs(m.gross.g - Decimal("1234.5")) < Decimal("0.3") for m in changed if isinstance(m, Reading))


def test_another_unit_during_a_pour_is_no_load_until_it_is_set_back(hearing: Hearing, cable: PtyPort) -> None:
    scale = scale_at(cable)
    settings = ScaleSettings(str(cable.path), "status-commas")
    with ScaleLink(settings, hearing.inbox, hearing.clock, RETRY_S, pouring=lambda: True):
        until_load(hearing, scale, 1234.5)
        scale.befall(UnitChanged("oz"))
        lost = hearing.until_a(ScaleLost, lambda: scale.step(0.1)).message
        assert isinstance(lost, ScaleLost)
        assert "from g to oz" in lost.why
        scale.befall(UnitChanged("g"))
        scale.load_g = 300.0
        hearing.until_a(ScaleFound, lambda: scale.step(0.1))
        until_load(hearing, scale, 300)
    assert set(hearing.loads()) == {"1234.5 g", "300.0 g"}


MENUS: list[tuple[Fault, str]] = [
    (FamilyChanged("csv-flag"), "another family"),
    (FamilyChanged("stx-bits"), "a binary family"),
    (FamilyChanged("reply-letter", Delivery.STREAM), "a family that is usually asked"),
    (LineChanged(LineSetting.named(2400, "7O1")), "the other parity"),
    (LineChanged(LineSetting.named(2400, "8N1")), "no parity"),
    (LineChanged(LineSetting.named(1200, "7E1")), "half the rate"),
    (LineChanged(LineSetting.named(4800, "7E1")), "twice the rate"),
    (LineChanged(LineSetting.named(9600, "7E1")), "four times the rate"),
]


@pytest.mark.parametrize(("fault", "name"), MENUS, ids=[name for _, name in MENUS])
def test_a_menu_change_is_told_gives_no_load_and_heals_when_set_back(
    hearing: Hearing, cable: PtyPort, fault: Fault, name: str
) -> None:
    cable.setting = LineSetting.named(2400, "7E1")
    scale = scale_at(cable)
    with linked(cable, hearing, baud=2400, character="7E1"):
        until_load(hearing, scale, 1234.5)
        scale.befall(fault)
        scale.load_g = 777.7
        lost = hearing.until_a(ScaleLost, lambda: scale.step(0.1)).message
        assert isinstance(lost, ScaleLost)
        assert "makes no sense as status-commas" in lost.why
        scale.befall(FamilyChanged("status-commas"))
        scale.befall(LineChanged(LineSetting.named(2400, "7E1")))
        scale.load_g = 300.0
        hearing.until_a(ScaleFound, lambda: scale.step(0.1))
        until_load(hearing, scale, 300)
    assert set(hearing.loads()) == {"1234.5 g", "300.0 g"}


def test_what_is_stuck_is_posted_as_it_is_shown_and_the_truth_comes_after(hearing: Hearing, cable: PtyPort) -> None:
    scale = scale_at(cable)
    with linked(cable, hearing):
        until_load(hearing, scale, 1234.5)
        scale.befall(Stuck())
        scale.load_g = 300.0
        for _ in range(5):
            hearing.until_a(Reading, lambda: scale.step(0.1))
        scale.befall(Mended())
        until_load(hearing, scale, 300)
    assert set(hearing.loads()) == {"1234.5 g", "300.0 g"}


@pytest.mark.parametrize("family", ["status-commas", "reply-letter"])
def test_silence_posts_nothing_leaves_the_thread_well_and_ends(hearing: Hearing, cable: PtyPort, family: str) -> None:
    scale = scale_at(cable, family)
    with linked(cable, hearing, family, poll_s=0.05) as link:
        until_load(hearing, scale, 1234.5)
        scale.befall(Silent())
        scale.load_g = 300.0
        beats, end_s = link.progress, hearing.clock.now().boot_s + DEADLINE_S
        while link.progress < beats + 3:
            assert hearing.clock.now().boot_s < end_s
            scale.step(0.1)
            assert isinstance(hearing.inbox.next(0.01).message, Tick)  # type: ignore[union-attr]
        scale.befall(Mended())
        until_load(hearing, scale, 300)
    assert set(hearing.loads()) == {"1234.5 g", "300.0 g"}


def test_a_scale_that_switches_itself_off_after_equal_times_is_told_so_and_comes_back(
    hearing: Hearing, cable: PtyPort
) -> None:
    scale, clock = scale_at(cable), ScriptedClock()
    scale.befall(AutoOff(on_s=40.0, off_s=30.0))

    def second() -> None:
        clock.advance(1.0)
        scale.step(1.0)

    with ScaleLink(ScaleSettings(str(cable.path), "status-commas"), hearing.inbox, clock, RETRY_S):
        hearing.until_a(ScaleFound)
        for _ in range(3):
            while scale.on:
                hearing.until_a(Reading, second)
            while not scale.on:
                second()
        lost = hearing.until_a(ScaleLost).message
        assert isinstance(lost, ScaleLost)
        assert "switches itself off" in lost.why
        scale.befall(Mended())
        hearing.until_a(ScaleFound, second)
        hearing.until_a(Reading, second)
    assert set(hearing.loads()) == {"1234.5 g"}

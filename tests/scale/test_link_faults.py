"""The link against everything that befalls a scale in a workshop: no wrong load is ever posted, and it recovers."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

import pytest

from station.config import ScaleSettings
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.messages import Message, Reading, ScaleFound, ScaleLost, Tick
from station.inbox import End
from station.scale.families import FAMILIES
from station.scale.link import ScaleLink
from station.simulated.bench_scale import BenchScale
from station.simulated.faults import (
    AutoOff,
    Burst,
    FamilyChanged,
    Fault,
    HalfLine,
    LineChanged,
    Lost,
    Mended,
    Restarted,
    Silent,
    Stuck,
    UnitChanged,
)
from station.simulated.line import LineSetting
from station.simulated.load_cell import CellFaults, LoadCell
from station.simulated.pty_port import PtyPort
from station.simulated.voices import Delivery, Voice
from station.testing import ScriptedClock
from tests.scale.hearing import DEADLINE_S, RETRY_S, Hearing, linked

AT_ONCE = ScaleCard(Mass.grams("0.1"), Mass.grams(3000), lag_s=0.0)
"""Without a filter nothing lies between two loads, so every load that is posted must be one that was laid on."""

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


class LockStep:
    """A link and a scale on one scripted clock: each next line waits until the link has dealt with the one before.

    So no line hides behind a newer one in the same batch, and none is read later than it was sent.
    """

    def __init__(self, cable: PtyPort, hearing: Hearing, scale: BenchScale, **more: object) -> None:
        pouring = more.pop("pouring", False)
        settings = ScaleSettings(str(cable.path), scale.voice.family, **more)  # type: ignore[arg-type]
        self.clock, self.scale, self.hearing = ScriptedClock(), scale, hearing
        self.link = ScaleLink(settings, hearing.inbox, self.clock, RETRY_S, pouring=lambda: bool(pouring))

    def __enter__(self) -> LockStep:
        self.link.start()
        self.hearing.until_a(ScaleFound)
        return self

    def __exit__(self, *_: object) -> None:
        self.link.stop()

    def line(self, seconds: float = 0.1) -> list[Message]:
        """Let time pass; what the link said of it."""
        beats, end_s, said = self.link.progress, self.hearing.clock.now().boot_s + DEADLINE_S, list[Message]()
        self.clock.advance(seconds)
        self.scale.step(seconds)
        while self.link.progress == beats:
            assert self.hearing.clock.now().boot_s < end_s, "the link's thread stands still"
            said += self.taken(0.002)
        return said + self.taken(0.0)

    def taken(self, patience_s: float) -> list[Message]:
        """All that lies in the inbox."""
        found: list[Message] = []
        while not isinstance((envelope := self.hearing.inbox.next(patience_s)), End):
            if isinstance(envelope.message, Tick):
                return found
            self.hearing.heard.append(envelope)
            found.append(envelope.message)
        raise AssertionError("the link died") from envelope.bug

    def until(self, right: Callable[[Message], bool], within_s: float = 3.0) -> Message:
        """The first message that is `right`, at most so much of the scale's time from now."""
        for _ in range(round(within_s / 0.1)):
            for message in self.line():
                if right(message):
                    return message
        raise AssertionError(f"nothing of the kind in {within_s} s; heard {self.hearing.heard[-20:]}")

    def until_lost(self) -> str:
        """Why the scale is not believed any more."""
        lost = self.until(lambda message: isinstance(message, ScaleLost))
        assert isinstance(lost, ScaleLost)
        return lost.why


@pytest.mark.parametrize("family", GUIDING)
def test_a_frame_torn_at_any_byte_never_gives_a_wrong_load(hearing: Hearing, cable: PtyPort, family: str) -> None:
    scale = BenchScale(Voice(family, Delivery.STREAM), LoadCell(AT_ONCE, faults=CellFaults(0.0, 0.0)), cable)
    scale.load_g = 1234.5
    length = len(scale.voice.line(Decimal("1234.5"), True))
    with LockStep(cable, hearing, scale, unit="g", worth=worth(scale)) as bench:
        bench.until(is_load(1234.5))
        for at in range(1, length):
            for lost in Lost:
                scale.befall(HalfLine(at, lost))
                for _ in range(6):
                    bench.line()
                assert is_load(1234.5)(hearing.heard[-1].message)
        scale.load_g = 300.0
        bench.until(is_load(300))
    assert set(hearing.loads()) == {"1234.5 g", "300.0 g"}


@pytest.mark.parametrize("lost", Lost)
def test_a_torn_answer_is_no_load_and_the_scale_is_asked_again(hearing: Hearing, cable: PtyPort, lost: Lost) -> None:
    scale = scale_at(cable, "reply-letter")
    with linked(cable, hearing, "reply-letter", poll_s=0.01):
        until_load(hearing, scale, 1234.5)
        scale.befall(HalfLine(10, lost))
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
    with LockStep(cable, hearing, scale) as bench:
        bench.until(is_load(1234.5))
        scale.befall(UnitChanged(unit))
        changed = [m.gross for _ in range(10) for m in bench.line() if isinstance(m, Reading)]
        scale.befall(UnitChanged("g"))
        scale.load_g = 300.0
        bench.until(is_load(300))
    assert len(changed) > 5
    # Half the last digit: 0.001 oz is 0.03 g, 0.0001 lb 0.05 g, 0.0001 kg 0.1 g.
    assert all(abs(gross - Mass.grams("1234.5")) <= Mass.grams("0.05") for gross in changed)


def test_another_unit_during_a_pour_is_no_load_until_it_is_set_back(hearing: Hearing, cable: PtyPort) -> None:
    scale = scale_at(cable)
    with LockStep(cable, hearing, scale, pouring=True) as bench:
        bench.until(is_load(1234.5))
        scale.befall(UnitChanged("oz"))
        scale.load_g = 777.7
        assert "from g to oz" in bench.until_lost()
        scale.befall(UnitChanged("g"))
        scale.load_g = 300.0
        bench.until(lambda message: isinstance(message, ScaleFound))
        bench.until(is_load(300))
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
    with LockStep(cable, hearing, scale, baud=2400, character="7E1") as bench:
        bench.until(is_load(1234.5))
        scale.befall(fault)
        scale.load_g = 777.7
        assert "makes no sense as status-commas" in bench.until_lost()
        scale.befall(FamilyChanged("status-commas"))
        scale.befall(LineChanged(LineSetting.named(2400, "7E1")))
        scale.load_g = 300.0
        bench.until(lambda message: isinstance(message, ScaleFound))
        bench.until(is_load(300))
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
        while link.progress < beats + 2:
            assert hearing.clock.now().boot_s < end_s
            scale.step(0.1)
            assert isinstance(hearing.inbox.next(0.01).message, Tick)  # type: ignore[union-attr]
        scale.befall(Mended())
        until_load(hearing, scale, 300)
    assert set(hearing.loads()) == {"1234.5 g", "300.0 g"}


def test_a_scale_that_switches_itself_off_after_equal_times_is_told_so_and_comes_back(
    hearing: Hearing, cable: PtyPort
) -> None:
    scale = scale_at(cable)
    scale.befall(AutoOff(on_s=15.0, off_s=30.0))
    with LockStep(cable, hearing, scale) as bench:
        for cycle in range(3):
            while scale.on:
                bench.line()
            assert not any(isinstance(e.message, ScaleLost) for e in hearing.heard)
            bench.line(29.5 if cycle < 2 else 25.0)
            if cycle < 2:
                bench.line(0.55)
        lost = next((e.message for e in hearing.heard if isinstance(e.message, ScaleLost)), None)
        assert "switches itself off" in (lost.why if lost is not None else bench.until_lost())
        scale.befall(Mended())
        bench.until(is_load(1234.5))
    assert set(hearing.loads()) == {"1234.5 g"}

"""A shift without a screen: two casts that wait are cast with one pedal, by what the buzzer and the lamps show.

The person of this test has pins: a contact to close, and three lamps and a buzzer to see and hear. No page is asked for
anything; what the record then holds is looked at at the end.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from flask import Flask

from station import app as composition
from station.config import SignalSettings
from station.core.clocks import ClockKind
from station.phone.shelf import Chosen
from station.store.engines import open_reader
from station.store.verify import verify
from tests.signals.listening import WatchedFactory
from tests.system.whole import Whole

PINS = SignalSettings()
LONG_S = PINS.long_press_s + 0.1


class Person:
    """Hands at the scale, a foot on the pedal, eyes on the lamps, ears for the buzzer."""

    def __init__(self, whole: Whole, pins: WatchedFactory) -> None:
        self.whole, self.pins = whole, pins

    @property
    def pulses(self) -> int:
        """How often the buzzer has sounded so far."""
        return self.pins.states(PINS.buzzer).count(True)

    def lamps(self) -> tuple[bool, bool, bool]:
        """Something to do, a clock runs, look here."""
        found = (PINS.lamp_ready, PINS.lamp_busy, PINS.lamp_attention)
        return tuple(bool(self.pins.pin(number).state) for number in found)  # type: ignore[return-value]

    def sees(self, *lit: bool) -> None:
        """Wait until the lamps show this."""
        assert self.pins.wait_until(lambda: self.lamps() == lit), f"the lamps show {self.lamps()}, not {lit}"

    @contextmanager
    def hears(self, least: int) -> Iterator[None]:
        """So many pulses come of what is done inside."""
        before = self.pulses
        yield
        assert self.pins.wait_until(lambda: self.pulses >= before + least), f"{self.pulses - before} pulses"

    def steps(self, seconds: float = 0.1) -> None:
        """The pedal, for so long."""
        pin = self.pins.pin(PINS.pedal)
        self.whole.clock.advance(0.2)  # no foot is as quick as a contact bounces
        pin.drive_low()
        self.whole.clock.advance(seconds)
        pin.drive_high()

    def casts(self) -> None:
        """One cast that waits, from the press that begins it to the mold, 220 g in one cup."""
        with self.hears(1):
            self.steps()
        with self.hears(2):  # tared
            self.whole.stand(24.3)
        with self.hears(2):  # accepted
            now = self.whole.pour(24.3, 199.8, 10)
        with self.hears(1):
            self.steps()  # all is within reach
        with self.hears(2):  # first contact, accepted
            self.whole.pour(now, 20.0, 3)
        assert self.lamps()[1], "the pot life runs"
        self.whole.clock.advance(185)
        with self.hears(4):  # mixed long enough
            self.whole.stand(0.0, 0.5)
        for _ in range(2):
            with self.hears(1):
                self.steps()  # I pour now; poured
        self.whole.stand(0.0, 1.5)
        with self.hears(2):
            self.whole.stand(28.7)  # what stayed in the cup is learned


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Every address that a page was asked for."""
    found: list[str] = []
    create = composition.create_app

    def counting(web: object) -> Flask:
        app = create(web)  # type: ignore[arg-type]
        app.before_request(lambda: found.append("a page"))
        return app

    monkeypatch.setattr(composition, "create_app", counting)
    return found


def test_a_whole_shift_is_cast_with_the_pedal_by_lamps_and_buzzer(tmp_path, asked):
    whole = Whole(tmp_path)
    whole.pins = pins = WatchedFactory()
    with whole:
        # Typed the evening before.
        for _ in range(2):
            whole.ask(whole.station.library.for_queue(Chosen("example-silicone", "paddle-grip", "220 g", {}), "test"))
        person = Person(whole, pins)
        person.sees(False, False, False)
        person.casts()
        person.sees(False, True, False)

        whole.clock.advance(60)
        whole.stand(0.0, 1.0)
        person.casts()
        person.sees(False, True, False)

        whole.clock.advance(4 * 3600 + 600)
        for number in (1, 2):
            with person.hears(3):  # the alarm
                whole.stand(0.0, 0.5)
            person.sees(False, True, True)
            with person.hears(2):  # acknowledged
                person.steps()
            with person.hears(3):  # out of its mold
                person.steps(LONG_S)
            demolded = [one.number for one in whole.station.loop.standing().casts if one.demolded]
            assert demolded == list(range(1, number + 1))
        person.sees(False, True, False)

        whole.clock.advance(24 * 3600)
        for _ in range(2):
            with person.hears(3):
                whole.stand(0.0, 0.5)
            with person.hears(2):
                person.steps()
        person.sees(False, False, False)
        assert whole.station.loop.standing().casts == ()
        assert verify(whole.station.archive.place).ok
        counted = kinds(whole)
    assert asked == []
    for kind, times in {
        "CastBegun": 2,
        "QueueTaken": 2,
        "Accepted": 4,
        "FirstContact": 2,
        "MixCupWeighed": 2,
        "Demolded": 2,
        "AlarmAcknowledged": 4,
    }.items():
        assert counted[kind] == times, kind


def test_a_cast_is_paused_and_goes_on_by_the_pedal_and_the_lamp_says_so(tmp_path, asked):
    whole = Whole(tmp_path)
    whole.pins = pins = WatchedFactory()
    with whole:
        whole.ask(whole.station.library.for_queue(Chosen("example-silicone", "paddle-grip", "220 g", {}), "test"))
        person = Person(whole, pins)
        with person.hears(1):
            person.steps()
        person.sees(True, False, False)
        with person.hears(3):
            person.steps(LONG_S)
        person.sees(False, False, False)
        with person.hears(3):
            person.steps()
        whole.stand(0.0, 0.2)  # the lamp tells also that the scale is read
        person.sees(True, False, False)
        with person.hears(2):
            person.steps()  # the cup is not there yet: not possible now
    assert asked == []


def test_an_alarm_that_nobody_answers_keeps_its_lamp_and_sounds_again(tmp_path, asked):
    whole = Whole(tmp_path)
    whole.pins = pins = WatchedFactory()
    with whole:
        whole.ask(whole.station.library.for_queue(Chosen("example-silicone", "paddle-grip", "220 g", {}), "test"))
        person = Person(whole, pins)
        person.casts()
        whole.clock.advance(4 * 3600 + 600)
        with person.hears(3):
            whole.stand(0.0, 0.5)
        person.steps(LONG_S)  # something heavy stands on the pedal: it silences nothing
        with person.hears(4):
            whole.stand(0.0, 0.5)
        person.sees(False, True, True)
        [cast] = whole.station.loop.standing().casts
        demold = cast.clock(ClockKind.DEMOLD)
        assert demold is not None
        assert not demold.acknowledged_by
    assert asked == []


def kinds(whole: Whole) -> Counter[str]:
    """How often each kind of entry stands in the record."""
    engine = open_reader(whole.station.archive.place)
    with engine.connect() as db:
        counted = Counter(row[0] for row in db.exec_driver_sql("select kind from journal"))
    engine.dispose()
    return counted

"""The watch: what the bench is told and when, what readers see, and who counts when the sensor falls silent."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest

from station.climate.readings import SILENT_AFTER
from station.climate.state import OLD_AFTER_S, Source
from station.climate.watch import ClimateWatch
from station.config import ClimateSettings
from station.core.messages import Humidity, Temperature, Tick
from station.errors import Refused
from station.inbox import End, Envelope, Inbox
from station.simulated.climate_files import SENSOR, ClimateFiles
from station.testing import ScriptedClock

PERIOD_S = 30.0
DEADLINE_S = 10.0


class Bench:
    """A watch over a folder in place of the kernel's, an inbox and a clock that moves at each turn."""

    def __init__(self, root: Path) -> None:
        self.files = ClimateFiles(root)
        self.clock = ScriptedClock()
        self.inbox = Inbox(self.clock)
        self.watch = self.made()

    def made(
        self, sensor: str = "found", humidity: bool = True, typed_c: float | None = None, period_s: float = PERIOD_S
    ) -> ClimateWatch:
        settings = ClimateSettings(sensor, period_s, humidity)
        self.watch = ClimateWatch(
            settings, typed_c, self.inbox, self.clock, bus=self.files.bus, devices=self.files.devices
        )
        return self.watch

    def turns(self, count: int = 1) -> None:
        for _ in range(count):
            self.clock.advance(PERIOD_S)
            self.watch.turn()

    def told(self) -> list[float | None]:
        """The temperatures posted since last asked."""
        return [each.celsius for each in self.posted() if isinstance(each, Temperature)]

    def told_percent(self) -> list[float | None]:
        """The humidities posted since last asked."""
        return [each.percent for each in self.posted() if isinstance(each, Humidity)]

    def posted(self) -> list[object]:
        """All that was posted since last asked."""
        found: list[object] = []
        while isinstance(envelope := self.inbox.next(0.0), Envelope) and not isinstance(envelope.message, Tick):
            found.append(envelope.message)
        return found


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    return Bench(tmp_path)


def test_the_sensor_s_temperature_is_told_in_tenths_and_only_when_it_has_changed_by_what_matters(bench: Bench) -> None:
    for celsius in (21.437, 21.5, 21.437, 21.562, 21.5):
        bench.files.celsius(celsius)
        bench.turns()
    assert bench.told() == [21.4]
    bench.files.celsius(21.75)
    bench.turns(3)
    assert bench.told() == [21.8]


def test_one_odd_reading_does_not_move_the_temperature(bench: Bench) -> None:
    bench.files.celsius(21.0)
    bench.turns(2)
    bench.files.celsius(24.0)
    bench.turns()
    assert bench.watch.now().celsius == 21.0
    bench.turns()
    assert bench.watch.now().celsius == 24.0
    assert bench.told() == [21.0, 24.0]


def test_a_big_jump_that_stays_is_believed_at_once(bench: Bench) -> None:
    bench.files.celsius(21.0)
    bench.turns(3)
    bench.files.celsius(35.0)
    bench.turns()
    assert bench.told() == [21.0, 35.0]


def test_a_silent_sensor_keeps_its_last_word_for_a_while_and_then_the_bench_is_told_that_nothing_is_known(
    bench: Bench,
) -> None:
    bench.files.celsius(21.0)
    bench.turns()
    bench.files.silent()
    bench.turns(SILENT_AFTER - 1)
    seen = bench.watch.seen()
    assert (seen.celsius, seen.age_s) == (21.0, PERIOD_S * (SILENT_AFTER - 1))
    assert "does not answer" in seen.troubles[0]
    assert bench.told() == [21.0]
    bench.turns()
    assert bench.watch.now().source is Source.NOBODY
    assert bench.told() == [None]
    bench.files.celsius(19.0)
    bench.turns()
    assert bench.watch.seen().troubles == ()
    assert bench.told() == [19.0]


def test_at_the_start_the_bench_goes_on_with_what_it_knew_until_the_sensor_has_been_silent_too_long(
    bench: Bench,
) -> None:
    bench.turns(SILENT_AFTER - 1)
    assert bench.told() == []
    bench.turns()
    assert bench.told() == [None]


@pytest.mark.parametrize("fault", ["supply_failed", "silent", "unplugged"])
def test_a_typed_temperature_counts_when_the_sensor_tells_nothing(bench: Bench, fault: str) -> None:
    bench.files.celsius(21.0)
    bench.turns()
    bench.watch.typed(18.5, "page (phone 1)")
    seen = bench.watch.seen()
    assert (seen.celsius, seen.where) == (21.0, "from the temperature sensor")
    assert seen.waiting == "18.5 °C, typed on page (phone 1), counts when the sensor falls silent."
    getattr(bench.files, fault)()
    bench.turns(SILENT_AFTER)
    seen = bench.watch.seen()
    assert (seen.celsius, seen.where, seen.waiting) == (18.5, "typed on page (phone 1)", "")
    assert len(seen.troubles) == 1
    assert bench.told() == [21.0, 18.5]


def test_the_settings_temperature_counts_from_the_start_and_a_person_s_after_it(bench: Bench) -> None:
    bench.made(typed_c=23.0)
    bench.turns()
    assert (bench.watch.seen().celsius, bench.watch.seen().where) == (23.0, "from the settings")
    bench.watch.typed(23.1, "page (phone 1)")
    assert bench.told() == [23.0, 23.1]
    bench.files.celsius(20.0)
    bench.turns()
    assert bench.told() == [20.0]


def test_a_typed_temperature_is_said_to_be_old_after_four_hours(bench: Bench) -> None:
    bench.watch.typed(18.5, "page (phone 1)")
    bench.clock.advance(OLD_AFTER_S)
    assert bench.watch.seen().old == ""
    bench.clock.advance(1)
    assert "more than four hours old" in bench.watch.seen().old
    assert bench.watch.seen().celsius == 18.5
    bench.watch.typed(19.0, "page (phone 1)")
    assert bench.watch.seen().old == ""


def test_a_fixed_value_of_the_settings_is_said_to_be_one(bench: Bench) -> None:
    bench.made(typed_c=23.0)
    bench.clock.advance(OLD_AFTER_S + 1)
    assert "a fixed value from the settings" in bench.watch.seen().old


@pytest.mark.parametrize("celsius", [-20.1, 60.1, float("nan"), float("inf")])
def test_a_temperature_that_no_workshop_has_cannot_be_typed(bench: Bench, celsius: float) -> None:
    with pytest.raises(Refused, match="no temperature of a workshop"):
        bench.watch.typed(celsius, "page (phone 1)")
    assert bench.watch.now().typed is None


def test_the_humidity_sensor_s_own_temperature_stands_in(bench: Bench) -> None:
    bench.files.humidity(48.0, 22.4)
    bench.turns()
    seen = bench.watch.seen()
    assert (seen.celsius, seen.where, seen.humidity_percent) == (22.4, "from the humidity sensor", 48.0)
    assert seen.troubles == ()  # nobody ever plugged the other one in
    bench.files.celsius(21.0)
    bench.turns()
    assert bench.watch.now().source is Source.ONE_WIRE
    assert bench.told() == [22.4, 21.0]


def test_without_a_temperature_sensor_in_the_settings_the_humidity_sensor_tells_only_humidity(bench: Bench) -> None:
    bench.made("none")
    bench.files.humidity(48.0, 22.4)
    bench.turns()
    assert (bench.watch.now().celsius, bench.watch.now().humidity_percent) == (None, 48.0)


def test_a_humidity_sensor_is_missed_only_once_it_has_been_there(bench: Bench) -> None:
    bench.files.celsius(21.0)
    bench.turns()
    assert bench.watch.seen().troubles == ()
    bench.files.humidity(48.0)
    bench.turns()
    bench.files.no_humidity()
    bench.turns()
    (missed,) = bench.watch.seen().troubles
    assert missed.startswith("There is no humidity sensor.")
    assert bench.watch.seen().humidity_percent == 48.0
    bench.turns(SILENT_AFTER)
    assert bench.watch.seen().humidity_percent is None


def test_the_humidity_is_told_in_whole_percent_and_only_when_it_has_changed_by_what_matters(bench: Bench) -> None:
    bench.files.humidity(48.4)
    bench.turns(9)
    assert bench.told_percent() == [48.0]
    bench.files.humidity(52.0)
    bench.turns(20)
    assert bench.told_percent() == [], "less than a sensor is good for"
    bench.files.humidity(71.0)
    bench.turns(20)
    told = bench.told_percent()
    assert told
    assert all(b - a >= 4 for a, b in pairwise([48.0, *told])), "smoothed, and in steps"
    assert 66 <= told[-1] <= 71
    bench.files.no_humidity()
    bench.turns(SILENT_AFTER)
    assert bench.told_percent() == [None]
    bench.turns(5)
    assert bench.told_percent() == []


def test_of_a_humidity_that_nobody_measures_nothing_is_told(bench: Bench) -> None:
    bench.files.celsius(21.0)
    bench.turns(SILENT_AFTER + 3)
    assert bench.told_percent() == []


def test_a_named_sensor_is_the_one_that_is_spoken_of(bench: Bench) -> None:
    bench.made(SENSOR)
    bench.files.celsius(21.0)
    bench.files.celsius(5.0, "28-0417c3d2aaff")
    bench.turns()
    assert (bench.watch.seen().celsius, bench.watch.seen().where) == (21.0, f"from the temperature sensor {SENSOR}")


def test_the_thread_looks_by_itself_and_ends_when_told(bench: Bench) -> None:
    bench.files.celsius(21.0)
    with bench.made(period_s=0.01) as watch:
        first = bench.inbox.next(DEADLINE_S)
        bench.files.celsius(30.0)
        second = bench.inbox.next(DEADLINE_S)
        watch.stop()
        watch.stop()
    assert [e.message for e in (first, second) if isinstance(e, Envelope)] == [Temperature(21.0), Temperature(30.0)]


def test_with_nothing_to_look_at_the_settings_temperature_is_told_at_once(bench: Bench) -> None:
    with bench.made("none", humidity=False, typed_c=23.0):
        assert bench.told() == [23.0]
    with bench.made("none", humidity=False):
        assert bench.told() == [None]


def test_a_bug_in_the_watch_ends_the_station(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(look: Callable[[], float], last: float | None) -> float:
        raise ZeroDivisionError

    monkeypatch.setattr("station.climate.watch.believed", broken)
    with bench.made():
        end = bench.inbox.next(DEADLINE_S)
    assert isinstance(end, End)
    assert isinstance(end.bug, ZeroDivisionError)

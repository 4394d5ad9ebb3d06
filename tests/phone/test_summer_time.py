"""Both days on which the clocks change: no duration moves, nothing rings early or late, due times are shown right."""

from __future__ import annotations

import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest

from station.core import messages as msg
from station.core.clocks import AlarmState, ClockKind
from station.core.views import snapshot
from station.joints import today
from station.phone.wire import state
from station.phone.words import clock_text
from station.testing import ScriptedClock
from tests.core.test_time import curing
from tests.play import CARD

RULE = "CET-1CEST,M3.5.0/2,M10.5.0/3"
"""One hour ahead of UTC, two in summer; POSIX.1 writes the rule out, so no zone files are needed."""
SPRING = datetime(2026, 3, 29, 1, 0, tzinfo=UTC)
AUTUMN = datetime(2026, 10, 25, 1, 0, tzinfo=UTC)


@pytest.fixture(autouse=True)
def workshop(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("TZ", RULE)
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


@pytest.mark.parametrize(
    ("change", "due"),
    [(SPRING, "Sun 03:50"), (AUTUMN, "Sun 02:50 CET")],
    ids=["an hour is left out", "an hour comes twice"],
)
def test_a_cure_over_the_change_takes_as_long_as_ever_and_its_due_time_is_that_of_the_wall_clock(
    change: datetime, due: str
) -> None:
    play = curing()
    clock = play.cast.clock(ClockKind.DEMOLD)
    assert clock is not None
    begun_s = clock.started.boot_s
    play.wall = change + timedelta(minutes=50) - timedelta(seconds=clock.length_s - (play.boot_s - begun_s))
    shown = state(snapshot(play.bench, play.now, 1, CARD))
    assert shown["curing"][0]["due"] == due
    play.wait(begun_s + clock.length_s - play.boot_s - 1, tick_s=1.0)
    assert play.cast.clock(ClockKind.DEMOLD).state is AlarmState.WAITING  # type: ignore[union-attr]
    play.wait(2, tick_s=1.0)
    rung = play.cast.clock(ClockKind.DEMOLD)
    assert rung is not None
    assert rung.state is AlarmState.SOUNDING
    assert rung.raised is not None
    assert 0 <= rung.raised.boot_s - begun_s - clock.length_s <= 1.0
    assert f"{rung.raised.wall.astimezone():%a %H:%M}" == due[:9]


@pytest.mark.parametrize("change", [SPRING, AUTUMN])
def test_a_known_power_cut_over_the_change_is_as_long_as_it_was(change: datetime) -> None:
    play = curing()
    play.wall = change - timedelta(minutes=30)
    play.send(msg.AddNote(1, "the last word before the cut", "test"))
    play.restart(off_s=3600, new_boot="boot-2")
    (cut,) = play.standing.outages
    assert cut.off_s == pytest.approx(3600)
    assert cut.last_seen.wall.astimezone().utcoffset() != cut.back.wall.astimezone().utcoffset()


def test_the_hour_that_comes_twice_is_told_apart_and_no_other_hour_is() -> None:
    first, second = AUTUMN - timedelta(minutes=30), AUTUMN + timedelta(minutes=30)
    assert clock_text(first, AUTUMN) == "02:30 CEST"
    assert clock_text(second, AUTUMN) == "02:30 CET"
    assert clock_text(first - timedelta(hours=1), AUTUMN) == "01:30"
    assert clock_text(second + timedelta(hours=1), AUTUMN) == "03:30"
    assert clock_text(SPRING - timedelta(minutes=1), SPRING) == "01:59"
    assert clock_text(SPRING, SPRING) == "03:00"


def test_today_is_the_day_at_the_bench_on_both_sides_of_midnight_in_winter_and_in_summer() -> None:
    days = []
    for wall in (datetime(2026, 1, 9, 22, 59), datetime(2026, 1, 9, 23, 1), datetime(2026, 7, 9, 22, 1)):
        clock = ScriptedClock(wall.replace(tzinfo=UTC))
        days.append(str(today(clock)))
    assert days == ["2026-01-09", "2026-01-10", "2026-07-10"]
    assert today(ScriptedClock(AUTUMN)) == AUTUMN.date()

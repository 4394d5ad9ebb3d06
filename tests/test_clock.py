"""The clock: what it counts by, and when it believes the wall."""

from __future__ import annotations

import time
from datetime import UTC, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from station.clock import SystemClock
from station.core.cues import Cue, Urgency
from station.core.events import Entry, StationStarted
from station.core.moment import Moment, gap_s
from station.errors import LedgerFault
from station.ports import Ledger, Signals, TimeSource
from station.testing import MemoryLedger, RecordingSignals, ScriptedClock


def seconds_now() -> str:
    """The wall time as a battery clock would tell it."""
    return str(int(SystemClock().now().wall.timestamp()))


def clock_in(folder: Path, battery: dict[str, str] | None = None) -> SystemClock:
    if battery is not None:
        (folder / "rtc0").mkdir()
        for name, text in battery.items():
            (folder / "rtc0" / name).write_text(text + "\n")
    return SystemClock(sync_mark=folder / "mark", boot_id=folder / "boot", battery_clocks=folder)


def test_time_never_runs_backwards_within_one_boot() -> None:
    clock = SystemClock()
    moments = [clock.now() for _ in range(50)]
    assert all(gap_s(a, b) is not None and gap_s(a, b) >= 0 for a, b in pairwise(moments))
    assert {m.boot_id for m in moments} == {moments[0].boot_id}
    assert moments[0].wall.tzinfo is UTC


def test_seconds_are_those_since_boot_and_the_boot_is_the_kernels() -> None:
    now = SystemClock().now()
    assert now.boot_s == pytest.approx(time.clock_gettime(time.CLOCK_BOOTTIME), abs=60)
    assert now.boot_id == Path("/proc/sys/kernel/random/boot_id").read_text().strip()


def test_without_a_boot_id_each_process_counts_as_a_boot_of_its_own(tmp_path: Path) -> None:
    assert clock_in(tmp_path).now().boot_id != clock_in(tmp_path).now().boot_id


def test_the_wall_is_trusted_within_a_second_of_the_mark_that_the_time_service_leaves(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    boot_s = [100.0]
    monkeypatch.setattr(time, "clock_gettime", lambda _clock: boot_s[0])
    clock = clock_in(tmp_path)
    assert not clock.now().trusted
    (tmp_path / "mark").touch()
    boot_s[0] += 0.9
    assert not clock.now().trusted, "each line of the scale asks for the time, so the file is not asked each time"
    boot_s[0] += 0.1
    assert clock.now().trusted


def test_a_battery_clock_that_set_the_time_at_boot_and_agrees_is_evidence(tmp_path: Path) -> None:
    assert clock_in(tmp_path, {"hctosys": "1", "since_epoch": seconds_now()}).now().trusted


@pytest.mark.parametrize(
    "battery",
    [
        {"hctosys": "1", "since_epoch": "86400"},
        {"hctosys": "0", "since_epoch": "now"},
        {"hctosys": "1", "since_epoch": "nonsense"},
        {"hctosys": "1"},
    ],
)
def test_a_battery_clock_without_battery_or_use_is_no_evidence(tmp_path: Path, battery: dict[str, str]) -> None:
    filled = {name: text.replace("now", seconds_now()) for name, text in battery.items()}
    assert not clock_in(tmp_path, filled).now().trusted


def test_a_scripted_wall_step_moves_the_wall_and_nothing_else() -> None:
    clock = ScriptedClock()
    before = clock.now()
    after = clock.step_wall(-86_400)
    assert after.wall == before.wall - timedelta(days=1)
    assert gap_s(before, after) == 0
    assert gap_s(before, clock.advance(30)) == 30


def test_a_scripted_power_cut_with_a_trusted_wall_has_a_known_length() -> None:
    clock = ScriptedClock()
    before = clock.now()
    assert gap_s(before, clock.reboot(600)) == pytest.approx(620)


def test_a_scripted_power_cut_without_battery_clock_has_an_unknown_length_until_a_time_server_is_heard() -> None:
    clock = ScriptedClock()
    before = clock.now()
    after = clock.reboot(600, trusted=False)
    assert gap_s(before, after) is None
    assert after.wall == before.wall + timedelta(seconds=20)
    assert gap_s(before, clock.trust()) == pytest.approx(620)


def test_the_memory_record_keeps_all_or_nothing() -> None:
    clock, ledger = ScriptedClock(), MemoryLedger()
    first = Entry(StationStarted(None, "1"), clock.now())
    ledger.write([first])
    ledger.failing = "The disk is full."
    with pytest.raises(LedgerFault, match="disk is full"):
        ledger.write([Entry(StationStarted(None, "2"), clock.advance(5))])
    with pytest.raises(LedgerFault):
        ledger.heartbeat(clock.now())
    assert ledger.written == [first]
    assert ledger.last_seen() == first.at
    ledger.failing = ""
    ledger.heartbeat(clock.now())
    assert ledger.last_seen() == clock.now()


def test_recorded_signals_keep_cues_in_order_and_only_changes_of_what_is_held() -> None:
    signals = RecordingSignals()
    for cue in (Cue.TARED, Cue.ACCEPTED):
        signals.cue(cue, cue.value)
        signals.hold(Urgency.FIRST)
    signals.lamps(True, False, False)
    signals.lamps(True, False, False)
    assert signals.cues == [Cue.TARED, Cue.ACCEPTED]
    assert signals.holds == [Urgency.CALM, Urgency.FIRST]
    assert signals.lamp_states == [(False, False, False), (True, False, False)]
    assert signals.wait_until(lambda s: s.urgency is Urgency.FIRST)
    assert not signals.wait_until(lambda s: Cue.LOST in s.cues, deadline_s=0.01)


def test_stand_ins_and_clock_keep_the_shapes_that_the_loop_expects() -> None:
    sources: list[TimeSource] = [SystemClock(), ScriptedClock()]
    signals: Signals = RecordingSignals()
    ledger: Ledger = MemoryLedger()
    assert [s.now().boot_s >= 0 for s in sources] == [True, True]
    assert ledger.last_seen() is None
    signals.hold(Urgency.CALM)
    assert isinstance(signals, RecordingSignals)
    assert signals.holds == [Urgency.CALM]


def test_a_told_time_counts_until_the_time_service_is_heard_and_is_marked_as_by_hand(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("station.clock.LOOKS_EVERY_S", 0.0)
    clock = clock_in(tmp_path)
    system = clock.now()
    told = system.wall + timedelta(days=40)
    clock.told(told.timestamp() - system.boot_s)
    now = clock.now()
    assert now.trusted
    assert now.by_hand
    assert (now.wall - told).total_seconds() == pytest.approx(now.boot_s - system.boot_s, abs=1e-3)
    (tmp_path / "mark").touch()
    heard = clock.now()
    assert heard.trusted
    assert not heard.by_hand
    assert heard.wall - system.wall < timedelta(days=1)


def test_a_mark_that_may_not_be_looked_at_is_no_evidence(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    assert not SystemClock(tmp_path / "file" / "mark", tmp_path / "boot", tmp_path).now().trusted


def test_only_a_trusted_wall_can_have_been_set_by_hand() -> None:
    with pytest.raises(ValueError, match="set by hand"):
        Moment(1.0, "boot", SystemClock().now().wall, False, True)


def test_the_scripted_clock_is_told_the_time_as_the_real_one_is() -> None:
    clock = ScriptedClock()
    right = clock.now().wall
    clock.reboot(600, trusted=False)
    clock.told((right + timedelta(seconds=625)).timestamp() - 20)
    now = clock.now()
    assert (now.trusted, now.by_hand) == (True, True)
    assert now.wall == right + timedelta(seconds=625)
    assert not clock.trust().by_hand
    assert not clock.reboot(5, trusted=False).trusted

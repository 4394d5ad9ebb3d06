"""The unit, crashes, and whether a station runs at all."""

import subprocess
import sys
from dataclasses import replace

import pytest

from station.core.moment import Moment
from station.doctor.checks import service
from station.doctor.finding import Verdict
from station.doctor.life import Life, life_of
from station.doctor.patient import patient
from station.doctor.probe import Machine
from station.doctor.unit import unit_of
from station.starts import Starts
from station.store.ledger import LOCK_FILE
from station.store.lock import StationLock
from tests.doctor.ward import STATION, Ward, only, verdicts

LOCKS = (
    "import sys, pathlib\nfrom station.store.lock import StationLock\nkept = StationLock(pathlib.Path(sys.argv[1]))\n"
)
WAITS = "print('locked', flush=True); sys.stdin.read()"


def unit(ward: Ward, **told: str):
    ward.unit(**told)
    return service.service(ward.patient())


def test_a_service_that_is_enabled_and_runs_passes(ward):
    assert verdicts(unit(ward)) == [Verdict.PASS]


def test_without_a_manager_or_a_unit_that_needs_a_look(ward):
    assert "No service manager" in only(service.service, ward.patient()).told
    ward.answer("systemctl show", "System has not been booted with systemd", code=1)
    assert "No service manager" in only(service.service, ward.patient()).told
    assert "not installed" in next(iter(unit(ward, LoadState="not-found", ActiveState="inactive"))).told


@pytest.mark.parametrize(
    ("told", "found"),
    [
        ({"UnitFileState": "disabled"}, [Verdict.LOOK, Verdict.PASS]),
        ({"ActiveState": "failed", "Result": "exit-code"}, [Verdict.FAIL]),
        ({"ActiveState": "activating", "SubState": "auto-restart", "Result": "watchdog"}, [Verdict.FAIL]),
        ({"ActiveState": "activating", "SubState": "start"}, [Verdict.LOOK]),
        ({"ActiveState": "inactive", "SubState": "dead"}, [Verdict.LOOK]),
    ],
)
def test_each_other_state_of_the_unit_has_its_verdict(ward, told, found):
    assert verdicts(unit(ward, **told)) == found
    assert all(finding.cure for finding in unit(ward, **told) if finding.verdict is not Verdict.PASS)


def test_a_manager_that_hangs_is_no_manager(ward):
    ward.answers["systemctl show"] = TimeoutError("late")
    assert ward.patient().unit is None


def crashed(ward: Ward, times: int) -> None:
    folder = ward.root / "run" / "tarebell"
    folder.mkdir(parents=True)
    for ago_s in range(times + 1, 0, -1):
        Starts([folder]).begun(earlier(ward, ago_s))


def earlier(ward: Ward, seconds: float) -> Moment:
    """Starts are at least a second apart, as in life: a test with its folder in memory makes many in a millisecond."""
    now = ward.patient().now
    return replace(now, boot_s=now.boot_s - seconds)


def test_a_station_that_never_crashed_passes(ward):
    crashed(ward, 0)
    assert only(service.crash, ward.patient(Life.RUNS)).verdict is Verdict.PASS


def test_crashes_are_counted_and_an_orderly_end_forgets_them(ward):
    crashed(ward, 2)
    assert "crashed 2 times" in only(service.crash, ward.patient(Life.RUNS)).told
    # The last start came to no orderly end either, for the station is stopped.
    assert "crashed 3 times" in only(service.crash, ward.patient(Life.STOPPED)).told
    starts = Starts([ward.root / "run" / "tarebell"])
    starts.begun(earlier(ward, 0.5))
    starts.ended(ward.patient().now)
    assert only(service.crash, ward.patient(Life.STOPPED)).verdict is Verdict.PASS


def test_safe_mode_fails(ward):
    crashed(ward, 5)
    found = only(service.crash, ward.patient(Life.RUNS))
    assert found.verdict is Verdict.FAIL
    assert "safe mode" in found.told


def test_crashes_of_another_boot_do_not_count(ward):
    crashed(ward, 3)
    file = ward.root / "run" / "tarebell" / "starts"
    file.write_text(file.read_text().replace(ward.patient().now.boot_id, "another"))
    assert only(service.crash, ward.patient(Life.RUNS)).verdict is Verdict.PASS


def test_restarts_that_only_the_manager_has_seen_need_a_look(ward):
    ward.unit(NRestarts="4")
    assert "started it again 4 times" in only(service.crash, ward.patient(Life.RUNS)).told


def test_the_last_errors_of_the_log_are_told_here_and_not_to_others(ward):
    lines = ["INFO tarebell page url=x", *(f"ERROR tarebell.signals pin failed name=marmot{n}" for n in range(5))]
    ward.answer("journalctl", "\n".join([*lines, "Traceback (most recent call last):", "ERROR other thing"]))
    verdict, errors = service.crash(ward.patient())
    assert verdict.verdict is Verdict.PASS
    assert errors.told.splitlines()[1:] == lines[-3:]
    assert "marmot" not in errors.without_names().told


def test_who_holds_the_lock_is_the_station(ward):
    process = subprocess.Popen(
        [sys.executable, "-c", f"{LOCKS}{WAITS}", str(ward.state / LOCK_FILE)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    )
    with process:
        assert process.stdout.readline() == b"locked\n"
        found = life_of(Machine(), ward.state, None)
        process.communicate(b"")
    assert found.life is Life.RUNS
    assert found.program.pid == process.pid
    assert life_of(Machine(), ward.state, None).life is Life.STOPPED


def test_the_lock_is_not_touched_by_asking(ward):
    life_of(Machine(), ward.state, None)
    assert not (ward.state / LOCK_FILE).exists()
    StationLock(ward.state / LOCK_FILE).release()
    assert life_of(Machine(), ward.state, None).life is Life.STOPPED


def test_a_unit_that_may_run_counts_as_a_station_that_runs(ward):
    ward.unit()
    found = patient(ward, ward.config).station
    assert (found.life, found.program.pid) == (Life.RUNS, STATION)
    ward.unit(ActiveState="activating", SubState="auto-restart", MainPID="0")
    assert patient(ward, ward.config).station.life is Life.RUNS


def test_where_the_locks_cannot_be_seen_nothing_is_known(ward):
    StationLock(ward.state / LOCK_FILE).release()
    assert life_of(ward, ward.state, None).life is Life.UNKNOWN


def test_this_machine_has_no_such_unit_or_no_manager():
    found = unit_of(Machine())
    assert found is None or found.load in ("not-found", "loaded", "masked", "error")

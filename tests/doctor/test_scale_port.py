"""The way to the scale: there, to be opened, and held by nobody but the station."""

import subprocess
import sys

from station.doctor.checks.scale_port import scale_port
from station.doctor.finding import Verdict
from station.doctor.life import Life
from station.doctor.probe import Machine
from station.doctor.rights import own_account
from station.simulated.pty_port import PtyPort
from tests.doctor.ward import NOBODY, STATION, STRANGER, only

KEEPS = "import sys; f = open(sys.argv[1], 'rb', buffering=0); print('open', flush=True); sys.stdin.read()"


def test_a_port_that_is_there_passes(ward):
    ward.put("/dev/ttyUSB0")
    found = only(scale_port, ward.patient())
    assert found.verdict is Verdict.PASS
    assert "nobody is seen to have it open" in found.told


def test_without_the_port_it_fails(ward):
    found = only(scale_port, ward.patient())
    assert (found.verdict, found.told) == (Verdict.FAIL, "There is no port /dev/ttyUSB0.")
    assert found.cure


def test_a_port_that_the_service_may_not_open_fails_and_names_the_group(ward):
    ward.put("/dev/ttyUSB0").chmod(0o660)
    found = only(scale_port, ward.patient(owner=NOBODY))
    assert found.verdict is Verdict.FAIL
    assert "nobody-here, who may not open /dev/ttyUSB0" in found.told
    assert "usermod -aG" in found.cure
    group = own_account()
    in_group = NOBODY.__class__("x", NOBODY.uid, group.gids)
    assert only(scale_port, ward.patient(owner=in_group)).verdict is Verdict.PASS


def test_a_lasting_name_leads_to_the_port(ward):
    port = ward.put("/dev/ttyUSB0")
    ward.settings(port="/dev/serial/by-id/usb-a")
    link = ward.root / "dev" / "serial" / "by-id" / "usb-a"
    link.parent.mkdir(parents=True)
    link.symlink_to("../../ttyUSB0")
    ward.process(STRANGER, "modem-manager", port)
    assert "modem-manager (process 4711)" in only(scale_port, ward.patient()).told


def test_another_program_at_the_port_fails_whether_or_not_the_station_runs(ward):
    ward.process(STRANGER, "modem-manager", ward.put("/dev/ttyUSB0"))
    for life in (Life.STOPPED, Life.RUNS):
        found = only(scale_port, ward.patient(life))
        assert found.verdict is Verdict.FAIL
        assert "held by modem-manager (process 4711)" in found.told
        assert "sudo kill 4711" in found.cure
    assert only(scale_port, ward.patient(Life.UNKNOWN)).verdict is Verdict.LOOK


def test_the_station_itself_may_have_it_open(ward):
    ward.process(STATION, "tarebell", ward.put("/dev/ttyUSB0"))
    found = only(scale_port, ward.patient(Life.RUNS))
    assert (found.verdict, found.told) == (Verdict.PASS, "The station has /dev/ttyUSB0 open.")


def test_a_station_that_runs_without_its_port_fails_where_root_asks(ward):
    ward.put("/dev/ttyUSB0")
    by_root = own_account().__class__("root", 0, frozenset({0}))
    assert only(scale_port, ward.patient(Life.RUNS, by=by_root)).verdict is Verdict.FAIL
    assert "only root can see" in only(scale_port, ward.patient(Life.RUNS, by=NOBODY)).told


def test_a_scale_behind_the_network_is_left_to_the_station(ward):
    ward.settings(port="socket://192.0.2.9:4001")
    found = only(scale_port, ward.patient())
    assert found.verdict is Verdict.PASS
    assert "192.0.2.9" not in found.without_names().told


def test_a_scale_that_was_never_found_needs_a_look(ward):
    ward.settings(port="found")
    found = only(scale_port, ward.patient())
    assert (found.verdict, found.told) == (Verdict.LOOK, "No scale was found yet.")


def test_a_real_process_at_a_real_port_is_found_by_its_number(ward, tmp_path):
    with PtyPort(tmp_path / "scale") as port:
        ward.settings(port=str(port.path))
        patient = ward.patient(probe=Machine())
        with subprocess.Popen(
            [sys.executable, "-c", KEEPS, str(port.path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE
        ) as other:
            assert other.stdout.readline() == b"open\n"
            found = only(scale_port, patient)
            other.communicate(b"")
        assert found.verdict is Verdict.FAIL
        assert f"(process {other.pid})" in found.told
        assert only(scale_port, patient).verdict is Verdict.PASS

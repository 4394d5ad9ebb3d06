"""The files for the system, before the programs that will read them."""

import os
import re
import shutil
import subprocess
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from station.installing.settings_file import Known
from station.installing.system_files import announcement

SYSTEMD = Path(__file__).resolve().parents[2] / "systemd"
UNIT = SYSTEMD / "tarebell.service"
MOST_EXPOSED = 2.0

analyzes = pytest.mark.skipif(shutil.which("systemd-analyze") is None, reason="systemd-analyze is not there")
udev = pytest.mark.skipif(shutil.which("udevadm") is None, reason="udevadm is not there")


def run(*command: object) -> subprocess.CompletedProcess[str]:
    return subprocess.run([*map(str, command)], capture_output=True, text=True, check=False, timeout=60)


@pytest.fixture
def unit(tmp_path):
    """The unit, with a program that is there."""
    place = tmp_path / "tarebell.service"
    place.write_text(re.sub("^ExecStart=.*$", "ExecStart=/bin/true", UNIT.read_text(), flags=re.MULTILINE))
    return place


@analyzes
def test_systemd_understands_every_line_of_the_unit(unit):
    verdict = run("systemd-analyze", "verify", unit)
    assert (verdict.returncode, verdict.stderr) == (0, "")
    unit.write_text(unit.read_text().replace("ProtectClock=yes", "ProtectClocks=yes"))
    assert "ProtectClocks" in run("systemd-analyze", "verify", unit).stderr


def exposure(unit: Path) -> float:
    verdict = run("systemd-analyze", "security", "--offline=yes", unit)
    found = re.search(r"exposure level for \S+: ([\d.]+)", verdict.stdout)
    assert found, verdict.stderr
    return float(found[1])


@analyzes
def test_the_unit_is_exposed_no_more_than_promised(unit):
    assert exposure(unit) <= MOST_EXPOSED
    bare = "\n".join(line for line in unit.read_text().splitlines() if not line.startswith(("Protect", "SystemCall")))
    unit.write_text(bare)
    assert exposure(unit) > MOST_EXPOSED


@analyzes
def test_what_a_confined_process_does_to_itself_is_let_through_and_what_changes_the_system_is_not(unit):
    groups = dict(
        re.findall(r"^(@[\w-]+)\n((?:    .*\n)+)", run("systemd-analyze", "syscall-filter").stdout, re.MULTILINE)
    )

    def calls(name: str) -> set[str]:
        words = [line.strip() for line in groups[name].splitlines() if not line.strip().startswith("#")]
        return {each for word in words for each in (calls(word) if word.startswith("@") else {word})}

    allowed: set[str] = set()
    for line in re.findall("^SystemCallFilter=(.*)$", UNIT.read_text(), re.MULTILINE):
        named = {each for word in line.lstrip("~").split() for each in (calls(word) if word[0] == "@" else {word})}
        allowed = allowed - named if line.startswith("~") else allowed | named
    # From limits.py, a child's start, threads, the side door and the serial port.
    needed = {"prlimit64", "setrlimit", "setpriority", "clone", "execve", "wait4", "setsid", "kill", "ioctl", "fsync"}
    needed |= {"bind", "accept4", "getsockopt", "flock", "rename", "memfd_create", "sched_getaffinity", "statfs"}
    assert needed <= allowed
    assert not allowed & {
        "mount",
        "reboot",
        "settimeofday",
        "init_module",
        "ptrace",
        "chroot",
        "bpf",
        "swapon",
        "chown",
    }


def test_the_unit_waits_for_no_network_and_the_station_is_never_given_up():
    said = UNIT.read_text()
    assert re.findall("^(?:After|Wants|Requires|BindsTo)=(.*)$", said, re.MULTILINE) == ["time-set.target"]
    assert "network-online" not in said
    for line in ("Type=notify", "Restart=always", "StartLimitIntervalSec=0", "OOMPolicy=continue"):
        assert re.search(f"^{line}$", said, re.MULTILINE)


def test_each_file_for_ports_is_named_by_its_number_where_its_driver_comes_with_the_plug():
    """systemd resolves a name when the service starts; a driver that is loaded later would stay shut."""
    allowed = re.findall("^DeviceAllow=char-(\\S+) rw$", UNIT.read_text(), re.MULTILINE)
    assert {"188", "166"} <= set(allowed)
    assert not {"ttyUSB", "ttyACM"} & set(allowed)


@udev
def test_udev_understands_the_rules():
    if run("udevadm", "verify", "--help").returncode:
        pytest.skip("this udevadm cannot verify rules (systemd before 254)")
    verdict = run("udevadm", "verify", "--resolve-names=never", SYSTEMD / "tarebell.rules")
    assert verdict.returncode == 0, verdict.stderr


def test_the_rules_hold_what_they_promise_for_every_usb_port():
    lines = re.sub(r"\\\n\s*", "", (SYSTEMD / "tarebell.rules").read_text()).splitlines()
    rules = [line for line in lines if line and not line.startswith("#")]
    ports = [line for line in rules if 'KERNEL=="ttyUSB[0-9]*|ttyACM[0-9]*"' in line]
    given = ",".join(ports)
    for wish in ('GROUP="tarebell"', 'MODE="0660"', 'ENV{ID_MM_DEVICE_IGNORE}="1"', 'ENV{ID_MM_PORT_IGNORE}="1"'):
        assert wish in given
    assert all('SUBSYSTEMS=="usb"' in line for line in ports)
    key = re.compile(r'[A-Z]+(?:\{\w+\})?(?:==|!=|\+=|=)"[^"]*"')
    for line in rules:
        assert all(key.fullmatch(part.strip()) for part in line.split(",")), line


@pytest.mark.skipif(shutil.which("systemd-sysusers") is None, reason="systemd-sysusers is not there")
def test_the_user_is_made_with_its_groups(tmp_path):
    (tmp_path / "etc").mkdir()
    (tmp_path / "etc/group").write_text("dialout:x:20:\naudio:x:29:\n")
    made = run("systemd-sysusers", f"--root={tmp_path}", SYSTEMD / "tarebell.sysusers")
    assert made.returncode == 0, made.stderr
    assert ":/var/lib/tarebell:/usr/sbin/nologin" in (tmp_path / "etc/passwd").read_text()
    groups = dict(line.split(":")[::3] for line in (tmp_path / "etc/group").read_text().splitlines())
    assert {name for name, members in groups.items() if "tarebell" in members} == {"dialout", "gpio", "audio"}


@pytest.mark.skipif(shutil.which("systemd-tmpfiles") is None, reason="systemd-tmpfiles is not there")
def test_the_folders_are_made_and_the_settings_shut(tmp_path):
    (tmp_path / "etc/tarebell").mkdir(parents=True)
    # The tests' own user has to do here: another one needs an administrator.
    (tmp_path / "etc/passwd").write_text(
        f"tarebell:x:{os.getuid()}:{os.getgid()}::/:/bin/false\nroot:x:0:0::/:/bin/sh\n"
    )
    (tmp_path / "etc/group").write_text(f"tarebell:x:{os.getgid()}:\nroot:x:0:\n")
    settings = tmp_path / "etc/tarebell/station.toml"
    settings.write_text("")
    settings.chmod(0o644)
    made = run("systemd-tmpfiles", "--create", f"--root={tmp_path}", SYSTEMD / "tarebell.tmpfiles")
    assert made.returncode == 0, made.stderr
    assert settings.stat().st_mode & 0o777 == 0o640
    for folder in ("var/lib/tarebell", "var/lib/tarebell/backups", "etc/tarebell"):
        assert (tmp_path / folder).stat().st_mode & 0o777 == 0o750


def test_the_announcement_is_one_service_with_the_page_s_port():
    known = Known("http://127.0.0.1:8060/", 8060, False, Path("/x"), False, "")
    group = ET.fromstring(announcement(known))
    assert group.findtext("service/type") == "_http._tcp"
    assert group.findtext("service/port") == "8060"

"""The disk under the record: there, writable, with space, and true to its word."""

import errno
import os

import pytest

from station.doctor.checks import disk
from station.doctor.finding import Verdict
from station.doctor.mounts import mount_of
from tests.doctor.ward import NOBODY, only, verdicts

ROOT_LINE = "22 1 179:2 / / rw,noatime shared:1 - ext4 /dev/mmcblk0p2 rw"


def test_a_good_disk_passes_and_nothing_is_left_on_it(ward):
    assert verdicts(disk.disk(ward.patient())) == [Verdict.PASS, Verdict.PASS]
    assert list(ward.state.iterdir()) == []


def test_a_folder_that_is_not_there_needs_a_look(ward):
    ward.state.rmdir()
    assert only(disk.disk, ward.patient()).verdict is Verdict.LOOK


def test_little_space_needs_a_look(ward, monkeypatch):
    monkeypatch.setattr(disk, "LITTLE_SPACE", 1 << 60)
    assert verdicts(disk.disk(ward.patient())) == [Verdict.LOOK, Verdict.PASS]


def test_a_disk_that_can_only_be_read_fails(ward):
    lines = f"{ROOT_LINE}\n23 22 179:3 / {ward.state} ro,noatime - ext4 /dev/mmcblk0p3 rw\n"
    ward.put("/proc/self/mountinfo", lines)
    found = only(disk.disk, ward.patient())
    assert found.verdict is Verdict.FAIL
    assert "can only be read" in found.told


@pytest.mark.parametrize(
    ("number", "said"),
    [
        (errno.ENOSPC, "is full"),
        (errno.EROFS, "can only be read"),
        (errno.EIO, "does not take what is written"),
    ],
)
def test_a_disk_that_refuses_to_keep_what_is_written_fails(ward, monkeypatch, number, said):
    def refuse(_descriptor):
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "fsync", refuse)
    _, found = disk.disk(ward.patient())
    assert found.verdict is Verdict.FAIL
    assert said in found.told
    assert str(ward.state) not in found.without_names().told
    assert list(ward.state.iterdir()) == []


def test_a_folder_that_the_service_may_not_write_fails(ward):
    ward.state.chmod(0o755)
    _, found = disk.disk(ward.patient(owner=NOBODY))
    assert found.verdict is Verdict.FAIL
    assert "sudo chown -R nobody-here" in found.cure


def test_who_may_not_write_there_is_told_to_ask_as_another(ward, monkeypatch):
    def refuse(_place):
        raise PermissionError(errno.EACCES, "no")

    monkeypatch.setattr(disk, "sync", refuse)
    _, found = disk.disk(ward.patient())
    assert (found.verdict, found.cure) == (Verdict.LOOK, "Ask again with sudo.")


def test_the_nearest_and_newest_mount_counts(tmp_path):
    blank = tmp_path / "a b"
    hidden = f"30 22 8:1 / {tmp_path}/a\\040b rw - vfat /dev/sda1 rw"
    above = f"31 22 8:2 / {tmp_path}/a\\040b rw - vfat /dev/sdb1 ro"
    assert not mount_of(ROOT_LINE, blank).read_only
    assert mount_of(f"{ROOT_LINE}\n{hidden}\n{above}", blank / "inner").read_only
    assert not mount_of(f"{ROOT_LINE}\n{above}\n{hidden}", blank).read_only
    assert mount_of("nonsense", blank) is None

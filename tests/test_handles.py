"""Who has a file open is told by the file itself, not by its name alone: a container has names of its own."""

import os
import stat
from types import SimpleNamespace

import pytest

from station.handles import Program, program, programs_with, same

USB, PTS = os.makedev(188, 0), os.makedev(136, 3)


def node(device: int, on: int, number: int = 7, kind: int = stat.S_IFCHR) -> SimpleNamespace:
    return SimpleNamespace(st_mode=kind, st_dev=on, st_ino=number, st_rdev=device)


@pytest.mark.parametrize(
    ("one", "other", "is_same"),
    [
        (node(USB, 5), node(USB, 5), True),
        (node(USB, 5), node(USB, 6), True),
        (node(USB, 5), node(USB + 1, 6), False),
        (node(PTS, 5), node(PTS, 5), True),
        (node(PTS, 5), node(PTS, 6), False),
        (node(0, 5, kind=stat.S_IFREG), node(0, 6, kind=stat.S_IFREG), False),
        (node(0, 5, kind=stat.S_IFREG), node(0, 5, 8, kind=stat.S_IFREG), False),
    ],
)
def test_two_nodes_are_one_device_but_a_containers_terminals_are_its_own(one, other, is_same):
    assert same(one, other) is is_same


def test_a_program_is_found_by_a_file_and_by_a_socket(tmp_path):
    file = tmp_path / "file"
    file.touch()
    for pid, target in (("12", file), ("13", "socket:[99]"), ("14", tmp_path / "gone"), ("x", file)):
        (tmp_path / "proc" / pid / "fd").mkdir(parents=True)
        (tmp_path / "proc" / pid / "fd" / "3").symlink_to(target)
        (tmp_path / "proc" / pid / "comm").write_text(f"feeder{pid}\n")
    processes = tmp_path / "proc"
    assert programs_with(str(file), processes) == [Program(12, "feeder12")]
    assert programs_with("socket:[99]", processes) == [Program(13, "feeder13")]
    assert programs_with(str(tmp_path / "gone"), processes) == []
    assert program(12, processes).words == "feeder12 (process 12)"
    assert program(99, processes).name == "?"

"""The side door: a code for whoever may read the station's own files, on this computer, by the door's own rules."""

import os
import socket
import stat
import threading
from contextlib import closing
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from station.errors import Refused
from station.phone.doorkeeper import Doorkeeper
from station.phone.pairing import MAX_FAILURES, SHUT_FOR_S
from station.side_door import FILE, NobodyThere, SideDoor, ask_for_code
from station.testing import ScriptedClock

WITHIN_S = 30.0


@pytest.fixture
def clock():
    return ScriptedClock()


@pytest.fixture
def keeper(clock):
    shown = []
    made = Doorkeeper(clock, shown.append)
    made.shown = shown
    return made


def test_it_gives_the_code_that_the_bench_shows_and_that_code_opens(tmp_path, keeper):
    with SideDoor([tmp_path], keeper.ask_here):
        code = ask_for_code([tmp_path])
        assert keeper.shown == [code]
        assert keeper.open(code, "phone")
    assert len(keeper.paired()) == 1


def test_asked_twice_it_is_one_code_and_after_its_use_another(tmp_path, keeper):
    with SideDoor([tmp_path], keeper.ask_here):
        first = ask_for_code([tmp_path])
        assert ask_for_code([tmp_path]) == first
        keeper.open(first, "phone")
        with pytest.raises(Refused, match="No code is waiting"):
            keeper.open(first, "another")


def test_what_shuts_the_door_shuts_it_here_too_and_asking_opens_it_no_sooner(tmp_path, keeper, clock):
    with SideDoor([tmp_path], keeper.ask_here):
        ask_for_code([tmp_path])
        for _ in range(MAX_FAILURES):
            with pytest.raises(Refused):
                keeper.open("wrong", "stranger")
        with pytest.raises(Refused, match="Pairing is shut"):
            ask_for_code([tmp_path])
        clock.advance(SHUT_FOR_S)
        assert ask_for_code([tmp_path])


def test_nobody_but_the_owner_may_even_open_it(tmp_path, keeper):
    with SideDoor([tmp_path], keeper.ask_here):
        assert stat.S_IMODE((tmp_path / FILE).stat().st_mode) == 0o600


@pytest.mark.skipif(os.geteuid() != 0, reason="only the administrator can become somebody else")
def test_somebody_else_who_gets_hold_of_it_is_told_nothing(keeper):
    """Rights of files keep others out; should they be loosened, the kernel's word on who calls still does."""
    with TemporaryDirectory(dir="/tmp") as folder, SideDoor([Path(folder)], keeper.ask_here):
        open_to_all = Path(folder)
        open_to_all.chmod(0o755)
        (open_to_all / FILE).chmod(0o666)
        line, before = socket.socket(socket.AF_UNIX), os.geteuid()
        os.seteuid(65534)
        try:
            line.connect(str(open_to_all / FILE))
        finally:
            os.seteuid(before)
        with closing(line):
            line.settimeout(WITHIN_S)
            assert line.recv(100) == b""
    assert keeper.shown == []


def test_what_a_killed_station_left_is_taken_over(tmp_path, keeper):
    left = socket.socket(socket.AF_UNIX)
    left.bind(str(tmp_path / FILE))
    left.close()
    with pytest.raises(NobodyThere):
        ask_for_code([tmp_path])
    with SideDoor([tmp_path], keeper.ask_here):
        assert ask_for_code([tmp_path])
    assert not (tmp_path / FILE).exists()


def test_the_first_folder_that_takes_it_is_taken_and_without_any_the_bench_goes_on(tmp_path, keeper):
    missing = tmp_path / "missing"
    with SideDoor([missing, tmp_path], keeper.ask_here):
        assert ask_for_code([missing, tmp_path])
    with SideDoor([missing], keeper.ask_here), pytest.raises(NobodyThere):
        ask_for_code([missing])


def test_callers_who_go_away_or_say_things_end_nothing(tmp_path, keeper):
    with SideDoor([tmp_path], keeper.ask_here):
        for said in (b"", b"x" * 100_000):
            with closing(socket.socket(socket.AF_UNIX)) as line:
                line.setblocking(False)
                line.connect(str(tmp_path / FILE))
                try:
                    line.send(said)
                except OSError:
                    continue
        assert ask_for_code([tmp_path])
    assert "side door" not in {thread.name for thread in threading.enumerate()}

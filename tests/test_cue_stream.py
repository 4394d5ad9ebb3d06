"""The cue stream: what sounds is told to programs on this computer, and nobody makes the bench wait."""

from __future__ import annotations

import json
import socket
import stat
from pathlib import Path

import pytest

from station.core.cues import Cue, Urgency
from station.cue_stream import FILE, MOST_LISTENERS, CueStream
from station.testing import RecordingSignals, ScriptedClock

WITHIN_S = 30.0


@pytest.fixture
def signals() -> RecordingSignals:
    return RecordingSignals()


@pytest.fixture
def stream(signals: RecordingSignals) -> CueStream:
    return CueStream(signals, ScriptedClock())


def connected(folder: Path) -> socket.socket:
    line = socket.socket(socket.AF_UNIX, socket.SOCK_STREAM)
    line.settimeout(WITHIN_S)
    line.connect(str(folder / FILE))
    return line


def test_cues_and_changes_of_the_pace_are_told_with_their_moments(tmp_path, stream, signals):
    with stream.opened([tmp_path]), connected(tmp_path) as line, line.makefile("rb") as told:
        first = json.loads(told.readline())
        assert (first["cue"], first["pace"]) == ("PACE", None)
        stream.pace(0.4)
        stream.pace(0.4)
        stream.pace(None)
        stream.cue(Cue.STOP, "Stop.")
        lines = [json.loads(told.readline()) for _ in range(3)]
    assert [(each["cue"], each.get("pace"), each.get("words")) for each in lines] == [
        ("PACE", 0.4, None),
        ("PACE", None, None),
        ("STOP", None, "Stop."),
    ]
    assert all(each["at_s"] == 100.0 and each["wall"].startswith("2026-03-02T09:00:00") for each in lines)
    assert signals.cues == [Cue.STOP]
    assert signals.paces == [None, 0.4, None]


def test_all_else_is_passed_on(stream, signals):
    stream.hold(Urgency.FIRST)
    stream.lamps(True, False, True)
    assert signals.urgency is Urgency.FIRST
    assert signals.lamp_states[-1] == (True, False, True)


def test_who_does_not_read_is_let_go_and_the_others_hear_on(tmp_path, stream):
    with stream.opened([tmp_path]), connected(tmp_path) as deaf, connected(tmp_path) as line:
        with line.makefile("rb") as told:
            assert told.readline()
            for n in range(20_000):
                stream.cue(Cue.NEAR, f"{n} " + "x" * 80)
                assert told.readline()
                if len(stream._listeners) == 1:
                    break
            stream.cue(Cue.STOP, "Stop.")
            assert json.loads(told.readline())["words"] == "Stop."
        assert len(stream._listeners) == 1
        assert deaf.recv(10)


def test_only_the_stations_own_user_may_listen_and_only_so_many(tmp_path, stream):
    with stream.opened([tmp_path]):
        assert stat.S_IMODE((tmp_path / FILE).stat().st_mode) == 0o600
        lines = [connected(tmp_path) for _ in range(MOST_LISTENERS)]
        for line in lines:
            assert line.recv(1)
        with connected(tmp_path) as one_more:
            assert one_more.recv(1) == b""
        for line in lines:
            line.close()
    assert not (tmp_path / FILE).exists()


def test_where_no_folder_takes_a_socket_the_bench_goes_on(tmp_path, stream, signals):
    with stream.opened([tmp_path / "missing"]):
        stream.cue(Cue.STOP, "Stop.")
    assert signals.cues == [Cue.STOP]

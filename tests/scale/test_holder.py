"""The program that holds a port is named."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from station.scale.holder import holder_of
from station.simulated.pty_port import PtyPort


def test_the_process_that_has_the_port_open_is_named(tmp_path: Path) -> None:
    with PtyPort(tmp_path / "scale") as port:
        assert holder_of(str(port.path)) is None
        keeps = "import sys; f = open(sys.argv[1], 'rb', buffering=0); print('open', flush=True); sys.stdin.read()"
        with subprocess.Popen(
            [sys.executable, "-c", keeps, str(port.path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE
        ) as other:
            assert other.stdout is not None
            assert other.stdout.readline() == b"open\n"
            found = holder_of(str(port.path))
            other.communicate(b"")
    assert found is not None
    assert "python" in found
    assert f"process {other.pid}" in found


def test_processes_that_end_or_may_not_be_looked_at_are_passed_over(tmp_path: Path) -> None:
    (tmp_path / "12").mkdir()
    (tmp_path / "13" / "fd").mkdir(parents=True)
    (tmp_path / "13" / "fd" / "0").symlink_to("/dev/null")
    assert holder_of("/dev/null", tmp_path) is None
    (tmp_path / "13" / "comm").write_text("feeder\n")
    assert holder_of("/dev/null", tmp_path) == "feeder (process 13)"

"""The doctor beside a station that runs as a process of its own, and after it was killed."""

import json
import threading

import pytest
from click.testing import CliRunner

from station.cli import main
from tests.system import guarded_process
from tests.system.guarded_process import Manager


@pytest.fixture
def manager(tmp_path):
    with Manager(tmp_path) as manager:
        yield manager


def findings(manager):
    done = CliRunner().invoke(main, ["doctor", "--json", "--config", str(manager.folder / "station.toml")])
    checks = json.loads(done.stdout)["checks"]
    return {one["check"]: [(finding["verdict"], finding["told"]) for finding in one["findings"]] for one in checks}


def shows(manager, grams):
    """Whether the station comes to show what the scale sends: nobody has taken its port."""
    for _ in range(200):
        manager.scale.emit(f"ST,+{float(grams):08.1f}  g\r\n".encode())
        if grams in json.dumps(manager.seen()["scale"]):
            return True
        threading.Event().wait(0.05)
    return False


def test_a_station_that_runs_is_seen_and_left_alone(manager):
    manager.start()
    found = findings(manager)
    assert found["scale"] == [("pass", f"The station has {manager.scale.path} open.")]
    assert found["page"] == [("pass", f"The page answers at http://127.0.0.1:{guarded_process.PORT}/")]
    assert found["record"][0][0] == "pass"
    assert "The station runs and has the pins" in found["by-hand"][0][1]
    assert [verdict for verdict, _ in found["disk"]] == ["pass", "pass"]
    assert shows(manager, "12.5")
    assert manager.stop() == 0
    assert found["crashes"] == [("pass", "No crash is known since the board was switched on.")]


def test_a_station_that_was_killed_is_seen_to_be_gone_and_its_crash_is_counted(manager):
    manager.start()
    manager.kill()
    found = findings(manager)
    assert found["crashes"] == [("look", "It has crashed 1 time since its last orderly end.")]
    assert "is free" in found["page"][0][1]
    assert "nobody was asked" in found["by-hand"][0][1]
    assert found["record"][0][0] == "pass"

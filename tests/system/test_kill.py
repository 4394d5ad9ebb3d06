"""kill -9 at random points of two casts: nothing that was made known is lost, and the right step comes back.

The demo repeats exactly for a seed, so what a killed run has on disk must be a beginning of what an
undisturbed run writes, event by event; the step is then the one that this beginning leads to.
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from station.core.bench import resumed, step
from station.core.events import Accepted, AlarmRaised, CastBegun, Entry
from station.core.messages import Started
from station.core.moment import Moment
from station.store.ledger import SqlLedger
from station.store.verify import verify

ROOT = Path(__file__).resolve().parents[2]
KILLS, MORE_KILLS = 10, 40
"""For each change, and besides in a long run."""


def demo(state: Path) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-u", "-m", "station", "demo", "--once", "--speed", "0", "--port", "0", "--keep", str(state)],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )


def journal(state: Path) -> list[Entry]:
    with SqlLedger(state) as ledger:
        return list(ledger.entries())


def made_known(lines: list[str]) -> tuple[int, int, int]:
    """Casts, accepted masses and alarms that the terminal has told of."""
    begun = sum("cast " in line and ": " in line and " for " in line and "♪" not in line for line in lines)
    accepted = sum("♪ accepted" in line and " accepted: " in line for line in lines)
    alarms = sum("! alarm" in line for line in lines)
    return begun, accepted, alarms


def on_disk(entries: list[Entry]) -> tuple[int, int, int]:
    kinds = [type(entry.event) for entry in entries]
    return kinds.count(CastBegun), kinds.count(Accepted), kinds.count(AlarmRaised)


@pytest.fixture(scope="module")
def whole_story(tmp_path_factory):
    state = tmp_path_factory.mktemp("undisturbed")
    with demo(state) as run:
        lines = run.stdout.read().splitlines()
    assert run.returncode == 0, lines[-5:]
    told = sum("♪" in line for line in lines)
    return journal(state), told


def test_the_same_seed_writes_the_same_journal(whole_story, tmp_path):
    with demo(tmp_path / "again") as run:
        run.stdout.read()
    assert comparable(journal(tmp_path / "again")) == comparable(whole_story[0])


def comparable(entries: list[Entry]) -> list[tuple[object, float]]:
    return [(entry.event, entry.at.boot_s) for entry in entries]


@pytest.mark.parametrize(
    "kill",
    [*range(KILLS), *(pytest.param(n, marks=pytest.mark.soak) for n in range(KILLS, KILLS + MORE_KILLS))],
)
def test_a_killed_station_comes_back_to_the_right_step_with_nothing_lost(kill, whole_story, tmp_path):
    story, told = whole_story
    dice = random.Random(f"kill {kill}")
    stop_after = dice.randint(1, told - 1)
    lines: list[str] = []
    with demo(tmp_path / "state") as run:
        heard = 0
        for line in run.stdout:
            lines.append(line)
            heard += "♪" in line
            if heard >= stop_after:
                break
        run.send_signal(signal.SIGKILL)
        lines += run.stdout.read().splitlines()
    entries = journal(tmp_path / "state")
    assert comparable(entries) == comparable(story[: len(entries)]), "what is on disk is the beginning of the story"
    assert all(kept >= known for kept, known in zip(on_disk(entries), made_known(lines), strict=True))
    assert verify(tmp_path / "state" / "record.db").ok
    before = resumed(entries)
    last = entries[-1].at
    later = Moment(last.boot_s + 5, last.boot_id, last.wall, last.trusted)
    after, _ = step(before, Started(last, "test"), later)
    was, now = before.standing.bench, after.standing.bench
    assert (was is None) == (now is None)
    if was is not None and now is not None:
        assert (now.number, now.position, now.accepted, now.cups) == (was.number, was.position, was.accepted, was.cups)
        assert now.contact == was.contact
    expected = resumed(story[: len(entries)]).standing
    assert [(c.number, c.position) for c in before.standing.casts] == [(c.number, c.position) for c in expected.casts]

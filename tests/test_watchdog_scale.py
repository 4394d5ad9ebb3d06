"""What the scale's thread shows a watchdog: progress whatever happens to its port, and how long it may show none."""

from __future__ import annotations

import threading
from pathlib import Path

import pytest

from station.clock import SystemClock
from station.config import ScaleSettings
from station.scale.link import LOCAL_SILENCE_S, NETWORK_SILENCE_S, ScaleLink
from tests.scale.hearing import DEADLINE_S, Hearing


def beats(link: ScaleLink, count: int) -> None:
    """Wait until the thread has turned so often."""
    clock = SystemClock()
    before, end_s = link.progress, clock.now().boot_s + DEADLINE_S
    while link.progress < before + count:
        assert clock.now().boot_s < end_s, "no progress"
        threading.Event().wait(0.01)


def test_an_errand_that_takes_the_port_between_two_looks_does_not_hold_up_the_thread(tmp_path: Path) -> None:
    hearing = Hearing()
    link = ScaleLink(ScaleSettings(str(tmp_path / "none"), "value-unit"), hearing.inbox, hearing.clock, retry_s=0.01)
    # As if an errand had come just after the thread looked whether there is one.
    assert link._lent.acquire()
    with link:
        beats(link, 5)
        link._lent.release()
        beats(link, 5)


@pytest.mark.parametrize(
    ("port", "silence_s"), [("/dev/none", LOCAL_SILENCE_S), ("socket://127.0.0.1:1", NETWORK_SILENCE_S)]
)
def test_a_port_behind_a_network_may_keep_its_thread_waiting_for_longer(port: str, silence_s: float) -> None:
    hearing = Hearing()
    link = ScaleLink(ScaleSettings(port, "value-unit"), hearing.inbox, hearing.clock, retry_s=0.01)
    assert link.silence_s == LOCAL_SILENCE_S
    with link:
        beats(link, 2)
        assert link.silence_s == silence_s

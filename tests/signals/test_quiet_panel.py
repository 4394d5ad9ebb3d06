"""Quiet hours at the panel: the voice is silent, buzzer and lamps are as always."""

from __future__ import annotations

import os
import select
from pathlib import Path

import pytest

from station.clock import SystemClock
from station.config import SignalSettings
from station.core.cues import Cue, Urgency
from station.signals.panel import Panel
from station.signals.patterns import CUES
from tests.signals.listening import DEADLINE_S, WatchedFactory

BUZZER = 17


def heard_until(pipe: int, last: str) -> str:
    """All that was spoken up to these words."""
    heard = ""
    while last not in heard:
        assert select.select([pipe], [], [], DEADLINE_S)[0], heard
        heard += os.read(pipe, 4096).decode()
    return heard


@pytest.mark.parametrize("quiet", [True, False])
def test_in_quiet_hours_cues_and_alarms_sound_and_only_the_voice_is_silent(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, quiet: bool
) -> None:
    os.mkfifo(tmp_path / "said")
    pipe = os.open(tmp_path / "said", os.O_RDWR | os.O_NONBLOCK)
    speaker = tmp_path / "espeak-ng"
    speaker.write_text(f"#!/bin/sh\nexec cat > {tmp_path}/said\n")
    speaker.chmod(0o755)
    monkeypatch.setenv("PATH", f"{tmp_path}:/usr/bin:/bin")
    factory, state, pulses = WatchedFactory(), [quiet], len(CUES[Cue.ACCEPTED])
    with Panel(SignalSettings(), lambda _: None, SystemClock(), factory, quiet=lambda: state[0]) as panel:
        panel.cue(Cue.ACCEPTED, "A accepted.")
        heard = "" if quiet else heard_until(pipe, "A accepted.")
        assert factory.wait_until(lambda: factory.states(BUZZER).count(True) >= pulses)
        panel.hold(Urgency.STRONG)
        assert factory.wait_until(lambda: factory.states(BUZZER).count(True) >= pulses + 4)
        panel.hold(Urgency.CALM)
        if quiet:
            panel.say_code("012345")
            assert heard_until(pipe, "4, 5.").startswith("The pairing code is")
        state[0] = False
        panel.cue(Cue.RESUMED, "Goes on.")
        heard += heard_until(pipe, "Goes on.")
    assert heard == ("Goes on." if quiet else "A accepted.Goes on.")
    factory.close()
    os.close(pipe)

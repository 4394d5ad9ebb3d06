"""The service's threads give way to each other sooner than Python's usual: a scale's line must not wait for a page."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest

from station import service
from station.config import ScaleSettings, Settings
from station.testing import ScriptedClock


class EnoughSeen(Exception):
    """The start needs to go no further."""


def test_a_working_thread_gives_way_after_a_thousandth_of_a_second(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def enough(_: Any) -> None:
        raise EnoughSeen

    monkeypatch.setattr(service, "begin_to_speak", enough)
    before = sys.getswitchinterval()
    try:
        with pytest.raises(EnoughSeen):
            service.serve(Settings("Bench", tmp_path, ScaleSettings("/dev/null", "status-commas")), ScriptedClock(), {})
        assert sys.getswitchinterval() == pytest.approx(0.001)
    finally:
        sys.setswitchinterval(before)

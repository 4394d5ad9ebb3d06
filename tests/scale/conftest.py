"""A hearing and a cable for the tests of the scale."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from station.simulated.pty_port import PtyPort
from tests.scale.hearing import Hearing


@pytest.fixture
def hearing() -> Hearing:
    return Hearing()


@pytest.fixture
def cable(tmp_path: Path) -> Iterator[PtyPort]:
    with PtyPort(tmp_path / "scale") as port:
        yield port

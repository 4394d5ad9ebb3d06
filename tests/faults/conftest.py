"""The shim, built once in a session, and a folder in memory for files that are made and thrown away by the hundred."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.faults.shim import compiled


@pytest.fixture(scope="session")
def shim(tmp_path_factory: pytest.TempPathFactory) -> Path:
    built = compiled(tmp_path_factory.mktemp("shim"))
    if built is None:
        pytest.skip("gcc is not installed: the shim between a program and its files cannot be built")
    return built


@pytest.fixture(scope="module")
def scratch() -> Iterator[Path]:
    memory = Path("/dev/shm")
    with tempfile.TemporaryDirectory(prefix="cuts-", dir=memory if memory.is_dir() else None) as folder:
        yield Path(folder)

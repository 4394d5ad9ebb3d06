"""The shim, built once in a session; a folder in memory for files that are made and thrown away by the hundred; and
the folder below which a writer is watched."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.faults.powercut import Disk, Folders
from tests.faults.shim import Log, compiled, watched

Writer = Callable[..., Log]


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


@pytest.fixture
def folder(scratch: Path, tmp_path: Path) -> Path:
    """A new folder that has an empty folder `state`. What a test puts there before it writes is safely on the disk."""
    folder = scratch / tmp_path.name
    (folder / "state").mkdir(parents=True)
    return folder


@pytest.fixture
def writes(shim: Path, folder: Path, tmp_path: Path) -> Writer:
    """Runs one of the writers below `folder`."""

    def write(module: str, place: str, *words: object) -> Log:
        command = [sys.executable, "-m", f"tests.faults.{module}", str(folder / place), *map(str, words)]
        log = watched(shim, folder, command, tmp_path)
        assert log.status == 0, log.said
        disk = Disk(log, Folders.STRICT)
        disk.advance(len(log.ops))
        files = [file for file in folder.rglob("*") if file.is_file() and not file.name.endswith("-shm")]
        there = {str(file.relative_to(folder)): file.read_bytes() for file in files}
        assert disk.now() == there, "the log does not tell the whole story"
        return log

    return write

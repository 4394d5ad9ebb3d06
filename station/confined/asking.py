"""Asking a confined process: it gets a file, answers with a line and some bytes, and is ended, whatever it does."""

from __future__ import annotations

import io
import os
import signal
import subprocess
import sys
import tempfile
import threading
from dataclasses import dataclass
from enum import Enum, auto
from pathlib import Path
from typing import Any, BinaryIO, Final

import station
from station.confined.limits import MB
from station.texts import language

LINE_BYTES: Final = 64 * 1024
"""The line that goes before the bytes of an answer."""


class Why(Enum):
    """Why there is no answer."""

    NOT_STARTED = auto()
    LATE = auto()
    WORKED_TOO_LONG = auto()
    SILENT = auto()


class GivenUp(Exception):
    """The process gave no answer that can be used. `told` is what the system says of it: a reason, or how it ended."""

    def __init__(self, why: Why, told: str = "") -> None:
        super().__init__(f"{why.name} {told}".rstrip())
        self.why, self.told = why, told


@dataclass(frozen=True, slots=True)
class Task:
    """A module to run with one argument, and after that the station's language, which its refusals are in.

    What it may answer at most besides its line, and how long it may take (s).
    """

    module: str
    argument: str
    most_bytes: int
    wall_s: float


def answer(task: Task, file: int) -> tuple[bytes, bytes]:
    """The line and the bytes that the process answers about the open file of this number. Raises GivenUp."""
    root = str(Path(station.__file__).resolve().parents[1])
    quiet = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "PYTHONPATH": root}
    try:
        child = subprocess.Popen(
            [sys.executable, "-P", "-B", "-m", task.module, task.argument, language()],
            stdin=file,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=quiet,
            start_new_session=True,
        )
    except OSError as why:
        raise GivenUp(Why.NOT_STARTED, why.strerror or "") from why
    late = threading.Event()
    alarm = threading.Timer(task.wall_s, _too_late, (child, late))
    alarm.name, alarm.daemon = "measuring limit", True
    alarm.start()
    most = LINE_BYTES + task.most_bytes
    try:
        assert child.stdout is not None
        said = child.stdout.read(most + 1)
    finally:
        # Not reaped yet, so its number still is its own.
        _kill(child)
        alarm.cancel()
        code = child.wait()
        child.stdout.close()  # type: ignore[union-attr]
    line, end, content = said.partition(b"\n")
    if late.is_set():
        raise GivenUp(Why.LATE)
    if end and len(said) <= most:
        return line, content
    raise GivenUp(Why.WORKED_TOO_LONG if code == -signal.SIGXCPU else Why.SILENT, str(code))


def on_disk(file: BinaryIO) -> Any:
    """A file that another process can read: the same, or a copy without a name when it is only in memory."""
    try:
        return os.fdopen(os.dup(file.fileno()), "rb")
    except io.UnsupportedOperation:
        copy = tempfile.TemporaryFile()  # noqa: SIM115  # the caller closes it
        file.seek(0)
        while block := file.read(MB):
            copy.write(block)
        copy.flush()
        return copy


def _too_late(child: subprocess.Popen[bytes], late: threading.Event) -> None:
    late.set()
    _kill(child)


def _kill(child: subprocess.Popen[bytes]) -> None:
    try:
        os.killpg(child.pid, signal.SIGKILL)
    except (ProcessLookupError, PermissionError):
        return

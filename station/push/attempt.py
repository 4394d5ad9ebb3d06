"""One attempt to send: starts the sending process, hears its answer, ends it when it takes too long. Never waits."""

from __future__ import annotations

import contextlib
import json
import os
import select
import signal
import subprocess
import sys
from pathlib import Path
from typing import Final

import station
from station.push.verdict import Kind, Verdict

LIMIT_S: Final = 30.0
"""A small board takes some of it to start the process; each connection and answer has four seconds of its own."""
_MOST_ANSWER: Final = 200


class Attempt:
    """A sending process. It belongs to one thread. Nothing raises; what goes wrong is a verdict."""

    def __init__(self, url: str, title: str, body: str, *, send: bool = True) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._heard = b""
        self._ended = False
        said = json.dumps({"url": url, "title": title, "body": body, "send": send}).encode()
        # Neither arguments nor environment: others on this machine can see those. And no proxy: it is not asked for.
        root = str(Path(station.__file__).resolve().parents[1])
        environ = {"PYTHONPATH": root, "HOME": "/nonexistent", "PATH": "/usr/bin:/bin", "LC_ALL": "C.UTF-8"}
        with contextlib.suppress(OSError):
            self._process = subprocess.Popen(
                [sys.executable, "-P", "-B", "-m", "station.push.child"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                env=environ,
                cwd="/",
                start_new_session=True,
            )
            assert self._process.stdin is not None
            assert self._process.stdout is not None
            os.set_blocking(self._process.stdout.fileno(), False)
            # Far less than a pipe holds, so this does not wait for the process.
            self._process.stdin.write(said)
            self._process.stdin.close()

    def fileno(self) -> int | None:
        """What becomes readable when there is something to hear; None when there will be nothing."""
        if self._process is None or self._ended or self._process.stdout is None:
            return None
        return self._process.stdout.fileno()

    def heard(self) -> Verdict | None:
        """The verdict, once there is one; the process is then gone."""
        if self._process is None:
            return Verdict(Kind.BROKEN)
        assert self._process.stdout is not None
        piece: bytes | None = b""
        with contextlib.suppress(OSError):
            piece = self._process.stdout.read(_MOST_ANSWER)
        if piece is None:
            return None
        self._heard += piece
        if piece and b"\n" not in self._heard and len(self._heard) < _MOST_ANSWER:
            return None
        self.end()
        return _read(self._heard)

    def end(self) -> None:
        """End the process, whatever it does."""
        process = self._process
        if process is None or self._ended:
            return
        self._ended = True
        with contextlib.suppress(ProcessLookupError, PermissionError):
            os.killpg(process.pid, signal.SIGKILL)
        process.wait()
        for pipe in (process.stdin, process.stdout):
            if pipe is not None:
                with contextlib.suppress(OSError):
                    pipe.close()


def understood(url: str, within_s: float = LIMIT_S) -> Verdict:
    """Whether messages can go to this address, as far as can be known without sending. Waits for the process."""
    attempt, poll = Attempt(url, "", "", send=False), select.poll()
    try:
        while (verdict := attempt.heard()) is None:
            poll.register(attempt.fileno() or 0, select.POLLIN)
            if not poll.poll(1000 * within_s):
                return Verdict(Kind.LATE)
        return verdict
    finally:
        attempt.end()


def _read(heard: bytes) -> Verdict:
    try:
        kind, code = json.loads(heard)
        return Verdict(Kind[kind], None if code is None else int(code))
    except (ValueError, KeyError, TypeError):
        return Verdict(Kind.BROKEN)

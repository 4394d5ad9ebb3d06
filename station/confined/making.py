"""Making a file in a process of its own: long work on the station's own record, which must not hold the bench up.

The process writes the file as its standard output. On the other pipe it says in lines of JSON how far it has come, and
at its end that it is done, or why not. When its parent is gone, its next line ends it.
"""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from typing import IO, Any, Final

import station
from station.errors import Fault, LedgerFault, Refused, StationError
from station.texts import N_, language, t

_LONGEST_LINE: Final = 64 * 1024
_KINDS: Final[dict[str, type[StationError]]] = {"Refused": Refused, "LedgerFault": LedgerFault}


class Unmade(Fault, OSError):
    """The process cannot be started, or ended without having made the file."""

    hint = N_("Try again; if it happens again, the log of the service may tell why.")


def make(
    module: str,
    argument: dict[str, Any],
    out: IO[bytes],
    *,
    wall_s: float,
    progress: Callable[[int], object] = lambda _: None,
    begun: Callable[[Callable[[], None]], object] = lambda _: None,
) -> dict[str, Any]:
    """Run the module until it has written its file to `out`; what it says at its end.

    `begun` is told how to end it early. Raises the refusal that it answers with, or Unmade.
    """
    root = str(Path(station.__file__).resolve().parents[1])
    environment = {"PYTHONPATH": root, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
    if "TZ" in os.environ:
        environment["TZ"] = os.environ["TZ"]
    try:
        child = subprocess.Popen(
            [sys.executable, "-P", "-B", "-m", module, json.dumps(argument), language()],
            stdin=subprocess.DEVNULL,
            stdout=out,
            stderr=subprocess.PIPE,
            env=environment,
            start_new_session=True,
        )
    except OSError as why:
        raise Unmade(t("It could not be started ({why}).", why=why.strerror)) from why
    late = threading.Event()

    def too_late() -> None:
        late.set()
        _kill(child)

    alarm = threading.Timer(wall_s, too_late)
    alarm.name, alarm.daemon = "measuring limit", True
    alarm.start()
    try:
        begun(lambda: _kill(child))
        last = _listened(child, progress)
    finally:
        _kill(child)  # not reaped yet, so its number still is its own
        alarm.cancel()
        code = child.wait()
        child.stderr.close()  # type: ignore[union-attr]
    if late.is_set():
        raise Unmade(t("It took too long and was given up."))
    return _answer(last, code)


def _listened(child: subprocess.Popen[bytes], progress: Callable[[int], object]) -> dict[str, Any]:
    """Its last word."""
    assert child.stderr is not None
    last: dict[str, Any] = {}
    while line := child.stderr.readline(_LONGEST_LINE):
        with contextlib.suppress(ValueError):
            said = json.loads(line)
            if isinstance(said, dict):
                last = said
                if isinstance(said.get("casts"), int):
                    progress(said["casts"])
    return last


def _answer(last: dict[str, Any], code: int) -> dict[str, Any]:
    if last.get("done") is True:
        return last
    if isinstance(last.get("refused"), str):
        kind = _KINDS.get(str(last.get("kind")), Unmade)
        raise kind(last["refused"], str(last.get("hint", "")))
    raise Unmade(t("It ended without having made the file ({code}).", code=code))


def _kill(child: subprocess.Popen[bytes]) -> None:
    with contextlib.suppress(ProcessLookupError, PermissionError):
        os.killpg(child.pid, signal.SIGKILL)

"""The walker: the whole record is checked by a process of its own, so that the bench never waits for Python's own lock.

A check of years of casts is minutes of work that never sleeps; beside it in one process, a reading waits for its turn.
"""

from __future__ import annotations

import json
import logging
import os
import subprocess
import sys
import threading
from contextlib import suppress
from pathlib import Path
from typing import Any, Final, Protocol

import station
from station.errors import LedgerFault
from station.store.traces import TracesFound
from station.store.verify import Verdict, verify
from station.texts import language, t

log = logging.getLogger("tarebell.record")

SHORT_BYTES: Final = 1_000_000
"""A record up to this size is walked here: that takes less work than a process does to begin."""


class Walk(Protocol):
    """What walks the whole record at a path; see `verify`."""

    def __call__(self, place: Path, /) -> Verdict:
        """Raises LedgerFault when the record cannot be opened at all."""
        ...


class Walker:
    """Walks in a process of its own, one at a time for each caller. `end` may be called from any thread."""

    def __init__(self, short_bytes: int = SHORT_BYTES) -> None:
        self._short_bytes = short_bytes
        self._lock = threading.Lock()
        self._out: set[subprocess.Popen[bytes]] = set()
        self._ended = False

    def __call__(self, place: Path, /) -> Verdict:
        """The verdict on the record at `place`. Raises LedgerFault, also when the station ends meanwhile."""
        if not place.is_file() or place.stat().st_size <= self._short_bytes:
            return verify(place)
        said = self._said(place)
        if self._ended:
            raise LedgerFault(t("The station ends; the record was not checked to its end."))
        try:
            return _verdict(json.loads(said))
        except (ValueError, KeyError, TypeError):
            log.warning("no answer of the process that checks the record, which is checked here now")
            return verify(place)

    def end(self) -> None:
        """Nobody waits any longer: whatever walks is ended, and nothing more begins."""
        with self._lock:
            self._ended = True
            for child in self._out:
                child.kill()

    def _said(self, place: Path) -> bytes:
        """The one line that the process says; empty when there was none."""
        environ = {name: os.environ[name] for name in ("TMPDIR",) if name in os.environ}
        environ["PYTHONPATH"] = str(Path(station.__file__).resolve().parents[1])
        try:
            with self._lock:
                if self._ended:
                    return b""
                child = subprocess.Popen(
                    [sys.executable, "-P", "-B", "-m", "station.store.walk_child", str(place.absolute()), language()],
                    stdin=subprocess.DEVNULL,
                    stdout=subprocess.PIPE,
                    stderr=subprocess.DEVNULL,
                    env=environ,
                    start_new_session=True,
                )
                self._out.add(child)
        except OSError as why:
            log.warning("no process to check the record why=%s", why.strerror)
            return b""
        with child:
            assert child.stdout is not None
            said = child.stdout.read()
        with self._lock:
            self._out.discard(child)
        return said


def plain(verdict: Verdict) -> dict[str, Any]:
    """A verdict for the way from the process."""
    traces = verdict.traces
    return {
        "ok": verdict.ok,
        "rows": verdict.rows,
        "seq": verdict.seq,
        "words": verdict.words,
        "traces": [traces.whole, traces.undigested, list(traces.damaged)],
    }


def plain_fault(fault: LedgerFault) -> dict[str, Any]:
    """A record that could not be opened, for the same way."""
    return {"fault": str(fault), "hint": t(fault.hint)}


def _verdict(told: dict[str, Any]) -> Verdict:
    if "fault" in told:
        raise LedgerFault(str(told["fault"]), str(told["hint"]))
    whole, undigested, damaged = told["traces"]
    traces = TracesFound(int(whole), int(undigested), tuple(map(int, damaged)))
    seq = told["seq"]
    return Verdict(bool(told["ok"]), int(told["rows"]), None if seq is None else int(seq), str(told["words"]), traces)


def stand_back(by: int) -> None:
    """The process that walks lets the bench go first, and is the first to go when memory runs out."""
    with suppress(OSError):
        Path("/proc/self/oom_score_adj").write_text("1000", "ascii")
    os.nice(by)

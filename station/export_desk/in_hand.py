"""The export in hand: made by a process of its own in a thread's care, and kept for an hour."""

from __future__ import annotations

import logging
import shutil
import tempfile
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import IO, Any, Final

from station.confined.making import make
from station.errors import Refused, StationError
from station.phone.paper_view import ExportView, Making
from station.texts import t

log = logging.getLogger("tarebell.export")

ROOM: Final = ".export-room-"
"""So begin the names of folders in the state folder where the parts of an export lie while it is made."""
_MOST_S, KEEP_S = 6 * 3600.0, 3600.0


class ExportInHand:
    """One at a time. The file lies in `folder` without a name, so that nothing of it is left when the power goes."""

    def __init__(self, folder: Path, child: str) -> None:
        self._folder, self._child = folder, child
        self._lock = threading.Lock()
        self._view = ExportView()
        self._file: IO[bytes] | None = None
        self._over = threading.Event()
        self._end: Callable[[], None] = lambda: None
        for left in folder.glob(f"{ROOM}*"):
            shutil.rmtree(left, ignore_errors=True)  # what an earlier run left when the power went

    def state(self) -> ExportView:
        """How far it has come."""
        with self._lock:
            return self._view

    def begin(self, name: str, job: Callable[[Path], dict[str, Any]]) -> None:
        """Begin another; `job` is told where the parts may lie. Raises Refused while one is being made."""
        with self._lock:
            if self._view.state is Making.MAKING:
                raise Refused(t("An export is being made already."), t("Wait for it, or stop it."))
            self._let_go()
            self._view, self._over = ExportView(Making.MAKING, name), threading.Event()
            over = self._over
        # Its name tells the watchdog that it ends some day.
        threading.Thread(target=self._work, args=(job, over), name="errand export", daemon=True).start()

    def stop(self) -> None:
        """Let go of it, made or not."""
        with self._lock:
            self._end()
            self._let_go()

    def made(self) -> tuple[str, IO[bytes]]:
        """Name and content. Raises Refused when there is none."""
        with self._lock:
            if self._file is None:
                raise Refused(t("There is no export any more."), t("Make it again."))
            # Opened anew: two who download at once must not share one place in the file.
            return self._view.name, open(f"/proc/self/fd/{self._file.fileno()}", "rb")

    def _work(self, job: Callable[[Path], dict[str, Any]], over: threading.Event) -> None:
        def far(casts: int) -> None:
            self._show(over, casts=casts)

        def begun(end: Callable[[], None]) -> None:
            with self._lock:
                self._end = end if self._over is over else self._end
            if over.is_set():
                end()

        out: IO[bytes] | None = None
        try:
            with tempfile.TemporaryDirectory(prefix=ROOM, dir=self._folder, ignore_cleanup_errors=True) as room:
                out = tempfile.TemporaryFile(dir=self._folder)  # noqa: SIM115  # kept for an hour
                done = make(self._child, job(Path(room)), out, wall_s=_MOST_S, progress=far, begun=begun)
            size = out.seek(0, 2)
        except (StationError, OSError) as why:
            log.warning("no export why=%s", why)
            words = why.sentence() if isinstance(why, StationError) else str(why.strerror)
            self._show(over, state=Making.FAILED, words=words)
            if out is not None:
                out.close()
            return
        with self._lock:
            self._file = out if not over.is_set() else None
        self._show(over, state=Making.MADE, casts=int(done["casts"]), size=size)
        over.wait(KEEP_S)
        with self._lock:
            if self._over is over:
                self._let_go()
        out.close()

    def _show(self, over: threading.Event, **changes: Any) -> None:
        with self._lock:
            if self._over is over and not over.is_set():
                self._view = replace(self._view, **changes)

    def _let_go(self) -> None:
        """The lock is held."""
        self._over.set()
        self._view, self._end = ExportView(), lambda: None
        with suppress(OSError):
            if self._file is not None:
                self._file.close()
        self._file = None

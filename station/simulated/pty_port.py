"""PtyPort: the cable of a simulated scale, a pseudo-terminal under a fixed path.

The station opens the path like any serial port; unplugging closes the terminal under its hands, and plugging in
again makes a new one with another device number, as a USB adapter does.
"""

from __future__ import annotations

import contextlib
import os
import pty
import tty
from pathlib import Path
from types import TracebackType

_CHUNK = 4096


class PtyPort:
    """The scale's end. For one thread; the path is a link to the host's end while plugged in."""

    def __init__(self, link_path: Path) -> None:
        self.path = link_path
        self._scale_end, self._host_end = -1, -1

    @property
    def plugged_in(self) -> bool:
        """Whether the path leads anywhere."""
        return self._scale_end >= 0

    def plug_in(self) -> None:
        """Make the port appear; nothing happens when it is there. Raises OSError."""
        if self.plugged_in:
            return
        self._scale_end, self._host_end = pty.openpty()
        # Raw before anybody opens it, or early lines would come back as echoed requests. The host's end stays
        # open here too, so that the line does not hang up between two hosts.
        tty.setraw(self._host_end)
        os.set_blocking(self._scale_end, False)
        beside = self.path.with_name(f".{self.path.name}.new")
        beside.unlink(missing_ok=True)
        beside.symlink_to(os.ttyname(self._host_end))
        os.replace(beside, self.path)

    def unplug(self) -> None:
        """Make the port go away; a host that has it open loses it. Nothing happens when it is away."""
        if not self.plugged_in:
            return
        self.path.unlink(missing_ok=True)
        os.close(self._scale_end)
        os.close(self._host_end)
        self._scale_end, self._host_end = -1, -1

    def emit(self, data: bytes) -> int:
        """Send; what nobody takes in is lost, as on a cable. Returns the bytes that went into the line."""
        if self.plugged_in:
            with contextlib.suppress(BlockingIOError):
                return os.write(self._scale_end, data)
        return 0

    def received(self) -> bytes:
        """What the host has sent since the last call; b"" when nothing."""
        data = b""
        while self.plugged_in:
            try:
                chunk = os.read(self._scale_end, _CHUNK)
            except BlockingIOError:
                break
            data += chunk
            if len(chunk) < _CHUNK:
                break
        return data

    def __enter__(self) -> PtyPort:
        self.plug_in()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.unplug()

"""PtyPort: the cable of a simulated scale, a pseudo-terminal under a fixed path.

The station opens the path like any serial port; unplugging closes the terminal under its hands, and plugging in
again makes a new one, under another device number if asked, as a USB adapter does.

At a serial setting the port carries what a line would: each side hears the other as its own receiver would make it
out. Three things no pseudo-terminal shows (Linux strips the rest from what the host sets): data bits are always
eight, even parity reads as none, and bytes arrive at once instead of at the bit rate. Odd parity shows by the flag
that stays behind. So a scale at 8E1 is heard as noise here also by a host that asked for 8E1; 7E1 and 7O1, which a
host may read as 8N1, are heard as they are.
"""

from __future__ import annotations

import contextlib
import os
import pty
import re
import termios
import tty
from collections.abc import Mapping
from pathlib import Path
from types import TracebackType

from station.simulated.line import LineSetting, heard

_CHUNK = 4096
_CFLAG, _OSPEED = 2, 5

_BAUDS: Mapping[int, int] = {
    getattr(termios, name): int(name[1:]) for name in dir(termios) if re.fullmatch(r"B[1-9]\d*", name)
}
"""Bits per second by the system's constants; a rate of its own that a host sets has none."""


class PtyPort:
    """The scale's end. For one thread; the path is a link to the host's end while plugged in.

    `setting` is the scale's own and may be changed at any time, as in its menu; with None every host understands it.
    `device` is the host's end itself: the one plugged in now or last, "" before the first.
    """

    def __init__(self, link_path: Path, setting: LineSetting | None = None) -> None:
        self.path = link_path
        self.setting = setting
        self.device = ""
        self._scale_end, self._host_end = -1, -1

    @property
    def plugged_in(self) -> bool:
        """Whether the path leads anywhere."""
        return self._scale_end >= 0

    @property
    def host_setting(self) -> LineSetting | None:
        """How the host has set its end, as far as it shows; None when away or at a rate without a constant."""
        if not self.plugged_in:
            return None
        modes = termios.tcgetattr(self._scale_end)
        baud, flags = _BAUDS.get(modes[_OSPEED]), modes[_CFLAG]
        if baud is None:
            return None
        data_bits = 7 if flags & termios.CSIZE == termios.CS7 else 8
        even = "E" if flags & termios.PARENB else "N"
        return LineSetting(baud, data_bits, "O" if flags & termios.PARODD else even, 1 + bool(flags & termios.CSTOPB))

    def plug_in(self, link_path: Path | None = None, *, elsewhere: bool = False) -> None:
        """Make the port appear, under another path if one is given; nothing happens when it is there.

        `elsewhere`: under another device number than last time. Raises OSError.
        """
        if self.plugged_in:
            return
        self.path = link_path or self.path
        self._scale_end, self._host_end = _another(self.device) if elsewhere else pty.openpty()
        self.device = os.ttyname(self._host_end)
        # Raw before anybody opens it, or early lines would come back as echoed requests. The host's end stays
        # open here too, so that the line does not hang up between two hosts.
        tty.setraw(self._host_end)
        os.set_blocking(self._scale_end, False)
        beside = self.path.with_name(f".{self.path.name}.new")
        beside.unlink(missing_ok=True)
        beside.symlink_to(self.device)
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
        """Send; what nobody takes in is lost, as on a cable. Returns the bytes that reached the host's port."""
        if self.plugged_in:
            with contextlib.suppress(BlockingIOError):
                return os.write(self._scale_end, self._over(data, to_host=True))
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
        return self._over(data, to_host=False)

    def _over(self, data: bytes, *, to_host: bool) -> bytes:
        """What is made of `data` at the other end; nothing where the host's rate is not known."""
        if self.setting is None or not data:
            return data
        host = self.host_setting
        if host is None:
            return b""
        sent, listening = (self.setting, host) if to_host else (host, self.setting)
        return heard(data, sent, listening).data

    def __enter__(self) -> PtyPort:
        self.plug_in()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.unplug()


def _another(device: str) -> tuple[int, int]:
    """A new terminal that is not `device`; the system gives the lowest free number, often the same one again."""
    ends = pty.openpty()
    if os.ttyname(ends[1]) != device:
        return ends
    try:
        return pty.openpty()
    finally:
        for end in ends:
            os.close(end)

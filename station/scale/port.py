"""Ports: opening the way to the scale, and reading all that lies there.

A local port is read on its descriptor: wait, then take everything at once. A URL (socket://, rfc2217://)
is read through pyserial, byte by byte. Both are opened exclusively where the system can do that.
"""

from __future__ import annotations

import contextlib
import errno
import fcntl
import os
import select
import termios
from typing import Any, Protocol

import serial

from station.errors import ScaleFault
from station.scale.bit7 import CharacterFormat
from station.scale.reasons import is_local, shared_by_rfc2217, why_not
from station.texts import t

GONE = (OSError, termios.error)
"""What a port raises when it goes away. pyserial's own exception is an OSError; termios' is not."""

_CHUNK = 4096
_AT_ONCE = 65536
_URL_PATIENCE_S = 0.2
_WRITE_PATIENCE_S = 1.0
_NO_CONTROL = "ign_set_control"


class Port(Protocol):
    """An open way to the scale, for one thread. Every call raises one of `GONE` when the way is lost."""

    def read(self, patience_s: float, /) -> bytes:
        """All that lies there, waiting for it at most so long; b"" when nothing came or `waker` was written to."""
        ...

    def write(self, data: bytes) -> None:
        """Send all of `data`."""
        ...

    def tune(self, baud: int, character: CharacterFormat) -> None:
        """Set bit rate and character format, and drop what was received until now."""
        ...

    def close(self) -> None:
        """Let go; never raises."""
        ...


def open_port(url: str, baud: int, character: CharacterFormat, waker: int) -> Port:
    """Open `url` with DTR and RTS asserted and no flow control; what lay in its buffers is dropped.

    `waker` is a descriptor that ends a wait when it becomes readable. Raises ScaleFault.
    """
    local = is_local(url)
    try:
        opened = _opened(url, baud, character)
    except GONE as gone:
        raise why_not(url, gone) from gone
    except ValueError as wrong:
        raise ScaleFault(
            t("The port {port} cannot be opened at {baud} baud: {wrong}.", port=url, baud=baud, wrong=wrong),
            t("Correct port and baud under [scale] in the settings."),
        ) from wrong
    return LocalPort(opened, waker) if local else UrlPort(opened)


def _opened(url: str, baud: int, character: CharacterFormat) -> serial.Serial:
    shared = shared_by_rfc2217(url)
    settings: dict[str, Any] = {
        "baudrate": baud,
        "bytesize": 8,
        "parity": character.parity,
        "stopbits": character.stopbits,
        "timeout": _URL_PATIENCE_S,
        # The RFC 2217 client refuses a limit here; its connection has one of its own (5 s).
        "write_timeout": None if shared else _WRITE_PATIENCE_S,
        "xonxoff": False,
        "rtscts": False,
        "dsrdtr": False,
        "exclusive": True if is_local(url) else None,
    }
    try:
        return serial.serial_for_url(url, **settings)
    except serial.SerialException as refused:
        # Some sharing programs never acknowledge DTR and RTS, and few scales look at them.
        if not shared or "'control'" not in str(refused) or _NO_CONTROL in url:
            raise
    return serial.serial_for_url(f"{url}{'&' if '?' in url else '?'}{_NO_CONTROL}", **settings)


class LocalPort:
    """A device file."""

    def __init__(self, opened: serial.Serial, waker: int) -> None:
        self._serial = opened
        self._fd: int = opened.fileno()
        self._waker = waker
        # pyserial's lock is advisory: a plain open elsewhere would succeed and steal bytes, which leaves a
        # plausible short line. This keeps out everybody but root.
        with contextlib.suppress(OSError):
            fcntl.ioctl(self._fd, termios.TIOCEXCL)
        with contextlib.suppress(OSError, ValueError, AttributeError, NotImplementedError):
            opened.set_low_latency_mode(True)  # an adapter may else keep the end of a line back for 16 ms
        self._poll = select.poll()
        self._poll.register(self._fd, select.POLLIN)
        self._poll.register(waker, select.POLLIN)

    def read(self, patience_s: float, /) -> bytes:
        """See `Port`."""
        ready = dict(self._poll.poll(patience_s * 1000))
        if self._fd not in ready or self._waker in ready:
            return b""
        data = self._take()
        if not data:
            raise OSError(errno.ENODEV, "readable, but without data")
        if len(data) == _CHUNK:  # there may be more
            while len(data) < _AT_ONCE and (chunk := self._take()):
                data += chunk
        return data

    def _take(self) -> bytes:
        try:
            return os.read(self._fd, _CHUNK)
        except BlockingIOError:
            return b""

    def write(self, data: bytes) -> None:
        """See `Port`."""
        self._serial.write(data)

    def tune(self, baud: int, character: CharacterFormat) -> None:
        """See `Port`."""
        _tune(self._serial, baud, character)

    def close(self) -> None:
        """See `Port`."""
        with contextlib.suppress(*GONE):
            fcntl.ioctl(self._fd, termios.TIOCNXCL)
        with contextlib.suppress(*GONE):
            self._serial.close()


class UrlPort:
    """A port behind a network connection. `read` cannot be woken, so it waits briefly."""

    def __init__(self, opened: serial.Serial) -> None:
        self._serial = opened

    def read(self, _patience_s: float, /) -> bytes:
        """See `Port`; waits 0.2 s at most."""
        data = bytearray(self._serial.read(1))
        while data and len(data) < _CHUNK and (waiting := self._serial.in_waiting):
            data += self._serial.read(waiting)
        return bytes(data)

    def write(self, data: bytes) -> None:
        """See `Port`."""
        self._serial.write(data)

    def tune(self, baud: int, character: CharacterFormat) -> None:
        """See `Port`."""
        _tune(self._serial, baud, character)

    def close(self) -> None:
        """See `Port`."""
        with contextlib.suppress(*GONE):
            self._serial.close()


def _tune(opened: serial.Serial, baud: int, character: CharacterFormat) -> None:
    """Set only what differs: over RFC 2217 each setting is a question to the other machine and its answer."""
    wanted = {"baudrate": baud, "parity": character.parity, "stopbits": character.stopbits}
    for name, value in wanted.items():
        if getattr(opened, name) != value:
            setattr(opened, name, value)
    opened.reset_input_buffer()

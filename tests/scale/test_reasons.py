"""Sentences for ports that cannot be, cannot be opened, or went away."""

from __future__ import annotations

import errno
import os
import socket
import termios

import pytest

from station.errors import ScaleFault
from station.scale.bit7 import FORMATS
from station.scale.port import open_port
from station.scale.reasons import misnamed, why_not


@pytest.mark.parametrize(
    "port",
    [
        "/dev/ttyUSB0",
        "/dev/serial/by-id/a b",
        "socket://192.168.1.5:4001",
        "rfc2217://bench:2217",
        "socket://[::1]:4001",
    ],
)
def test_devices_and_network_addresses_may_be_right(port: str) -> None:
    assert misnamed(port) is None


@pytest.mark.parametrize(
    "port",
    [
        *("", "  ", "/dev/tty\0"),
        *("socket://", "socket://bench", "socket://:4001", "socket://[::1"),
        *("socket://bench:0", "socket://bench:99999", "socket://bench:abc"),
        *("loop://", "file://x", "http://bench:80"),
    ],
)
def test_what_cannot_be_a_port_is_said_with_what_can(port: str) -> None:
    problem = misnamed(port)
    assert problem is not None
    assert repr(port) in problem
    assert "/dev/ttyUSB0, or socket://host:number, rfc2217://host:number" in problem


@pytest.mark.parametrize(
    ("gone", "words"),
    [
        (OSError(errno.ENOENT, "x"), "There is no port"),
        (OSError(errno.EACCES, "x"), "may not be opened by this user"),
        (OSError(errno.EBUSY, "x"), "in use by another program"),
        (OSError(errno.EIO, "x"), "was unplugged"),
        (termios.error(errno.EIO, "x"), "was unplugged"),
        (termios.error(errno.ENOTTY, "x"), "is not a serial port"),
        (ConnectionRefusedError(errno.ECONNREFUSED, "x"), "Nothing answers at"),
        (socket.gaierror(socket.EAI_NONAME, "x"), "The host in /dev/p is not known"),
        (OSError("of a kind nobody foresaw"), "cannot be used: of a kind nobody foresaw"),
    ],
)
def test_each_cause_has_its_sentence_and_a_hint(gone: BaseException, words: str) -> None:
    fault = why_not("/dev/p", gone)
    assert words in str(fault)
    assert fault.hint


def test_the_cause_is_found_behind_an_error_that_does_not_name_it() -> None:
    front = OSError("in front")
    front.__context__ = termios.error(errno.EIO, "behind")  # as when one is raised while the other is dealt with
    assert "was unplugged" in str(why_not("/dev/p", front))


@pytest.mark.parametrize("place", ["/dev/null", "/tmp"])
def test_what_is_no_terminal_is_refused_as_such_when_opened(place: str) -> None:
    waker, other = os.pipe()
    try:
        with pytest.raises(ScaleFault, match=f"{place} is not a serial port"):
            open_port(place, 9600, FORMATS["8N1"], waker)
    finally:
        os.close(waker)
        os.close(other)

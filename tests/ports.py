"""Ports for the servers of tests."""

import itertools
import os
import socket

_PORTS = itertools.count(21000 + os.getpid() * 7 % 10000)
"""Each is given once: it may be taken only later, as those of servers that are started anew."""


def free_port() -> int:
    """A port below those that the kernel hands out by itself, so that nobody takes it while its server is down.

    Two runs of the tests on one machine begin to look in different places.
    """
    for port in itertools.takewhile(lambda port: port < 32000, _PORTS):
        with socket.socket() as probe:
            try:
                probe.bind(("127.0.0.1", port))
            except OSError:
                continue
            return port
    raise AssertionError("no port below 32000 is free")

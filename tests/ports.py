"""A port for a test's server."""

import os
import socket


def free_port() -> int:
    """A port below those that the kernel hands out by itself, so that nobody takes it while the server is down.

    Two runs of the tests on one machine begin to look in different places.
    """
    for port in range(21000 + os.getpid() * 7 % 10000, 32000):
        with socket.socket() as probe:
            try:
                probe.bind(("127.0.0.1", port))
            except OSError:
                continue
            return port
    raise AssertionError("no port below 32000 is free")

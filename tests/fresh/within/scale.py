"""Runs inside a root, with nothing but Python: a scale behind a serial server, an empty pan, ten lines a second."""

import socket
import time

with socket.create_server(("127.0.0.1", 4001)) as door:
    while True:
        line, _ = door.accept()
        with line:
            try:
                while True:
                    line.sendall(b"ST,+000000.0  g\r\n")
                    time.sleep(0.1)
            except OSError:
                continue

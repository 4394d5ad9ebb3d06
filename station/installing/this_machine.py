"""This computer as a `Machine`: real commands, real waiting, a real look at the page."""

from __future__ import annotations

import http.client
import os
import shutil
import ssl
import subprocess
import threading
from collections.abc import Callable
from pathlib import Path
from urllib.parse import urlsplit

from station.installing.machine import LATE, MISSING, Ran

_ANSWERS_WITHIN_S = 2.0
_PLAIN = {"DEBIAN_FRONTEND": "noninteractive", "TMPDIR": "/var/tmp", "PIP_DISABLE_PIP_VERSION_CHECK": "1"}
"""/tmp may be in memory, and too small for what is built."""


class ThisMachine:
    """Commands run in a session of their own: a Ctrl-C is for us, and we decide what becomes of them.

    They do not hear where our own Python finds its code: a version that is asked must answer with its own.
    """

    def __init__(self, note: Callable[[str], None]) -> None:
        self._note = note

    def run(self, *command: str, limit_s: float) -> Ran:
        """Run a command; what it says is noted, too."""
        self._note(f"$ {' '.join(command)}")
        try:
            done = subprocess.run(
                command,
                stdin=subprocess.DEVNULL,
                stdout=subprocess.PIPE,
                stderr=subprocess.STDOUT,
                env={**{name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}, **_PLAIN},
                timeout=limit_s,
                start_new_session=True,
                check=False,
                cwd="/",
            )
        except subprocess.TimeoutExpired as late:
            ran = Ran(LATE, _text(late.output))
        except OSError as missing:
            ran = Ran(MISSING, str(missing))
        else:
            ran = Ran(done.returncode, _text(done.stdout))
        self._note(f"{ran.said.rstrip()}\n= {ran.code}".lstrip())
        return ran

    def wait(self, seconds: float) -> None:
        """Let time pass."""
        threading.Event().wait(seconds)

    def answers(self, url: str) -> bool:
        """Whether the page answers; who answers is not asked: a workshop's certificate names no loopback address."""
        parts = urlsplit(url)
        page = http.client.HTTPConnection(parts.netloc, timeout=_ANSWERS_WITHIN_S)
        if parts.scheme == "https":
            anybody = ssl.create_default_context()
            anybody.check_hostname = False
            anybody.verify_mode = ssl.CERT_NONE
            page = http.client.HTTPSConnection(parts.netloc, timeout=_ANSWERS_WITHIN_S, context=anybody)
        try:
            page.request("GET", "/")
            return page.getresponse().status < 500
        except (OSError, http.client.HTTPException):
            return False
        finally:
            page.close()

    def free_mb(self, folder: Path) -> int:
        """Free space where the folder lies, or will lie."""
        there = next(place for place in (folder, *folder.parents) if place.exists())
        return shutil.disk_usage(there).free // 1_000_000


def _text(said: bytes | str | None) -> str:
    return said.decode(errors="replace") if isinstance(said, bytes) else said or ""

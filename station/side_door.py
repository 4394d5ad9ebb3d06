"""The side door: whoever may read the station's own files can ask it for a pairing code, on this computer alone.

A socket in the file system that only the station's user, and the administrator, can open. It is the same code as the
bench shows, with the same rules (`phone/pairing`); nothing but asking for it can be done here.
"""

from __future__ import annotations

import contextlib
import json
import logging
import os
import socket
import struct
import threading
from collections.abc import Callable, Sequence
from pathlib import Path

from station.errors import Fault, Refused, StationError
from station.texts import N_, t

log = logging.getLogger("tarebell.door")

FILE = "door.socket"
WITHIN_S = 5.0
_MOST_BYTES = 4096


class NobodyThere(Fault):
    """No station answers at any of the places."""

    hint = N_("Is it running? `systemctl status tarebell` tells. Ask as the administrator: sudo tarebell pair.")


class SideDoor:
    """Open from `with` to its end, in the first of `folders` that takes a socket. `ask` gives the code.

    Where no folder takes one, that is logged: the bench is not stopped for it.
    """

    def __init__(self, folders: Sequence[Path], ask: Callable[[], str]) -> None:
        self._folders, self._ask = folders, ask
        self._let_in = {0, os.geteuid()}
        self._socket: socket.socket | None = None
        self._place: Path | None = None
        self._thread = threading.Thread(target=self._run, name="side door")

    def __enter__(self) -> SideDoor:
        for folder in self._folders:
            try:
                self._socket, self._place = _bound(folder / FILE), folder / FILE
            except OSError as why:
                log.warning("no side door place=%s why=%s", folder / FILE, why)
            else:
                self._thread.start()
                break
        return self

    def __exit__(self, *_: object) -> None:
        if self._socket is None or self._place is None:
            return
        with contextlib.suppress(OSError):
            self._socket.shutdown(socket.SHUT_RDWR)
        self._thread.join()
        self._socket.close()
        with contextlib.suppress(OSError):
            self._place.unlink()

    def _run(self) -> None:
        assert self._socket is not None
        while True:
            try:
                caller, _ = self._socket.accept()
            except OSError:
                return  # shut
            with caller, contextlib.suppress(OSError):
                caller.settimeout(WITHIN_S)
                if _user_of(caller) in self._let_in:
                    caller.sendall(json.dumps(self._answer()).encode())

    def _answer(self) -> dict[str, str]:
        try:
            return {"code": self._ask()}
        except StationError as refusal:
            return {"said": refusal.sentence()}


def ask_for_code(folders: Sequence[Path]) -> str:
    """The code of the first station that answers in one of the folders. Raises Refused, or NobodyThere."""
    for folder in folders:
        try:
            with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as line:
                line.settimeout(WITHIN_S)
                line.connect(str(folder / FILE))
                said = json.loads(line.makefile("rb").read(_MOST_BYTES))
        except (OSError, ValueError):
            continue
        if "code" in said:
            return str(said["code"])
        raise Refused(str(said.get("said", "")))
    raise NobodyThere(t("No station answers here, or you may not ask it."))


def _bound(place: Path) -> socket.socket:
    """A listening socket at the place. Its rights are right before it has its name, whatever lay there before."""
    beside = place.with_name(f".{place.name}.new")
    beside.unlink(missing_ok=True)
    made = socket.socket(socket.AF_UNIX, socket.SOCK_STREAM)
    try:
        made.bind(str(beside))
        beside.chmod(0o600)
        made.listen(4)
        beside.replace(place)
    except OSError:
        made.close()
        raise
    return made


def _user_of(caller: socket.socket) -> int:
    """The number of the user who calls (SO_PEERCRED, told by the kernel)."""
    told = caller.getsockopt(socket.SOL_SOCKET, socket.SO_PEERCRED, struct.calcsize("3i"))
    return int(struct.unpack("3i", told)[1])

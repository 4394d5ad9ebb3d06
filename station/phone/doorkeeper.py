"""Doorkeeper: the one owner of the door and of the list of paired devices, which lies in a file beside the record.

What is decided counts at once and is then written down, outside the lock: a slow card keeps nobody waiting but the
one who asked. When a device was last seen is written by `keep`, a chore of every hour, so that looking writes nothing.
"""

from __future__ import annotations

import logging
import secrets
import threading
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from station.core.moment import Moment
from station.errors import LedgerFault, Refused
from station.keeping import replace_whole
from station.phone import devices as those
from station.phone.devices import Device, Devices
from station.phone.pairing import Door, asked, refreshed, six_digits, tried
from station.ports import TimeSource
from station.texts import t

log = logging.getLogger("tarebell.door")

FILE = "devices.json"
SEEN_EVERY_S = 60.0


class Doorkeeper:
    """Who may touch. `announce` shows a code at the bench; `file` None keeps the devices in memory only.

    As a context it writes down at its end when the devices were last seen.
    """

    def __init__(
        self,
        clock: TimeSource,
        announce: Callable[[str], None],
        file: Path | None = None,
        draw: Callable[[], str] = six_digits,
    ) -> None:
        self._clock, self._announce, self._file, self._draw = clock, announce, file, draw
        self._lock = threading.Lock()
        self._writing = threading.Lock()
        self._door = Door()
        self._devices: Devices = _read(file)
        self._written = self._devices

    def __enter__(self) -> Doorkeeper:
        return self

    def __exit__(self, *_: object) -> None:
        self.keep_or_say()

    def ask(self) -> None:
        """Show a code at the bench. Raises Refused while the door is shut."""
        with self._lock:
            self._door = asked(self._door, self._clock.now(), self._draw())
            code = self._door.code
        if code is not None:
            self._announce(code)

    def ask_here(self) -> str:
        """The same for somebody who is let read it here, too. Raises Refused while the door is shut."""
        self.ask()
        return self.waiting()

    def waiting(self) -> str:
        """The code that is good now, for paired devices alone; empty without one."""
        with self._lock:
            return refreshed(self._door, self._clock.now()).code or ""

    def open(self, code: str, name: str) -> str:
        """Take the code and give the key of a new device.

        Raises Refused with a sentence when it is not the right code, the door is shut, or too many are paired.
        """
        now = self._clock.now()
        key = secrets.token_urlsafe(32)
        with self._lock:
            self._door, why = tried(self._door, now, code)
            if why:
                raise Refused(why)
            self._devices = those.with_one_more(self._devices, _made(key, name, now))
        log.info("device paired name=%r", name)
        self.keep_or_say()
        return key

    def greet(self, key: object) -> Device | None:
        """The device that this key belongs to, seen now; None when it is nobody's."""
        now = those.stamp(self._clock.now())
        with self._lock:
            found = those.holder(self._devices, key, now)
            if found is None or abs((now.wall - found.seen.wall).total_seconds()) < SEEN_EVERY_S:
                return found
            self._devices = those.seen_now(self._devices, found, now)
            return replace(found, seen=now)

    def knows(self, key: object) -> bool:
        """Whether this key still opens; nothing else than a look."""
        with self._lock:
            return those.holder(self._devices, key, those.stamp(self._clock.now())) is not None

    def paired(self) -> Devices:
        """Every device that may touch."""
        now = those.stamp(self._clock.now())
        with self._lock:
            return tuple(one for one in self._devices if not those.forgotten(one, now))

    def rename(self, device_id: str, name: str) -> None:
        """Give a device another name. Raises Refused, or LedgerFault when it is not on the card."""
        with self._lock:
            self._devices = those.renamed(self._devices, device_id, name)
        self.keep()

    def lock_out(self, device_id: str) -> None:
        """End one pairing. Raises Refused, or LedgerFault when it counts only until the next start."""
        with self._lock:
            self._devices = those.without(self._devices, device_id)
        self.keep()

    def lock_out_others(self, device_id: str) -> None:
        """End every pairing but this one. Raises LedgerFault when it counts only until the next start."""
        with self._lock:
            self._devices = tuple(one for one in self._devices if one.id == device_id)
        self.keep()

    def begin_anew(self) -> None:
        """End every pairing and show a new code: somebody held the button at the bench.

        Whoever stands there may also open a door that strangers' guesses have shut.
        """
        with self._lock:
            code = self._draw()
            self._devices, self._door = (), Door(code=code, shown=self._clock.now())
        log.warning("every pairing was ended by the button at the bench")
        self._announce(code)
        self.keep_or_say()

    def keep(self) -> None:
        """Put the devices on the disk, if anything has changed. Raises LedgerFault."""
        with self._writing:
            with self._lock:
                devices = self._devices
            if devices == self._written or self._file is None:
                return
            replace_whole(self._file, those.as_text(devices), private=True)
            self._written = devices

    def keep_or_say(self) -> None:
        """The same, where a disk that does not take it must not be in the way; the chore of every hour tries again."""
        try:
            self.keep()
        except LedgerFault as why:
            log.error("devices not written down why=%s", why)


def _made(key: str, name: str, now: Moment) -> Device:
    at = those.stamp(now)
    return Device(secrets.token_hex(4), those.clean_name(name) or t("a phone"), those.digest_of(key), at, at)


def _read(file: Path | None) -> Devices:
    if file is None or not file.exists():
        return ()
    try:
        return those.from_text(file.read_text(encoding="utf-8"))
    except (OSError, ValueError) as why:
        # Nobody is let in by a file that cannot be read: phones are paired anew.
        log.error("the list of paired devices cannot be read place=%s why=%s", file, why)
        return ()

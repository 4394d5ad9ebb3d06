"""Notices: lasting banners that devices and chores put up and take down, for whoever makes the snapshot."""

from __future__ import annotations

import threading

from station.core.snapshot import Banner, BannerKind


class Notices:
    """One notice under each name. From any thread."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._up: dict[str, Banner] = {}
        self._all: tuple[Banner, ...] = ()

    def put(self, name: str, kind: BannerKind, words: str, ask: str = "") -> None:
        """Put a notice up under this name; without words, take it down. `ask`: what a person may do about it."""
        with self._lock:
            if words:
                self._up[name] = Banner(kind, words, ask)
            else:
                self._up.pop(name, None)
            self._all = tuple(self._up.values())

    def all(self) -> tuple[Banner, ...]:
        """What is up now."""
        return self._all

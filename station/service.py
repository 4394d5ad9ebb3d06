"""The station as a service: counts its starts, is watched while it runs, and ends with a code that tells how."""

from __future__ import annotations

import faulthandler
import logging
import os
import signal
import sys
import threading
from collections.abc import Callable, Mapping
from pathlib import Path

from station.address.answering import silence
from station.app import Station, assembled
from station.config import Settings
from station.errors import StationError
from station.inbox import Inbox
from station.languages import begin_to_speak
from station.ports import TellableClock
from station.side_door import SideDoor
from station.starts import Safe, Starts, safe_mode
from station.texts import t
from station.watchdog.dog import Running, Watchdog
from station.watchdog.notify import notifier_of

log = logging.getLogger("tarebell")

BUG = 70
"""Exit code of a process that a bug has ended."""

GIVES_WAY_S = 0.001
"""After so long a thread that works lets another one have Python's lock. The usual 5 ms are lost at each of the four
changes of thread between the scale's line and the buzzer while somebody's page is being made."""


def serve(settings: Settings, clock: TellableClock, environ: Mapping[str, str], *, safe: bool = False) -> None:
    """Run the station until SIGTERM; in safe mode when asked for, or when it has crashed often of late.

    Raises SettingsError or Fault when the station cannot be made, and SystemExit with `BUG` when a bug has ended it.
    """
    sys.setswitchinterval(GIVES_WAY_S)
    begin_to_speak(settings.language)
    faulthandler.enable()  # a watchdog's SIGABRT then leaves in the log where every thread stood
    # First a folder in memory, where the manager gives one: a start neither wears the card nor waits for it.
    given = [Path(folder) for folder in environ.get("RUNTIME_DIRECTORY", "").split(":") if folder]
    starts = Starts([*given, settings.state_dir])
    mode = safe_mode(starts.begun(clock.now()), safe)
    if mode is not None:
        log.warning("%s", mode.words)
    dog = Watchdog(notifier_of(environ, os.getpid()), clock)
    dog.start()
    made = False
    try:
        with assembled(settings, clock, safe=mode, reading=dog.reading) as station:
            made = True
            places = [*given, settings.state_dir]
            with SideDoor(places, station.door.ask_here), station.cues.opened(places):
                _run(station, dog, mode)
    except StationError:
        if not made:
            starts.ended(clock.now())  # a refusal that says why is no crash
        raise
    starts.ended(clock.now())


def deaths_end(inbox: Inbox) -> None:
    """From now on a thread of this process that dies of an exception ends the loop, and its name is said."""

    def died(death: threading.ExceptHookArgs) -> None:
        name = death.thread.name if death.thread is not None else "?"
        log.critical("thread died name=%s why=%r", name, death.exc_value)
        inbox.end(death.exc_value or RuntimeError(f"The thread {name!r} died of {death.exc_type.__name__}."))

    threading.excepthook = died


def _run(station: Station, dog: Watchdog, mode: Safe | None) -> None:
    _on_stop(station.inbox.end)
    deaths_end(station.inbox)
    log.info("page url=%s", station.url)
    if station.panel.note:
        log.info("signals note=%r", station.panel.note)
    words = t("The station runs.") if mode is None else mode.words.said()
    dog.watch(Running(station.pulses, station.inbox.end, lambda: _answers(station.url), words))
    try:
        station.loop.run()
    except BaseException:
        # Said before the closing, which may hang on what the bug has left.
        log.critical("a bug ends the station", exc_info=True)
        raise SystemExit(BUG) from None
    finally:
        dog.closing()


def _on_stop(end: Callable[[], None]) -> None:
    for number in (signal.SIGTERM, signal.SIGINT):
        signal.signal(number, lambda *_: end())


def _answers(url: str) -> bool:
    """Whether the page at `url` answers a visitor."""
    why = silence(url)
    if why:
        log.warning("the page does not answer yet why=%s", why)
    return not why

"""Pins: real ones where there is a GPIO chip, mock ones elsewhere; and what sounds on them."""

from __future__ import annotations

import logging
from collections.abc import Callable
from pathlib import Path
from typing import Any

from gpiozero.pins.mock import MockFactory, MockPWMPin

from station.signals.patterns import STOP_HZ
from station.texts import N_

log = logging.getLogger("tarebell.signals")

NO_GPIO = N_("No GPIO on this machine: buzzer and lamps are simulated; cues go to the page and the terminal.")
BROKEN_GPIO = N_(
    "The GPIO pins of this board cannot be used: no buzzer, no lamps, no pedal. Install "
    "python3-lgpio and let the service into the group gpio."
)
MODEL = Path("/proc/device-tree/model")


class ForgetfulPin(MockPWMPin):  # type: ignore[misc]  # the library is untyped
    """A mock pin without a history: an alarm that sounds for days must not fill the memory."""

    def _change_state(self, value: Any) -> bool:
        changed = bool(super()._change_state(value))
        del self.states[:-1]
        return changed


def pins(model: Path = MODEL) -> tuple[Any, str]:
    """Real pins through lgpio where there are some; elsewhere mock pins and a sentence that says so."""
    try:
        from gpiozero.pins.lgpio import LGPIOFactory

        return LGPIOFactory(), ""
    except Exception as why:  # the libraries raise all kinds of errors on a machine without GPIO
        log.info("mock pins why=%s", why)
        note = f"{BROKEN_GPIO} ({why})" if _is_a_pi(model) else NO_GPIO
        return MockFactory(pin_class=ForgetfulPin), note


def _is_a_pi(model: Path) -> bool:
    try:
        return b"Raspberry Pi" in model.read_bytes()
    except OSError:
        return False


def tried(name: str, act: Callable[[], object]) -> bool:
    """Do it, and say whether it worked. A pin that fails while the station runs must not stop the bench."""
    try:
        act()
    except Exception as why:  # the pin libraries have errors of their own, some of them plain Exceptions
        log.error("pin failed name=%s why=%s", name, why)
        return False
    return True


class Sounders:
    """An active buzzer and, where fitted, a tonal one that sounds with it."""

    def __init__(self, buzzer: Any, tone: Any) -> None:
        self._buzzer, self._tone = buzzer, tone

    def on(self, tick_hz: float | None = None) -> None:
        """Sound, a tonal buzzer at the pitch of the tick."""
        if self._buzzer is not None:
            tried("buzzer", self._buzzer.on)
        if self._tone is not None:
            tried("tone", lambda: self._tone.play(STOP_HZ if tick_hz is None else tick_hz))

    def off(self) -> None:
        """Be silent."""
        if self._buzzer is not None:
            tried("buzzer", self._buzzer.off)
        if self._tone is not None:
            tried("tone", self._tone.stop)

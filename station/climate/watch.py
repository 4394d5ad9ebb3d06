"""ClimateWatch: looks at the sensors every so often and tells the bench what temperature counts, and the humidity.

The bench is told when one of them has changed by what matters, not at every look: each change goes into the
record. No sensor is no trouble to the bench; a bug here ends the whole station like one at the scale does.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from types import TracebackType

from station.climate.believing import JUMP_C, believed
from station.climate.faults import SensorFault
from station.climate.humidity import DEVICES, HumiditySensor
from station.climate.joining import Heard, joined
from station.climate.one_wire import BUS, LEAST_C, MOST_C, OneWire
from station.climate.readings import Readings
from station.climate.state import Climate, Seen, Source, Typed, of_typed
from station.config import ClimateSettings
from station.core.messages import Humidity, Temperature
from station.errors import Refused
from station.inbox import Inbox
from station.ports import TimeSource
from station.texts import number, t

log = logging.getLogger("tarebell.climate")

TOLD_STEP_C = 0.2
"""Smaller changes are not told: at 7 % cure speed per degree they are below 1.5 %, and each goes to the card."""
TOLD_STEP_PERCENT = 5.0
"""Sensors are good for three percent or so, and each change goes to the card."""
NEVER = 1000.0
"""Humidity may change by anything; it is only smoothed."""


class ClimateWatch:
    """Posts Temperature and Humidity into the inbox from `start` (or `with`) to `stop`; the only owner of the climate.

    `typed_c` is the temperature of the settings: it counts while no sensor tells one, and so does what a person
    types. `bus` and `devices` are the kernel's folders.
    """

    def __init__(
        self,
        settings: ClimateSettings,
        typed_c: float | None,
        inbox: Inbox,
        clock: TimeSource,
        *,
        bus: Path = BUS,
        devices: Path = DEVICES,
    ) -> None:
        self._wire = None if settings.sensor == "none" else OneWire(settings.sensor, bus)
        self._air = HumiditySensor(devices) if settings.humidity else None
        self._period_s = settings.period_s
        self._inbox, self._clock = inbox, clock
        self._stopping = threading.Event()
        self._thread = threading.Thread(target=self._run, name="climate")
        self._lock = threading.Lock()
        self._heard = Heard()
        self._typed = None if typed_c is None else Typed(typed_c, clock.now(), None)
        self._climate = of_typed(self._typed)
        self._told: Temperature | None = None  # not rounded
        self._told_percent: float | None = None

    def start(self) -> None:
        """Begin. Without any sensor in the settings the typed temperature is told at once, and nothing more runs."""
        if self._wire is None and self._air is None:
            with self._lock:
                self._tell()
        else:
            self._thread.start()

    def stop(self) -> None:
        """End the thread; returns when that is done. May be called again."""
        self._stopping.set()
        if self._thread.is_alive():
            self._thread.join()

    def __enter__(self) -> ClimateWatch:
        self.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.stop()

    def now(self) -> Climate:
        """What is known, as it was after the last look."""
        with self._lock:
            return self._climate

    def seen(self) -> Seen:
        """What is known, with how old it is at this moment."""
        return self.now().seen(self._clock.now())

    def typed(self, celsius: float, by: str) -> None:
        """Take a temperature that a person at `by` has read off. Raises Refused when no workshop has it."""
        if not LEAST_C <= celsius <= MOST_C:
            raise Refused(
                t("{celsius} °C is no temperature of a workshop.", celsius=number(celsius, ".1f")),
                t(
                    "Type what the thermometer at the bench says, {least} to {most} °C.",
                    least=number(LEAST_C),
                    most=number(MOST_C),
                ),
            )
        with self._lock:
            self._typed = Typed(celsius, self._clock.now(), by)
            self._become()

    def turn(self) -> None:
        """Look at every sensor once."""
        heard = self._heard
        if self._wire is not None:
            look, last = self._wire.look, heard.wire.last
            heard = replace(heard, wire=self._after(heard.wire, lambda: believed(look, last), JUMP_C))
        if self._air is not None:
            heard = replace(heard, humidity=self._after(heard.humidity, self._air.look, NEVER))
            # In the settings `none` means that no sensor is to tell the temperature, not this one either.
            if self._wire is not None:
                look, last = self._air.look_at_temperature, heard.air.last
                heard = replace(heard, air=self._after(heard.air, lambda: believed(look, last), JUMP_C))
        with self._lock:
            self._heard = heard
            self._become()

    def _run(self) -> None:
        try:
            while not self._stopping.is_set():
                self.turn()
                self._stopping.wait(self._period_s)
        except BaseException as bug:
            self._inbox.end(bug)

    def _after(self, readings: Readings, look: Callable[[], float], jump: float) -> Readings:
        try:
            return readings.heard(look(), self._clock.now(), jump)
        except SensorFault as fault:
            return readings.missed(fault)

    def _become(self) -> None:
        """The climate that follows from what was heard and typed, told when it matters. With the lock held."""
        words = "" if self._wire is None else self._wire.words
        climate = joined(self._heard, self._typed, words)
        for trouble in climate.troubles:
            if trouble not in self._climate.troubles:
                log.warning("climate trouble=%s", trouble)
        self._climate = climate
        self._tell()

    def _tell(self) -> None:
        self._tell_temperature()
        self._tell_humidity()

    def _tell_humidity(self) -> None:
        percent, told = self._climate.humidity_percent, self._told_percent
        if percent is None and not self._heard.humidity.lost:
            return  # there never was one, or it may yet answer
        if percent is None or told is None:
            if percent == told:
                return
        elif abs(percent - told) < TOLD_STEP_PERCENT:
            return
        self._told_percent = percent
        self._inbox.post(Humidity(None if percent is None else float(round(percent))))

    def _tell_temperature(self) -> None:
        celsius = self._climate.celsius
        if celsius is None and self._wire is not None and not self._heard.wire.lost:
            return  # the sensor may yet answer; until then the bench goes on with what it knew
        if self._told is not None and not self._matters(self._told.celsius, celsius):
            return
        self._told = Temperature(celsius)
        self._inbox.post(Temperature(None if celsius is None else round(celsius, 1)))

    def _matters(self, told_c: float | None, celsius: float | None) -> bool:
        if told_c is None or celsius is None or self._climate.source in (Source.TYPED, Source.SETTINGS):
            return told_c != celsius
        return abs(celsius - told_c) >= TOLD_STEP_C

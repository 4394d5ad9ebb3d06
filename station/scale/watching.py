"""Watching a scale outside a weighing: readings as they come from an opened port, for the scale check."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from decimal import Decimal

from station.config import ScaleSettings
from station.core.messages import Reading
from station.errors import ScaleFault
from station.metrology.verdict import CheckResult
from station.ports import TimeSource
from station.scale.asking import Asking
from station.scale.bit7 import FORMATS
from station.scale.checking import AskText, Course, CourseAnswer, Seen, Watch
from station.scale.decoder import Decoder
from station.scale.families import family_named
from station.scale.finding.conduct import Person
from station.scale.finding.wishes import Tell
from station.scale.port import GONE, Port, open_port
from station.scale.reasons import why_not
from station.scale.sense import Expected, Sense

_SHORT_S = 0.1


class Watcher:
    """The readings of one opened port, for one thread."""

    def __init__(self, port: Port, settings: ScaleSettings, clock: TimeSource) -> None:
        spec = family_named(settings.family)
        request = settings.request if settings.request is not None else spec.request
        self._character = FORMATS[settings.character]
        self._port, self._clock = port, clock
        self._asking = None if request is None else Asking(self._character.sent(request), settings.poll_s)
        self._decoder = Decoder(spec, synced=request is not None)
        self._sense = Sense(Expected(spec, settings.unit, settings.worth, request is None))

    def readings(self, seconds: float) -> tuple[Seen, ...]:
        """The readings of the next `seconds`. Raises ScaleFault for a stream that makes no sense, GONE for a lost
        port."""
        seen = []
        end_s = self._clock.now().boot_s + seconds
        while (left := end_s - self._clock.now().boot_s) > 0:
            self._ask()
            data = self._port.read(min(left, _SHORT_S))
            at_s = self._clock.now().boot_s
            frames = self._decoder.feed(self._character.read(data)) if data else self._decoder.quiet()
            if frames and self._asking is not None:
                self._asking.heard()
            for message in self._sense.hear(frames, len(data), at_s):
                if isinstance(message, Reading):
                    grams = Decimal(message.gross.mg).scaleb(-3)
                    seen.append(Seen(at_s, grams, f"{grams.normalize():f}"))
            if doubt := self._sense.doubt(at_s):
                raise ScaleFault(doubt)
        return tuple(seen)

    def _ask(self) -> None:
        if self._asking is None:
            return
        now_s = self._clock.now().boot_s
        if self._asking.due_in(now_s) <= 0:
            self._port.write(self._asking.request)
            self._asking.sent(now_s)


def run_course(settings: ScaleSettings, person: Person, clock: TimeSource, going: Course) -> CheckResult:
    """Conduct a scale check. Raises ScaleFault for the port, Refused for what the course refuses."""
    with _opened(settings) as port:
        watcher = Watcher(port, settings, clock)
        answer: CourseAnswer = None
        while True:
            try:
                wish = going.send(answer)
            except StopIteration as end:
                result: CheckResult = end.value
                return result
            person.stays()
            match wish:
                case Tell():
                    person.told(wish.words)
                    answer = None
                case Watch():
                    answer = watcher.readings(wish.seconds)
                case AskText():
                    answer = person.reads(wish.question)


@contextmanager
def _opened(settings: ScaleSettings) -> Iterator[Port]:
    wake_r, wake_w = os.pipe()
    try:
        port = open_port(settings.port, settings.baud, FORMATS[settings.character], wake_r)
        try:
            yield port
        except GONE as gone:
            raise (gone if isinstance(gone, ScaleFault) else why_not(settings.port, gone)) from gone
        finally:
            port.close()
    finally:
        os.close(wake_r)
        os.close(wake_w)

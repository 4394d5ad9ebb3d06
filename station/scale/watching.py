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
from station.scale.bit7 import FORMATS
from station.scale.checking import Course
from station.scale.course_wishes import AskText, CourseAnswer, Seen, Watch
from station.scale.finding.conduct import Person
from station.scale.finding.wishes import Tell
from station.scale.listening import Listening
from station.scale.port import GONE, Port, open_port
from station.scale.reasons import why_not

_SHORT_S = 0.1


def readings(listening: Listening, clock: TimeSource, seconds: float) -> tuple[Seen, ...]:
    """The readings of the next `seconds`. Raises ScaleFault for lines that are doubted, GONE for a lost port."""
    seen = []
    end_s = clock.now().boot_s + seconds
    while (left := end_s - clock.now().boot_s) > 0:
        heard = listening.turn(min(left, _SHORT_S))
        if heard.doubt is not None:
            raise ScaleFault(heard.doubt)
        for message in heard.messages:
            if isinstance(message, Reading):
                grams = Decimal(message.gross.mg).scaleb(-3)
                seen.append(Seen(heard.at.boot_s, grams, f"{grams.normalize():f}"))
    return tuple(seen)


def run_course(settings: ScaleSettings, person: Person, clock: TimeSource, going: Course) -> CheckResult:
    """Conduct a scale check. Raises ScaleFault for the port, Refused for what the course refuses."""
    with _opened(settings) as port:
        listening = Listening(port, settings, clock)
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
                    answer = readings(listening, clock, wish.seconds)
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

"""A scale check through a real port: the load is read from the stream, a pulled cable ends it in a sentence."""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from station.config import ScaleSettings
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.errors import ScaleFault
from station.scale.checking import course
from station.scale.watching import run_course
from station.simulated.pty_port import PtyPort
from station.simulated.voices import Delivery, Voice
from tests.scale.finding.test_find_port import HurriedClock

CARD = ScaleCard(Mass.grams("0.1"), Mass.grams(3000))
ANSWERS = {"What does": "200 g", "Its class": "F1", "Class and e": "", "For how many": "0"}


class Hands:
    """Somebody who does what the check says, and a scale that talks meanwhile, in `unit`."""

    def __init__(self, port: PtyPort, voice: Voice, pull_at: str = "") -> None:
        self.port, self.voice, self.pull_at = port, voice, pull_at
        self.load = Decimal("3.0")
        self.stop = threading.Event()

    def told(self, words: str) -> None:
        if self.pull_at and self.pull_at in words:
            self.stop.set()
            self.port.unplug()
        self.load = Decimal("200.3") if words.startswith("Put the weight") else Decimal("0.1")

    def stays(self) -> None:
        pass

    def confirms(self, question: str) -> bool | None:
        raise AssertionError(question)

    def reads(self, question: str) -> str | None:
        return next(answer for start, answer in ANSWERS.items() if question.startswith(start))

    def talk(self) -> None:
        """The scale, until stopped."""
        while not self.stop.wait(0.01):
            if asked := self.port.received():
                self.port.emit(self.voice.answer(asked, self.load, True))
            self.port.emit(self.voice.unasked(self.load, True))


@contextlib.contextmanager
def bench(folder: Path, family: str, delivery: Delivery, pull_at: str = "") -> Iterator[Hands]:
    with PtyPort(folder / "scale") as port:
        hands = Hands(port, Voice(family, delivery), pull_at)
        thread = threading.Thread(target=hands.talk)
        thread.start()
        try:
            yield hands
        finally:
            hands.stop.set()
            thread.join()


@pytest.mark.parametrize(
    ("family", "delivery"), [("status-commas", Delivery.STREAM), ("reply-letter", Delivery.REQUEST)]
)
def test_a_check_reads_the_weight_from_the_stream_net_of_the_empty_pan(
    tmp_path: Path, family: str, delivery: Delivery
) -> None:
    with bench(tmp_path, family, delivery) as hands:
        settings = ScaleSettings(str(hands.port.path), family, card=CARD)
        going = course(CARD, date(2026, 11, 25), placements=5)
        result = run_course(settings, hands, HurriedClock(20), going)
    assert result.figures.repeatability_g == 0
    assert result.figures.weights[0].error_g == pytest.approx(0.2)  # 200.3 g on, 0.1 g with nothing on
    assert result.figures.corner_spread_g == 0


def test_a_cable_pulled_in_the_middle_of_a_check_is_a_sentence(tmp_path: Path) -> None:
    with bench(tmp_path, "status-commas", Delivery.STREAM, pull_at="3 of 5") as hands:
        settings = ScaleSettings(str(hands.port.path), "status-commas", card=CARD)
        going = course(CARD, date(2026, 11, 25), placements=5)
        with pytest.raises(ScaleFault, match="unplugged"):
            run_course(settings, hands, HurriedClock(20), going)

"""A scale, its cable and a person without hardware or time: what a search would hear, bit by bit.

The scale speaks through a voice at one serial setting; the search listens at another, and hears what a UART would.
"""

from __future__ import annotations

import random
import re
from dataclasses import dataclass, field
from decimal import Decimal

from station.scale.bit7 import FORMATS, CharacterFormat
from station.scale.finding.outcome import NotFound, Profile
from station.scale.finding.search import Search
from station.scale.finding.wishes import Answer, AskShown, Confirm, Listen, Query, Tell, Wish
from station.simulated.line import LineSetting, Resync, compatible, heard
from station.simulated.voices import Delivery, Voice

GRAMS = {"g": Decimal(1), "kg": Decimal(1000), "lb": Decimal("453.59237"), "oz": Decimal("28.349523125")}
"""NIST Special Publication 811 (2008), appendix B.8."""


def listening(baud: int, character: CharacterFormat) -> LineSetting:
    """How the station opens the port for a character format: with eight data bits."""
    return LineSetting(baud, 8, character.parity, character.stopbits)


@dataclass
class VirtualScale:
    """A scale with a load, speaking at `sent`, `rate` lines a second. Pressed, the load goes up and down again."""

    voice: Voice
    sent: LineSetting
    seed: int = 0
    rate: float = 10.0
    load: Decimal = Decimal("123.4")
    wishes: list[Wish] = field(default_factory=list)
    clock_s: float = 0.0
    pressing_s: float = 0.0
    reads: str | None = None
    agrees: bool | None = None
    pressable: bool = True
    resync: Resync = Resync.NEXT_EDGE
    noise: list[bytes] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.rng = random.Random(self.seed)

    def conduct(self, search: Search) -> Profile | NotFound:
        """Run a search against this scale."""
        answer: Answer = None
        while True:
            try:
                wish = search.send(answer)
            except StopIteration as end:
                found: Profile | NotFound = end.value
                return found
            self.wishes.append(wish)
            answer = self._done(wish)

    def _done(self, wish: Wish) -> Answer:
        match wish:
            case Tell():
                self.pressing_s = 2.0 if self.pressable and "finger" in wish.words else 0.0
                return None
            case Listen():
                return self._over(*self._unasked(wish.seconds), wish.baud, wish.character)
            case Query():
                return self._asked(wish)
            case Confirm():
                if self.agrees is not None:
                    return self.agrees
                return self._shows(wish.question)
            case AskShown():
                return self.reads if self.reads is not None else f"{self.load} g"

    def _shows(self, question: str) -> bool:
        """Whether the display shows what the question says, to the last digit of either."""
        said = re.search(r"show (-?[0-9.]+) ([a-z]+)[.]", question)
        assert said is not None, question
        grams = Decimal(said[1]) * GRAMS[said[2]]
        last = max(Decimal(1).scaleb(-len(said[1].partition(".")[2])) * GRAMS[said[2]], Decimal("0.1"))
        return abs(grams - self.load) <= last / 2

    def _now(self) -> tuple[Decimal, bool]:
        """The load now and whether it is at rest, while a press of two seconds rises and falls in steps."""
        if self.pressing_s <= 0:
            return self.load, True
        done = 2.0 - self.pressing_s
        push = Decimal(str(round(min(done, self.pressing_s) * 400, 1)))
        return self.load + push, False

    def _step(self, seconds: float) -> None:
        self.clock_s += seconds
        self.pressing_s = max(0.0, self.pressing_s - seconds)

    def _unasked(self, seconds: float) -> tuple[bytes, dict[int, float]]:
        said, lines, gaps = b"", max(1, round(seconds * self.rate)), {}
        for _ in range(lines):
            load, stable = self._now()
            line = self.voice.unasked(load, stable)
            gaps[len(said)] = max(0.0, seconds / lines * self.sent.baud - len(line) * self.sent.character)
            said += line
            self._step(seconds / lines)
        # The search may begin to listen in the middle of a line, and a line takes its time.
        room = int(seconds * self.sent.baud / 10)
        cut = self.rng.randrange(max(1, len(said) // lines)) if self.voice.streams else 0
        return said[cut:room], {at - cut: gap for at, gap in gaps.items() if at >= cut}

    def _asked(self, wish: Query) -> bytes:
        at = listening(wish.baud, FORMATS[wish.character])
        arrived = heard(FORMATS[wish.character].sent(wish.data), at, self.sent).data
        meant = bytes(byte & (0x7F if self.sent.data_bits == 7 else 0xFF) for byte in arrived)
        load, stable = self._now()
        before = len(self.voice.harmed)
        said = self.voice.answer(meant, load, stable)
        if not compatible(at, self.sent):
            # At another bit rate a question arrives as noise, and noise may be any key of the scale.
            self.noise += self.voice.harmed[before:]
            del self.voice.harmed[before:]
        self._step(wish.seconds)
        load, stable = self._now()
        said += self.voice.unasked(load, stable)
        return self._over(said, {}, wish.baud, wish.character)

    def _over(self, said: bytes, gaps: dict[int, float], baud: int, character: str) -> bytes:
        if not said:
            return b""
        if self.sent.data_bits == 7:
            said = bytes(byte & 0x7F for byte in said)
        return heard(said, self.sent, listening(baud, FORMATS[character]), gaps, resync=self.resync).data


__all__ = ["Delivery", "VirtualScale", "listening"]

"""Sense: whether what the scale sends still makes sense, and what of it the bench may know. Pure; times are handed in.

A scale's menu can change its family, its unit or its parity while the station runs. Then the lines may still look like
numbers, and the one thing that must not happen is that they go on being loads. So doubt silences the scale in
words, and only lines that make sense again, or the end of the pour, end the doubt.
"""

from __future__ import annotations

import itertools
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from station.core.messages import NoLoad, Reading
from station.scale.decoded import Frame, message_of
from station.scale.delivery import CURE
from station.scale.families import FamilySpec
from station.scale.meaning import Kind, Mode
from station.scale.units import GRAMS_PER
from station.texts import t

SENSE_S = 2.5
"""Seconds of lines that are judged together; what makes no sense is said before the third second."""

READABLE = 0.8
"""Share of whole lines with a meaning below which a stream makes no sense."""

_LEAST_BYTES = 24
_LEAST_BAD = 3
_REMEMBERED, _OFTEN, _BINARY_RUN = 20, 8, 4
_QUICK_S, _APART_S, _PRINTS = 1.5, 4.0, 3
_OFF_S, _RUN_S, _ALIKE, _RUNS = 20.0, 10.0, 0.15, 3


@dataclass(frozen=True, slots=True)
class Expected:
    """What is known of the scale: its family, the unit for lines without one, the worth of the last digit.

    `worth` is for lines that carry no point. Not `streams`: it is asked.
    """

    spec: FamilySpec
    unit: str | None = None
    worth: Decimal = Decimal(1)
    streams: bool = True


class Lately:
    """Amounts of the last `SENSE_S` and their sum, kept up as they come and go: each line of the scale asks for it."""

    def __init__(self) -> None:
        self._seen: deque[tuple[float, int]] = deque()
        self._sum = 0

    @property
    def count(self) -> int:
        """How many amounts there were at the last `sum_at`."""
        return len(self._seen)

    def add(self, now_s: float, amount: int) -> None:
        """One more, now."""
        self._seen.append((now_s, amount))
        self._sum += amount

    def clear(self) -> None:
        """Forget them all."""
        self._seen.clear()
        self._sum = 0

    def sum_at(self, now_s: float) -> int:
        """The sum of those that are not too old by now; the others are forgotten."""
        while self._seen and self._seen[0][0] < now_s - SENSE_S:
            self._sum -= self._seen.popleft()[1]
        return self._sum


class Sense:
    """One connection's judgement. `pouring` tells whether a changed unit must wait."""

    def __init__(self, expected: Expected, pouring: Callable[[], bool] = lambda: False) -> None:
        self._expected = expected
        self._pouring = pouring
        self._bad = Lately()
        self._unread = Lately()
        self._lengths: deque[int] = deque(maxlen=_REMEMBERED)
        self._unit: str | None = None
        self._other_unit: str | None = None
        self._unitless = False
        self._decimals: int | None = None
        self._moved_points = 0
        self._loads: deque[tuple[float, Decimal | None]] = deque(maxlen=_PRINTS + 1)
        self._streamed = False
        self._run_began: float | None = None
        self._last: float | None = None
        self._runs: deque[float] = deque(maxlen=_RUNS)

    def hear(self, frames: list[Frame], size: int, now_s: float) -> list[Reading | NoLoad]:
        """What the bench may know of `frames`, which came with `size` bytes; nothing while there is doubt."""
        self._count_run(now_s, bool(frames))
        self._unread.add(now_s, size)
        for frame in frames:
            self._unread.clear()
            self._bad.add(now_s, not frame.understood)
        messages = [message for frame in frames if (message := self._message(frame, now_s)) is not None]
        return [] if self.doubt(now_s) else messages

    def doubt(self, now_s: float) -> str | None:
        """Why the lines are not to be believed now, a sentence with its cure; None when they are."""
        spec = self._expected.spec
        bad, torn = self._bad.sum_at(now_s), self._unread.sum_at(now_s)
        judged = self._bad.count
        if (bad >= _LEAST_BAD and bad > judged * (1 - READABLE)) or (torn >= _LEAST_BYTES and not judged):
            return t(
                "What the scale sends makes no sense as {family}. Was its menu changed (format, bit rate, parity)? "
                "Set it back, or find the scale again.",
                family=spec.id,
            )
        if self._other_unit is not None:
            return t(
                "The scale changed from {unit} to {other}. Set it back to {unit} to go on; "
                "outside a weighing the new unit is taken.",
                unit=self._unit,
                other=self._other_unit,
            )
        if self._moved_points >= _LEAST_BAD:
            return t(
                "The scale's numbers have another count of decimals than {decimals}, and no unit: its unit or "
                "range was probably changed. Set it back, or find the scale again.",
                decimals=self._decimals,
            )
        if self._unitless:
            return t("The scale sends no unit and none is set: name it as unit under [scale], or find the scale again.")
        if self._prints_at_rest():
            return t(CURE)
        return None

    def silence(self, now_s: float) -> str | None:
        """Why the scale has gone silent, where its habit tells: it switched itself off after equal times before."""
        if self._last is None or now_s - self._last < _OFF_S or len(self._runs) < _RUNS - 1 or self._run_began is None:
            return None
        run_s = self._last - self._run_began
        if any(abs(earlier - run_s) > _ALIKE * run_s for earlier in self._runs):
            return None
        after = f"{run_s / 60:.0f} min" if run_s >= 60 else f"{run_s:.0f} s"
        return t(
            "The scale fell silent after about {after}, as it did before: it probably switches itself off. "
            "Switch auto power-off off in its menu, or use its mains adapter.",
            after=after,
        )

    def _message(self, frame: Frame, now_s: float) -> Reading | NoLoad | None:
        if frame.kind is Kind.WEIGHT and frame.mode is not Mode.TARE:
            if not self._unit_known(frame.unit) or not self._point_known(frame):
                return None
            self._loads.append((now_s, frame.value))
        message = message_of(frame, self._unit or "", self._expected.worth)
        if not isinstance(message, Reading):
            return message
        return message if self._usual(len(frame.raw)) else None

    def _usual(self, length: int) -> bool:
        """Whether a line of this length is to be believed: the one before had it, or many lately.

        Digits lost on the wire leave a line that is still a number and ten times too light, but shorter. A real
        change of length (a scale that does not pad) costs one reading.
        """
        # Binary frames have one length, and what remains of torn ones may twice have the same.
        needed = _BINARY_RUN if self._expected.spec.eight_bit else 1
        last = list(self._lengths)[-needed:]
        usual = last == [length] * needed or self._lengths.count(length) >= _OFTEN
        self._lengths.append(length)
        return usual

    def _unit_known(self, unit: str | None) -> bool:
        """Whether the unit of a load is settled; a change of unit is settled only outside a pour."""
        if unit is None:
            self._unit = self._unit or self._expected.unit
            self._unitless = self._unit is None
            return not self._unitless and self._other_unit is None
        if unit not in GRAMS_PER:
            return True
        proven = self._unit
        if proven is None or proven == unit or not self._pouring():
            self._unit, self._other_unit = unit, None
            if proven not in (None, unit):
                self._lengths.clear()
            return True
        self._other_unit = unit
        return False

    def _point_known(self, frame: Frame) -> bool:
        """Whether the point of a line without a unit stands where it stood: with another unit it moves."""
        if frame.unit is not None or self._expected.worth != 1:
            return True
        if self._decimals is None or frame.decimals == self._decimals:
            self._decimals, self._moved_points = frame.decimals, 0
            return True
        self._moved_points += 1
        return False

    def _prints_at_rest(self) -> bool:
        """Lines far apart, never in quick succession, of which none repeats the one before as a slow stream would."""
        if self._streamed or not self._expected.streams:
            return False
        pairs = list(itertools.pairwise(self._loads))
        self._streamed |= any(later[0] - earlier[0] < _QUICK_S for earlier, later in pairs)
        apart = all(later[0] - earlier[0] >= _APART_S and later[1] != earlier[1] for earlier, later in pairs)
        return not self._streamed and len(pairs) >= _PRINTS and apart

    def _count_run(self, now_s: float, heard: bool) -> None:
        if not heard:
            return
        if self._last is None or now_s - self._last >= _OFF_S:
            if self._last is not None and self._run_began is not None and self._last - self._run_began >= _RUN_S:
                self._runs.append(self._last - self._run_began)
            self._run_began = now_s
        self._last = now_s

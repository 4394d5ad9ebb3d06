"""Voice: a simulated scale's way of talking, in one frame family, and what it does when it is asked."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from station.errors import SettingsError
from station.simulated.voices.ears import silent
from station.simulated.voices.load import Load, just, shown
from station.simulated.voices.table import LAYOUTS, Delivery
from station.simulated.voices.understood import UNDERSTOOD

_EMPTY_STEPS = 10


class Voice:
    """How one simulated scale talks. Raises SettingsError for a family that it does not speak.

    `harmed` lists the requests so far that would have tared, zeroed, switched or changed a real scale; they
    are recorded, not obeyed. `unit` may be set to another of `units` (g, kg, lb, oz) at any time, as in the menu.
    `implied_decimals` (None where the line has its own point) may be set like in an installation menu.
    `greeting` is what the scale says when it wakes up or its port is opened.
    """

    def __init__(self, family: str, delivery: Delivery | None = None) -> None:
        if family not in LAYOUTS:
            raise SettingsError([f"The simulated scale does not speak {family!r}. It speaks {', '.join(LAYOUTS)}."])
        self._layout = LAYOUTS[family]
        self._ears = UNDERSTOOD.get(family) or silent()
        self.family = family
        self.delivery = delivery or self._layout.delivery
        self.units = self._layout.units
        self.unit = self.units[0]
        self.implied_decimals = self._layout.implied_decimals
        self.greeting = self._layout.greeting
        self.harmed: list[bytes] = []
        self._heard = b""
        self._owed: bytes | None = None
        self._armed = True

    @property
    def streams(self) -> bool:
        """Whether it sends a line at each renewal without being asked."""
        return self.delivery is Delivery.STREAM

    def line(self, grams: Decimal, stable: bool, overload: bool = False) -> bytes:
        """One line for this load; the decimals of `grams` are those on the wire. Below zero, overload is underload.

        A number too wide for its columns loses decimals, then is out of range.
        """
        return self._layout.say(self._shown(grams, stable, overload))

    def unasked(self, grams: Decimal, stable: bool, overload: bool = False) -> bytes:
        """What the scale sends of its own accord when it renews its indication.

        On-stable: one line per load that has come to rest, and no other before the pan has been empty (within ten
        steps of zero), as is common practice. An answer owed to a request for a stable load also comes here.
        """
        if self.streams:
            return self.line(grams, stable, overload)
        said = self._paid(self._shown(grams, stable, overload))
        if self.delivery is Delivery.REQUEST:
            return said
        empty = abs(grams) <= _EMPTY_STEPS * _step(grams)
        if empty:
            self._armed = True
        elif self._armed and stable and not overload:
            self._armed = False
            said += self.line(grams, stable, overload)
        return said

    def answer(self, heard: bytes, grams: Decimal, stable: bool, overload: bool = False) -> bytes:
        """What the scale sends for the requests that `heard` completes; nothing where it streams unasked.

        A request for a stable load while it moves is refused, or answered once it is at rest, as the family does.
        """
        load = self._shown(grams, stable, overload)
        requests, self._heard = self._ears.requests(self._heard + heard)
        said = self._paid(load) + b"".join([self._obey(request, load) for request in requests])
        return b"" if self.streams else said

    def _obey(self, request: bytes, load: Load) -> bytes:
        ears = self._ears
        if ears.harms(request, self.streams):
            self.harmed.append(request)
            return ears.queries.get(request, just(ears.obeyed))(load)
        if request in ears.queries:
            return ears.queries[request](load)
        if request in ears.now:
            return self._reading(request, load)
        if request not in ears.when_stable:
            return ears.unknown(load)
        if load.stable or load.overload:
            return self._reading(request, load)
        if ears.waits:
            self._owed = request
        return ears.moving

    def _paid(self, load: Load) -> bytes:
        """The answer that was owed, once the load is at rest."""
        if self._owed is None or not load.stable:
            return b""
        request, self._owed = self._owed, None
        return self._reading(request, load)

    def _reading(self, request: bytes, load: Load) -> bytes:
        return self._ears.reply(request, load) if self._ears.reply else self._layout.say(load)

    def _shown(self, grams: Decimal, stable: bool, overload: bool) -> Load:
        load = shown(grams, self.unit, stable, overload)
        if self.implied_decimals is not None:
            load = load.with_decimals(self.implied_decimals)
        room = self._layout.room(load)
        text = load.digits.lstrip("0") if self._layout.pointless else load.size
        spare = len(text) - room
        if spare > 0 and self.implied_decimals is None and load.decimals:
            load = load.with_decimals(max(0, load.decimals - spare))
            text = load.digits.lstrip("0") if self._layout.pointless else load.size
        return replace(load, overload=True) if len(text) > room else load


def _step(grams: Decimal) -> Decimal:
    """One in the last decimal of the indication."""
    exponent = grams.as_tuple().exponent
    return Decimal(1).scaleb(exponent if isinstance(exponent, int) else 0)

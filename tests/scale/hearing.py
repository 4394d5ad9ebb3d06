"""What a test hears from the inbox: it waits for messages, with one deadline, and keeps the scale talking meanwhile."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from station.clock import SystemClock
from station.config import ScaleSettings
from station.core.messages import Message, Reading, Tick
from station.inbox import End, Envelope, Inbox
from station.scale.link import ScaleLink
from station.simulated.pty_port import PtyPort

DEADLINE_S = 20.0
RETRY_S = 0.02
BREATH_S = 0.01


class Hearing:
    """An inbox, its clock, and all that came out of it so far."""

    def __init__(self, inbox: Inbox | None = None) -> None:
        self.clock = SystemClock()
        self.inbox = inbox or Inbox(self.clock)
        self.heard: list[Envelope] = []

    def until(self, right: Callable[[Message], bool], meanwhile: Callable[[], object] = lambda: None) -> Envelope:
        """The first message from now on that is `right`; `meanwhile` is called over and over until then."""
        return next(e for e in self.each(meanwhile) if right(e.message))

    def until_a(self, kind: type[Message], meanwhile: Callable[[], object] = lambda: None) -> Envelope:
        """The first message of this type from now on."""
        return self.until(lambda message: isinstance(message, kind), meanwhile)

    def each(self, meanwhile: Callable[[], object]) -> Iterator[Envelope]:
        """Messages as they come. Fails at the deadline and when the link dies of a bug."""
        end_s = self.clock.now().boot_s + DEADLINE_S
        while self.clock.now().boot_s < end_s:
            meanwhile()
            envelope = self.inbox.next(BREATH_S)
            if isinstance(envelope, End):
                raise AssertionError("the link died") from envelope.bug
            if not isinstance(envelope.message, Tick):
                self.heard.append(envelope)
                yield envelope
        raise AssertionError(f"nothing of the kind within {DEADLINE_S} s; heard {[e.message for e in self.heard]}")

    def loads(self) -> list[str]:
        """The loads heard so far, as text in grams."""
        return [e.message.gross.text() for e in self.heard if isinstance(e.message, Reading)]


@contextmanager
def linked(
    port: PtyPort | Path | str, hearing: Hearing, family: str = "status-commas", **settings: object
) -> Iterator[ScaleLink]:
    """A running link on this port."""
    where = str(port.path if isinstance(port, PtyPort) else port)
    chosen = ScaleSettings(where, family, **settings)  # type: ignore[arg-type]
    with ScaleLink(chosen, hearing.inbox, hearing.clock, retry_s=RETRY_S) as link:
        yield link

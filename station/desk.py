"""Desk: searches and checks of the scale begun from the page, one at a time, while the station lets go of its port."""

from __future__ import annotations

import queue
import threading
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date

from station.config import ScaleSettings
from station.errors import Refused, StationError
from station.phone.scale_desk import Asks, CheckView, ErrandView, PortChoice
from station.ports import TimeSource
from station.scale.checking import course
from station.scale.checks import Checks, KeptCheck, kept
from station.scale.finding.find import find
from station.scale.finding.outcome import NotFound
from station.scale.finding.ports import listed_ports
from station.scale.finding.profiles import Profiles
from station.scale.link import ScaleLink
from station.scale.reasons import misnamed
from station.scale.watching import run_course
from station.texts import t

_PATIENCE_S = 600.0
_LINES = 60


class GivenUp(Exception):
    """The person left the errand."""


@dataclass(frozen=True, slots=True)
class Tools:
    """What errands work with. `in_hand` tells whether a cast is at the bench."""

    settings: ScaleSettings
    link: ScaleLink
    clock: TimeSource
    profiles: Profiles
    checks: Checks
    in_hand: Callable[[], bool]
    temperature_c: Callable[[], float | None]


class Desk:
    """Implements `phone.scale_desk.ScaleDesk`. Owns the errand and its thread."""

    def __init__(self, tools: Tools) -> None:
        self._tools = tools
        self._lock = threading.Lock()
        self._view: ErrandView | None = None
        self._answers: queue.Queue[str | None] = queue.Queue()
        self._leaving = threading.Event()
        self._thread: threading.Thread | None = None

    def in_use(self) -> str:
        """The scale that the station reads, in a line."""
        try:
            settings = self._tools.profiles.in_force(self._tools.settings)
        except StationError as none:
            return none.sentence()
        return t(
            "{family} on {port}, {baud} baud, {character}",
            family=settings.family,
            port=settings.port,
            baud=settings.baud,
            character=settings.character,
        )

    def ports(self) -> tuple[PortChoice, ...]:
        """The serial ports of the station."""
        return tuple(PortChoice(port.name, port.words, port.note) for port in listed_ports())

    def errand(self) -> ErrandView | None:
        """The errand under way or the last one."""
        with self._lock:
            return self._view

    def find(self, port: str) -> None:
        """Begin a search. Raises Refused while a cast is in hand, another errand runs, or `port` is none."""
        if wrong := misnamed(port):
            raise Refused(wrong)
        self._begin(t("Finding the scale on {port}", port=port), lambda: self._find(port))

    def check(self) -> None:
        """Begin a scale check. Raises Refused like `find`, and while no scale is set up."""
        settings = self._tools.profiles.in_force(self._tools.settings)
        self._begin(t("Checking the scale"), lambda: self._check(settings))

    def answer(self, text: str) -> None:
        """Answer the open question."""
        with self._lock:
            if self._view is None or self._view.asks is Asks.NOTHING:
                raise Refused(t("No question is open."), t("It may have been answered on another phone."))
            answers = {"yes": t("yes"), "no": t("no")} if self._view.asks is Asks.YES_NO else {}
            said = (f"{self._view.question} {answers.get(text, text)}",)
            self._view = replace(self._view, told=(self._view.told + said)[-_LINES:], question="", asks=Asks.NOTHING)
        self._answers.put(text)

    def leave(self) -> None:
        """Give the errand up."""
        self._leaving.set()
        self._answers.put(None)

    def close(self) -> None:
        """Give up and wait for the thread; for the end of the station."""
        self.leave()
        if self._thread is not None:
            self._thread.join()

    def checks(self) -> tuple[CheckView, ...]:
        """All checks, the newest first."""
        return tuple(_view(check) for check in self._tools.checks.all())

    # The person, as searches and checks know one.

    def told(self, words: str) -> None:
        """A line for the page. Raises GivenUp."""
        self.stays()
        with self._lock:
            if self._view is not None:
                self._view = replace(self._view, told=(*self._view.told, words)[-_LINES:])

    def stays(self) -> None:
        """Raises GivenUp once the person has left."""
        if self._leaving.is_set():
            raise GivenUp

    def confirms(self, question: str) -> bool | None:
        """Yes, no, or None when nobody answers in ten minutes. Raises GivenUp."""
        answer = self._asked(question, Asks.YES_NO)
        return None if answer is None else answer.strip().lower() in ("yes", "y")

    def reads(self, question: str) -> str | None:
        """The text typed. Raises GivenUp."""
        return self._asked(question, Asks.TEXT)

    def _asked(self, question: str, asks: Asks) -> str | None:
        self.stays()
        with self._lock:
            if self._view is not None:
                self._view = replace(self._view, question=question, asks=asks)
        try:
            answer = self._answers.get(timeout=_PATIENCE_S)
        except queue.Empty:
            return None
        if answer is None:
            raise GivenUp
        return answer

    def _begin(self, title: str, errand: Callable[[], tuple[bool, str]]) -> None:
        if self._tools.in_hand():
            raise Refused(t("A cast is in hand, and its scale is not touched."), t("Finish or give up the cast first."))
        with self._lock:
            if self._view is not None and self._view.good is None:
                raise Refused(
                    t("Another errand runs: {view}.", view=self._view.title), t("Finish it or give it up first.")
                )
            self._view = ErrandView(title, ())
        self._answers = queue.Queue()
        self._leaving = threading.Event()
        self._thread = threading.Thread(target=self._run, args=(errand,), name="errand")
        self._thread.start()

    def _run(self, errand: Callable[[], tuple[bool, str]]) -> None:
        try:
            with self._tools.link.lent():
                good, outcome = errand()
        except GivenUp:
            good, outcome = False, t("Given up.")
        except StationError as error:
            good, outcome = False, error.sentence()
        with self._lock:
            if self._view is not None:
                self._view = replace(self._view, question="", asks=Asks.NOTHING, good=good, outcome=outcome)

    def _find(self, port: str) -> tuple[bool, str]:
        found = find(port, self, self._tools.clock, self._tools.profiles)
        if isinstance(found, NotFound):
            return False, "\n".join((t("No scale was found."), found.saw, t("Likeliest causes:"), *found.causes))
        where = t(
            "Found: {family} at {baud} baud, {character}, {delivery}, in {unit}.",
            family=found.family,
            baud=found.baud,
            character=found.character,
            delivery=t(found.delivery.value),
            unit=found.unit,
        )
        return True, "\n".join((where, *found.sure))

    def _check(self, settings: ScaleSettings) -> tuple[bool, str]:
        on: date = self._tools.clock.now().wall.date()
        result = run_course(settings, self, self._tools.clock, course(settings.card, on))
        self._tools.checks.append(kept(result, settings.port, self._tools.temperature_c()))
        reasons = [reason.words for reason in result.reasons]
        return result.verdict != "not fit", "\n".join(
            (t("Verdict: {verdict}.", verdict=t(result.verdict)), *reasons, result.note)
        )


def _view(check: KeptCheck) -> CheckView:
    return CheckView(
        on=check.on,
        due=check.due,
        verdict=check.verdict,
        reasons=check.reasons,
        scale=check.scale,
        temperature_c=check.temperature_c,
        repeatability_g=check.promise.repeatability_g,
        error_g=check.error_g,
        drift_g_per_h=check.drift_g_per_h,
    )

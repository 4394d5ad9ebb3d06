"""Stock: what is left in a container, whether it is still good, and which one goes next."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from station.errors import Refused
from station.texts import N_, number, t, tn

WET_AFTER_D = 30.0
"""An opened isocyanate is looked at for moisture after this many days. Common practice, no source."""
NEARLY_EMPTY_G = 50.0
SOON_D = 14


@dataclass(frozen=True, slots=True)
class Container:
    """One container of one component. `left_g` None: nobody knows; `opened_life_d`: days it keeps once opened."""

    component: str
    number: str
    left_g: float | None = None
    opened: date | None = None
    best_before: date | None = None
    isocyanate: bool = False
    opened_life_d: float | None = None

    @property
    def good_until(self) -> date | None:
        """The earlier of its date and of what it keeps once opened; None when neither is known."""
        opened = None
        if self.opened is not None and self.opened_life_d is not None:
            # A life beyond the calendar's end is one without end.
            keeps = min(self.opened_life_d, (date.max - self.opened).days)
            opened = self.opened + timedelta(days=keeps)
        return min((day for day in (self.best_before, opened) if day is not None), default=None)


def left_g(gross_g: float, empty_g: float) -> float:
    """What is in a container: gross − empty. Raises Refused when it weighs less than empty."""
    if not (math.isfinite(gross_g) and 0 <= empty_g <= gross_g):
        raise Refused(
            t(
                "A container of {empty_g} g cannot weigh {gross_g} g with something in it.",
                empty_g=number(empty_g),
                gross_g=number(gross_g),
            ),
            t("Weigh it again, with its lid as when it was empty."),
        )
    return gross_g - empty_g


def known_to_g(readability_g: float) -> float:
    """How far gross − empty can be off by rounding alone: each reading by half a step, so both by one step at most.

    Raises Refused for a step that no scale has.
    """
    if not (math.isfinite(readability_g) and readability_g > 0):
        raise Refused(
            t("A scale does not read in steps of {readability_g} g.", readability_g=number(readability_g)),
            t("Type the step of its last digit."),
        )
    return readability_g


def warnings(container: Container, today: date | None, need_g: float | None = None) -> tuple[str, ...]:
    """What is wrong with a container today, as sentences; dates are not judged while the clock is not trusted."""
    who = t("{component}, lot {lot}", component=container.component, lot=container.number)
    said = []
    if today is not None:
        said += _of_dates(container, today, who)
    if container.left_g is not None:
        if need_g is not None and container.left_g < need_g:
            said.append(
                t(
                    "{who}: {left_g} g are left and {need_g} g are needed.",
                    who=who,
                    left_g=number(container.left_g, ".1f"),
                    need_g=number(need_g, ".1f"),
                )
            )
        elif container.left_g < NEARLY_EMPTY_G:
            said.append(t("{who}: nearly empty, {left_g} g are left.", who=who, left_g=number(container.left_g, ".1f")))
    elif need_g is not None:
        said.append(t("{who}: nobody knows how much is left. Weigh the container.", who=who))
    return tuple(said)


def _of_dates(container: Container, today: date, who: str) -> list[str]:
    said = []
    until = container.good_until
    if until is not None and until < today:
        past = (
            N_("{who}: past its date since {until}. Try it in a small cup before a mold hangs on it.")
            if until == container.best_before
            else N_(
                "{who}: past what it keeps once opened since {until}. Try it in a small cup before a mold hangs on it."
            )
        )
        said.append(t(past, who=who, until=until.isoformat()))
    elif until is not None and (until - today).days <= SOON_D:
        said.append(t("{who}: good until {until}, use it first.", who=who, until=until.isoformat()))
    if container.isocyanate and container.opened is not None and (today - container.opened).days > WET_AFTER_D:
        said.append(
            tn(
                "{who}: opened {n} day ago. An isocyanate takes up moisture: do not use it when it is "
                "cloudy or has a skin, and do not move or open a bulging can.",
                "{who}: opened {n} days ago. An isocyanate takes up moisture: do not use it when it is "
                "cloudy or has a skin, and do not move or open a bulging can.",
                (today - container.opened).days,
                who=who,
            )
        )
    return said


def next_to_use(containers: Iterable[Container], today: date | None, need_g: float | None = None) -> Container | None:
    """The container to take next: of those still good the one that ends first, opened before unopened, the least first.

    Those known to hold too little are passed over while another good one holds enough: two lots are never mixed
    silently. One past its date comes after every good one, an empty one last of all. None without any container.
    """

    def order(one: Container) -> tuple[bool, bool, bool, date, bool, float, str]:
        until = one.good_until or date.max
        past = today is not None and until < today
        little = need_g is not None and one.left_g is not None and one.left_g < need_g
        left = float("inf") if one.left_g is None else one.left_g
        return (left <= 0, past, little, until, one.opened is None, left, one.number)

    return min(containers, key=order, default=None)

"""What a mold has been through: how many shots it took, when release agent is due on it, and whether it is retired."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum
from typing import assert_never

from station.core.material import Mold
from station.core.mold_events import MoldRetired, MoldReturned, ReleaseApplied
from station.texts import N_, t, tn

MoldEvent = ReleaseApplied | MoldRetired | MoldReturned


@dataclass(frozen=True, slots=True)
class MoldCare:
    """A mold by its key: `shots` poured into it, and `since` the last release agent.

    `since` is None as long as none is on record. `retired` says why it is cast in no more; empty: it is in use.
    """

    key: str
    shots: int = 0
    since: int | None = None
    retired: str = ""


class Release(Enum):
    """How a mold stands with its release agent. The value is its name in words."""

    NOT_ASKED = N_("its sheet does not say how often")
    ENOUGH = N_("not yet due")
    DUE = N_("due")
    OVERDUE = N_("overdue")
    UNKNOWN = N_("none on record")

    @property
    def wanted(self) -> bool:
        """Whether it is to be put on before the next cast."""
        return self in (Release.DUE, Release.OVERDUE, Release.UNKNOWN)


def care_of(molds: Iterable[MoldCare], key: str) -> MoldCare:
    """What is known of the mold with this key; one that nothing was ever poured into has had no shot."""
    return next((one for one in molds if one.key == key), MoldCare(key))


def poured(molds: tuple[MoldCare, ...], key: str) -> tuple[MoldCare, ...]:
    """After one more shot into the mold with this key."""
    care = care_of(molds, key)
    since = None if care.since is None else care.since + 1
    return _with(molds, replace(care, shots=care.shots + 1, since=since))


def care_after(molds: tuple[MoldCare, ...], event: MoldEvent) -> tuple[MoldCare, ...]:
    """After one of the events of molds."""
    care = care_of(molds, event.mold)
    match event:
        case ReleaseApplied():
            return _with(molds, replace(care, since=0))
        case MoldRetired(reason=reason):
            return _with(molds, replace(care, retired=reason))
        case MoldReturned():
            return _with(molds, replace(care, retired=""))
        case _:
            assert_never(event)


def _with(molds: tuple[MoldCare, ...], care: MoldCare) -> tuple[MoldCare, ...]:
    return (*(other for other in molds if other.key != care.key), care)


def release_of(care: MoldCare, every: int | None) -> Release:
    """How it stands when release agent is put on before each of `every` shots; None: the sheet does not say."""
    if every is None:
        return Release.NOT_ASKED
    if care.since is None:
        return Release.UNKNOWN
    if care.since < every:
        return Release.ENOUGH
    return Release.DUE if care.since == every else Release.OVERDUE


def release_words(care: MoldCare, every: int | None) -> str:
    """The same as a sentence with its numbers; empty when the sheet asks for none and none is on record."""
    if care.since is None:
        return "" if every is None else t("No release agent is on record for it. {rule}", rule=_rule(every))
    since = tn("{n} shot since release agent was put on.", "{n} shots since release agent was put on.", care.since)
    if every is None:
        return since
    head = {Release.DUE: t("Release agent is due:"), Release.OVERDUE: t("Release agent is overdue:")}
    return " ".join(filter(None, (head.get(release_of(care, every), ""), since, _rule(every))))


def _rule(every: int) -> str:
    return tn("It is to be put on before each shot.", "It is to be put on every {n} shots.", every)


def release_due(mold: Mold, molds: Iterable[MoldCare]) -> str:
    """What is to be done before a cast in this mold, as a sentence; empty when release agent is not due."""
    care = care_of(molds, mold.key)
    if not release_of(care, mold.release_every).wanted:
        return ""
    said = release_words(care, mold.release_every)
    return t("{said} Put it on and say so at the mold, under Molds.", said=said)


def retired_words(mold: Mold, molds: Iterable[MoldCare]) -> str:
    """Why nothing is to be cast in this mold, and what to do; empty while it is in use."""
    why = care_of(molds, mold.key).retired
    if not why:
        return ""
    return t(
        "The mold “{mold}” is retired: {why} Choose another one, or take it into use again under Molds.",
        mold=mold.title,
        why=_ended(why),
    )


def _ended(words: str) -> str:
    return words if words.endswith((".", "!", "?")) else f"{words}."

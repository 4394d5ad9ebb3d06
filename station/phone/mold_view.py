"""A mold as its page shows it: how its casts came out, its release agent, and whether it is retired, in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final, Protocol

from station.core.material import Mold
from station.core.mold_care import MoldCare, Release, release_of, release_words
from station.core.mold_words import mold_words
from station.insight.wear import Wear
from station.phone.words import day_text
from station.texts import t

NEWEST: Final = 60
"""So many shots of a mold are looked at for its wear: older ones say little of how it is now."""

Pairs = tuple[tuple[str, str], ...]
"""Labels and values."""


@dataclass(frozen=True, slots=True)
class MoldCasts:
    """`casts` were begun in a mold, `out` came out of it, `failed` were lost or given up.

    `last` is when the newest, `last_number`, was begun (UTC; `sure` of that). `judged`: how many parts were good,
    usable and scrap.
    """

    casts: int
    out: int
    failed: int
    last_number: int
    last: datetime
    sure: bool
    judged: tuple[int, int, int] = (0, 0, 0)


class MoldBook(Protocol):
    """What the record says of molds, by their keys; called from many threads at once."""

    def casts(self) -> Mapping[str, MoldCasts]:
        """What became of the casts in each mold. Raises Fault when the record cannot be read."""
        ...

    def care(self, key: str, /) -> MoldCare:
        """Its shots, its release agent, and whether it is retired."""
        ...

    def wear(self, key: str, /) -> Wear:
        """How its newest shots came out, one after the other. Raises Fault when the record cannot be read."""
        ...


@dataclass(frozen=True, slots=True)
class MoldView:
    """One mold. `release` is a sentence, empty when nothing is to be said of it; `wanted`: before the next cast.

    `retired` is the reason, empty while it is in use. `changeable`: its sheet was entered on this page.
    """

    key: str
    title: str
    facts: Pairs
    shots: int
    release: str
    wanted: bool
    retired: str
    past: Pairs
    changeable: bool


def mold_view(mold: Mold, care: MoldCare, past: MoldCasts | None, changeable: bool) -> MoldView:
    """The mold of this sheet with what the record says of it."""
    return MoldView(
        key=mold.key,
        title=mold.title,
        facts=mold_words(mold),
        shots=care.shots,
        release=release_words(care, mold.release_every),
        wanted=release_of(care, mold.release_every).wanted and not care.retired,
        retired=care.retired,
        past=past_words(past),
        changeable=changeable,
    )


def molds_wire(molds: Sequence[Mold], book: MoldBook) -> list[dict[str, object]]:
    """The same for programs: what /api/molds answers with."""
    found: list[dict[str, object]] = []
    for mold in molds:
        care = book.care(mold.key)
        release: Release = release_of(care, mold.release_every)
        found.append(
            {
                "key": mold.key,
                "title": mold.title,
                "shots": care.shots,
                "since_release": care.since,
                "release_every": mold.release_every,
                "release": {"name": release.name, "words": t(release.value)},
                "retired": care.retired,
            }
        )
    return found


def past_words(past: MoldCasts | None) -> Pairs:
    """How the casts in a mold came out, as labels and values."""
    if past is None:
        return ((t("Casts made"), t("none yet")),)
    ended = past.out + past.failed
    share = (
        t("{out} of {ended}, {out2} %", out=past.out, ended=ended, out2=f"{100 * past.out / ended:.0f}")
        if ended
        else t("none has ended yet")
    )
    day = day_text(past.last) if past.sure else t("{day} (clock not set)", day=day_text(past.last))
    good, usable, scrap = past.judged
    verdicts = t("{good} good, {usable} usable, {scrap} scrap", good=good, usable=usable, scrap=scrap)
    return (
        (t("Casts made"), str(past.casts)),
        (t("Came out of the mold"), share),
        (t("Parts judged"), verdicts if any(past.judged) else t("none yet")),
        (t("Last cast"), t("{last_number}, begun {day}", last_number=past.last_number, day=day)),
    )

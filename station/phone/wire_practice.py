"""A practice with water as plain values: what to pour now, the column, and what came of each pour so far."""

from __future__ import annotations

from statistics import fmean

from station.core.mass import Mass
from station.core.practice_state import Practice
from station.core.snapshot import ScaleState, Snapshot
from station.phone.wire_column import column
from station.phone.wire_values import Json
from station.phone.words import mass_text
from station.texts import number, t

LATELY = 3


def practice(seen: Snapshot) -> Json | None:
    """The practice that runs, or whose pours are all done; None while nobody practises."""
    now = seen.practice
    if now is None:
        return None
    live = seen.scale.state is ScaleState.LIVE
    shown = None if now.over else seen.practice_column
    return {
        "title": _title(now),
        "words": "" if now.over else _words(now),
        "over": now.over,
        "column": None if shown is None else column(shown, now.card.readability, live),
        "pours": [
            {"place": place, "net": net, "off": off, "verdict": verdict} for place, net, off, verdict in misses(now)
        ],
        "poured": bool(now.done),
        "progress": progress(now),
    }


def _title(now: Practice) -> str:
    if now.over:
        return t("Those were all the pours.")
    return t(
        "Pour {number} of {times}: {target} of water",
        number=len(now.done) + 1,
        times=now.times,
        target=now.target.text(now.card.readability),
    )


def _words(now: Practice) -> str:
    if now.level is None:
        return t("Put an empty cup on the scale.")
    return t("Listen: ticks that come quicker ask for a thinner stream, one long tone is the stop.")


def misses(now: Practice) -> list[tuple[int, str, str, str]]:
    """Each pour: its number, what was poured, how far off, and that in a word."""
    d = now.card.readability
    return [
        (
            n,
            net.text(d),
            _signed(net - now.target, d),
            t("too much") if net > now.high else t("in the band"),
        )
        for n, net in enumerate(now.done, 1)
    ]


def progress(now: Practice) -> str:
    """How far the first pours were off and how far the latest are; empty while there are too few."""
    off = [abs((net - now.target).g) for net in now.done]
    if len(off) < 2 * LATELY - 1:
        return ""
    return t(
        "Off by {first} g at first, by {lately} g lately.",
        first=number(fmean(off[:2]), ".2g"),
        lately=number(fmean(off[-LATELY:]), ".2g"),
    )


def _signed(off: Mass, d: Mass) -> str:
    return ("+" if off.mg > 0 else "") + mass_text(off, d)

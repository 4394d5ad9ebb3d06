"""Pan: the passing state of the bench, what the scale has shown lately and what that suggests.

Nothing here survives a restart, and nothing here needs to: whatever matters is an event in the journal.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from station.core.contact import Rise
from station.core.cues import Cue
from station.core.guidance.learned import Learned
from station.core.guidance.pour import Pour
from station.core.mass import Mass
from station.core.messages import Reading, Trouble
from station.core.moment import Moment
from station.core.practice_state import Practice
from station.core.rest import Window, heard
from station.texts import N_

STALE_S = 1.5
"""Older than this a reading is stale: shown grey, never captured."""

BLANK_S = 5.0
"""Older than this it is not shown at all."""

TRACE_POINTS = 240


@dataclass(frozen=True, slots=True)
class Link:
    """The connection to the scale: `lost` is a sentence while there is none."""

    lost: str | None = N_("The scale has not been opened yet.")
    trouble: Trouble | None = None
    frames: int = 0


@dataclass(frozen=True, slots=True)
class Pan:
    """What the pan suggests now.

    `proven`: the cup on it is the one that the step needs. `emptied`: the pan was seen empty since the
    step began. `used`: a cup that was poured out stands on it still, also from the cast before. `lifted`
    is when the cup left, `peak` the highest load at rest before that. `grew` is a cup that came back
    heavier, waiting for a press. `rests` counts readings at rest in a row, `over_since` when the net came
    to rest above its window, `poured_until_s` when the load last rose. `zero` is what the empty pan showed
    at a free bench. `pour` is the weighing as guidance sees it, `known` what it goes by; `practice` runs while
    the bench is free.
    """

    link: Link = Link()
    window: Window = ()
    at: Moment | None = None
    proven: bool = False
    emptied: bool = False
    used: bool = False
    lifted: Moment | None = None
    peak: Mass | None = None
    grew: Mass | None = None
    rise: Rise | None = None
    rests: int = 0
    over_since_s: float | None = None
    low_since: Moment | None = None
    poured_until_s: float | None = None
    crest_mg: int | None = None
    said: frozenset[Cue] = frozenset()
    asked_early_s: float | None = None
    complaint: str = ""
    zero: Mass | None = None
    trace: tuple[tuple[float, int], ...] = ()
    trace_every: int = 1
    trace_count: int = 0
    pour: Pour = field(default_factory=Pour)
    known: Learned | None = None
    practice: Practice | None = None

    @property
    def gross(self) -> Mass | None:
        """The newest load, None when there is none."""
        return Mass(self.window[-1].mg) if self.window else None


def fresh(pan: Pan, *, same_cup: bool) -> Pan:
    """The pan at the start of a step: what the scale shows is kept, all suspicion dropped.

    `same_cup`: the cup that the step needs is the one proven to stand there already.
    """
    return Pan(link=pan.link, window=pan.window, at=pan.at, proven=pan.proven and same_cup, used=pan.used)


def with_reading(pan: Pan, reading: Reading, now: Moment, flicker: int) -> Pan:
    """The pan after one more reading."""
    window = heard(pan.window, now.boot_s, reading.gross, reading.stability)
    mg = reading.gross.mg
    rose = pan.crest_mg is None or mg > pan.crest_mg + flicker
    poured_until = now.boot_s if rose and pan.crest_mg is not None else pan.poured_until_s
    pan = replace(
        pan,
        link=Link(None, None, pan.link.frames + 1),
        window=window,
        at=now,
        crest_mg=mg if rose or pan.crest_mg is None else pan.crest_mg,
        poured_until_s=poured_until,
    )
    return _traced(pan, now.boot_s, mg)


def _traced(pan: Pan, at_s: float, mg: int) -> Pan:
    """Keep every n-th point; when there are too many, every second of them and from then on half as often."""
    count = pan.trace_count + 1
    if count % pan.trace_every:
        return replace(pan, trace_count=count)
    trace, every = (*pan.trace, (at_s, mg)), pan.trace_every
    if len(trace) > TRACE_POINTS:
        trace, every = trace[::2], every * 2
    return replace(pan, trace=trace, trace_every=every, trace_count=count)


def is_live(pan: Pan, now: Moment) -> bool:
    """Whether the newest reading may be acted on: the scale is there, says a load, and said it just now."""
    if pan.link.lost is not None or pan.link.trouble is not None or pan.at is None or not pan.window:
        return False
    return pan.at.boot_id == now.boot_id and 0 <= now.boot_s - pan.at.boot_s <= STALE_S


def forgotten(pan: Pan) -> Pan:
    """The pan after the scale went away or spoke of trouble: nothing on it is proven any more."""
    gone = replace(pan, window=(), at=None, proven=False, rests=0, over_since_s=None, rise=None, low_since=None)
    return replace(gone, zero=None, pour=Pour())

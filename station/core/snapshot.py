"""Snapshot: what readers may see of the bench. Frozen, numbered, derived; no reader meets a live object."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import Enum

from station.core.clocks import AlarmState, ClockKind
from station.core.cues import Cue, Urgency
from station.core.lead import Lead
from station.core.mass import Mass
from station.core.moment import Moment
from station.core.pouring_events import PourLearned
from station.core.practice_state import Practice
from station.core.steps import Step
from station.core.time_view import TimeView
from station.texts import N_


class ScaleState(Enum):
    """How far the number on the pan can be believed."""

    LIVE = N_("live")
    STALE = N_("stale")
    BLANK = N_("blank")
    TROUBLE = N_("trouble")
    LOST = N_("lost")


@dataclass(frozen=True, slots=True)
class ScaleView:
    """`gross` is None unless LIVE or STALE. `age_s` is the reading's age; `words` says what is wrong."""

    state: ScaleState
    gross: Mass | None
    age_s: float | None
    at_rest: bool
    words: str
    readability: Mass
    frames: int


class StepState(Enum):
    """Where a step of the strip stands."""

    DONE = N_("done")
    NOW = N_("now")
    AHEAD = N_("ahead")


@dataclass(frozen=True, slots=True)
class StepView:
    """One field of the step strip: a short label and, for a weighing, its result or target in words."""

    label: str
    detail: str
    state: StepState
    step: Step | None = None
    """The step itself; None for what follows at another place than the bench."""


class Fill(Enum):
    """Where the column stands against its band."""

    UNDER = N_("keep pouring")
    NEAR = N_("slowly")
    IN_BAND = N_("stop: in the band")
    OVER = N_("too much")


@dataclass(frozen=True, slots=True)
class ColumnView:
    """A weighing: the column fills toward the band `low`…`high` around `target`. `net` None: not known now.

    `lead` and the `pace` (0 to 1) are None while no pour is led.
    """

    ingredient: str
    cup: str
    target: Mass
    low: Mass
    high: Mass
    net: Mass | None
    fill: Fill
    settling: bool
    rule: str
    lead: Lead | None = None
    pace: float | None = None


@dataclass(frozen=True, slots=True)
class DialView:
    """A clock as a dial that fills: `fraction` of `length_s` gone by (0…1), `left_s` negative when past due.

    `due` is the wall time (UTC) at which it falls due, None when that cannot be said. `unknown_gap`: a
    power cut of unknown length lies inside, so the true value may differ.
    """

    kind: ClockKind
    fraction: float
    left_s: float
    length_s: float
    running: bool
    alarm: AlarmState
    due: datetime | None
    unknown_gap: bool


@dataclass(frozen=True, slots=True)
class BenchView:
    """The cast at the bench: strip, what to do now (`title` short, `words` a sentence), column, dials."""

    number: int
    material: str
    mold: str
    total: Mass
    way: str
    way_reason: str
    strip: tuple[StepView, ...]
    title: str
    words: str
    column: ColumnView | None
    dials: tuple[DialView, ...]
    paused: bool
    press_means: str
    cautions: tuple[str, ...]
    items: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ReadyView:
    """When a cast may leave its mold. `age_s` of `length_s` seconds at `reference_c` have counted, at the slowest.

    `surely_s` seconds from now the bell rings, at the wall time `surely` (UTC, None: cannot be said); `soonest` is
    when it may be ready at the fastest, None where slow and fast are the same or nothing is known.
    """

    age_s: float
    length_s: float
    reference_c: float
    celsius: float | None
    surely_s: float
    surely: datetime | None
    soonest_s: float | None
    soonest: datetime | None


@dataclass(frozen=True, slots=True)
class CuringView:
    """A cast that cures: its dials, whether the part is out of the mold, and when to take it out.

    `ready` is None once it is out.
    """

    number: int
    material: str
    mold: str
    dials: tuple[DialView, ...]
    demolded: bool
    demold_due: datetime | None
    words: str
    ready: ReadyView | None = None


@dataclass(frozen=True, slots=True)
class AlarmView:
    """An alarm that sounds now, most urgent first."""

    number: int
    clock: ClockKind
    since_s: float | None
    urgency: Urgency
    words: str


@dataclass(frozen=True, slots=True)
class CueView:
    """The last cue: `count` rises by one with each, so that a page notices a repeated one."""

    cue: Cue
    words: str
    count: int


class BannerKind(Enum):
    """What a banner is about."""

    SCALE = N_("scale")
    RECORD = N_("record")
    TIME = N_("time")
    SIGNALS = N_("signals")
    SAFE_MODE = N_("safe mode")
    BENCHES = N_("other benches")
    PUSH = N_("messages")


@dataclass(frozen=True, slots=True)
class Banner:
    """Something wrong that stays on the page as long as it lasts. `ask`: what a person may do about it, if anything."""

    kind: BannerKind
    words: str
    ask: str = ""


@dataclass(frozen=True, slots=True)
class QueuedView:
    """A plan that waits for the bench."""

    ticket: int
    material: str
    mold: str
    total: Mass


@dataclass(frozen=True, slots=True)
class PartView:
    """The part that a free bench asks for. `mass` is what lies at rest on the pan, `takes`: a press takes that."""

    number: int
    mold: str
    mass: Mass | None
    words: str
    takes: bool


@dataclass(frozen=True, slots=True)
class WaitingView:
    """A part of which something is still to be said; `words` tell what."""

    number: int
    material: str
    mold: str
    words: str


@dataclass(frozen=True, slots=True)
class Snapshot:
    """Everything a page or the terminal shows of the present. `queue`: what waits for the bench, the next first.

    `part` is asked for at a free bench; `unjudged` are to be called to mind.
    """

    seq: int
    at: Moment
    scale: ScaleView
    bench: BenchView | None
    curing: tuple[CuringView, ...]
    alarms: tuple[AlarmView, ...]
    last_cue: CueView | None
    banners: tuple[Banner, ...]
    unsaved: int
    time: TimeView | None = None
    queue: tuple[QueuedView, ...] = ()
    practice: Practice | None = None
    practice_column: ColumnView | None = None
    pours: tuple[PourLearned, ...] = ()
    """What led pours taught, the newest last."""
    part: PartView | None = None
    unjudged: tuple[WaitingView, ...] = ()

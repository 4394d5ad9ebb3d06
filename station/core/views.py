"""Views: the snapshot as a pure function of the bench and the moment. Numbers and words; no drawing."""

from __future__ import annotations

from station.core.alarms import alarm_words, clock_urgency, since_raised_s, sounding
from station.core.banner_views import bench_banners, time_banners
from station.core.bench import Bench
from station.core.clocks import AlarmState, Clock, ClockKind
from station.core.drive import counts_words, rate_of
from station.core.guiding import NEAR_PART
from station.core.leading import lead_now, pace_now
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.messages import Trouble
from station.core.moment import Moment
from station.core.pan import BLANK_S, STALE_S, Pan
from station.core.part_view import part_view, waiting_views
from station.core.practice_view import practice_column
from station.core.readiness import ready_view
from station.core.rest import at_rest
from station.core.snapshot import (
    AlarmView,
    Banner,
    BenchView,
    ColumnView,
    CuringView,
    DialView,
    Fill,
    QueuedView,
    ScaleState,
    ScaleView,
    Snapshot,
    StepState,
    StepView,
)
from station.core.standing import Cast, Standing
from station.core.steps import Combine, ReadyCheck, Step, Weigh
from station.core.time_view import time_view
from station.core.timing import age_s, due_wall, left_s, runs
from station.core.wording import detail, label, press_means, title, what_to_do
from station.texts import N_, t

TROUBLES = {
    Trouble.OVERLOAD: N_("The scale shows overload. Take something off."),
    Trouble.UNDERLOAD: N_("The scale shows underload. Let it show zero with an empty pan."),
    Trouble.ERROR: N_("The scale reports an error. See its display."),
}


def snapshot(bench: Bench, now: Moment, seq: int, card: ScaleCard, notes: tuple[Banner, ...] = ()) -> Snapshot:
    """Everything a reader may see at `now`; `notes` are lasting banners of the shell (no GPIO, …)."""
    standing = bench.standing
    scale = scale_view(bench.pan, now, card)
    cast = standing.bench
    time = time_view(standing, now)
    return Snapshot(
        seq=seq,
        at=now,
        scale=scale,
        bench=None if cast is None else _bench_view(standing, cast, bench.pan, scale, now),
        curing=tuple(_curing(standing, other, now) for other in standing.casts if not other.at_bench),
        alarms=_alarms(standing, now),
        last_cue=bench.last_cue,
        banners=(*bench_banners(bench, scale), *time_banners(time, now), *notes),
        unsaved=bench.unsaved,
        time=time,
        queue=tuple(
            QueuedView(one.ticket, one.plan.material.title, one.plan.mold.title, one.plan.total)
            for one in standing.queue
        ),
        practice=bench.pan.practice,
        practice_column=practice_column(standing, bench.pan, now),
        pours=standing.pours,
        part=part_view(standing, bench.pan, now),
        unjudged=waiting_views(standing, now),
    )


def scale_view(pan: Pan, now: Moment, card: ScaleCard) -> ScaleView:
    """How far the number can be believed: live, then stale, then blank; a stale one is never captured."""
    age = None
    if pan.at is not None and pan.at.boot_id == now.boot_id:
        age = max(0.0, now.boot_s - pan.at.boot_s)
    rest = at_rest(pan.window, card) is not None
    gross: Mass | None = pan.gross
    if pan.link.lost is not None:
        state, gross, words = ScaleState.LOST, None, t(pan.link.lost)
    elif pan.link.trouble is not None and age is not None and age <= BLANK_S:
        state, gross, words = ScaleState.TROUBLE, None, t(TROUBLES[pan.link.trouble])
    elif gross is None or age is None or age > BLANK_S:
        state, gross, words = ScaleState.BLANK, None, t("The scale is silent. Is it switched on and set to send?")
    elif age > STALE_S:
        state, words = ScaleState.STALE, t("The scale has just gone silent.")
    else:
        state, words = ScaleState.LIVE, ""
    at_rest_now = rest and state is ScaleState.LIVE
    return ScaleView(state, gross, age, at_rest_now, words, card.readability, pan.link.frames)


def _bench_view(standing: Standing, cast: Cast, pan: Pan, scale: ScaleView, now: Moment) -> BenchView:
    step, plan = cast.step, cast.plan
    column = _column(standing, cast, pan, scale, now)
    return BenchView(
        number=cast.number,
        material=plan.material.title,
        mold=plan.mold.title,
        total=plan.total,
        way=t(plan.way.value),
        way_reason=plan.way_reason,
        strip=_strip(cast),
        title=t("Paused") if cast.paused else title(cast, pan),
        words=what_to_do(cast, pan, column, scale),
        column=column,
        dials=_dials(standing, cast, now),
        paused=cast.paused,
        press_means=t("go on") if cast.paused else press_means(step, pan),
        cautions=(*plan.material.cautions, *plan.mold.cautions),
        items=step.items if isinstance(step, ReadyCheck) else (),
        notes=(*plan.warnings, *plan.notes),
    )


def _strip(cast: Cast) -> tuple[StepView, ...]:
    def state(index: int) -> StepState:
        if index < cast.position:
            return StepState.DONE
        return StepState.NOW if index == cast.position else StepState.AHEAD

    steps = [StepView(label(s), detail(cast, i, s), state(i), s) for i, s in enumerate(cast.steps)]
    demold = StepState.DONE if cast.demolded else StepState.AHEAD
    return (*steps, StepView(t("Demold"), "", demold))


def _column(standing: Standing, cast: Cast, pan: Pan, scale: ScaleView, now: Moment) -> ColumnView | None:
    step: Step = cast.step
    if not isinstance(step, Weigh | Combine):
        return None
    cup = cast.cup(step.cup)
    net = None
    if cup is not None and pan.proven and scale.gross is not None:
        net = scale.gross - cup.level
    name = step.ingredient if isinstance(step, Weigh) else t("{source} into {cup}", source=step.source, cup=step.cup)
    settling = net is not None and step.low <= net <= step.high
    lead = lead_now(standing, pan, now)
    pace = pace_now(standing, pan, now)
    fill = _fill(net, step)
    return ColumnView(name, step.cup, step.target, step.low, step.high, net, fill, settling, step.rule, lead, pace)


def _fill(net: Mass | None, step: Weigh | Combine) -> Fill:
    if net is None or net.mg < NEAR_PART * step.target.mg:
        return Fill.UNDER
    if net < step.low:
        return Fill.NEAR
    return Fill.IN_BAND if net <= step.high else Fill.OVER


def _dials(standing: Standing, cast: Cast, now: Moment) -> tuple[DialView, ...]:
    kinds = list(ClockKind)
    clocks = sorted((clock for clock in cast.clocks if runs(clock)), key=lambda clock: kinds.index(clock.kind))
    rate = rate_of(standing, cast)
    return tuple(_dial(clock, now, rate) for clock in clocks if _worth_a_dial(cast, clock))


def _worth_a_dial(cast: Cast, clock: Clock) -> bool:
    """Cure counts from the pour; until then its provisional clock would only distract."""
    return cast.poured is not None or clock.kind not in (ClockKind.DEMOLD, ClockKind.FULL_CURE)


def _dial(clock: Clock, now: Moment, rate: float) -> DialView:
    left = left_s(clock, now, rate)
    # Of a cure the dial shows equivalent age, so that it never runs back when the workshop cools.
    fraction = 1.0 if clock.length_s <= 0 else age_s(clock, now, rate) / clock.length_s
    known = now.trusted and not (clock.unknown_gap and clock.state is not AlarmState.WAITING)
    return DialView(
        kind=clock.kind,
        fraction=min(1.0, max(0.0, fraction)),
        left_s=left,
        length_s=clock.length_s,
        running=clock.state is AlarmState.WAITING,
        alarm=clock.state,
        due=due_wall(clock, now, rate) if known else None,
        unknown_gap=clock.unknown_gap,
    )


def _curing(standing: Standing, cast: Cast, now: Moment) -> CuringView:
    dials = _dials(standing, cast, now)
    demold = next((dial for dial in dials if dial.kind is ClockKind.DEMOLD), None)
    if cast.demolded:
        words = t("Out of the mold; full cure runs.")
    elif demold is None:
        words = ""
    elif demold.left_s > 0:
        words = t("Leave it closed.")
    else:
        words = t("Ready to demold.")
    waits = cast.demolded or (demold is not None and demold.left_s > 0)
    if waits and any(dial.running for dial in dials):
        words += counts_words(cast.plan.material, standing.temperature_c)
    if any(dial.unknown_gap for dial in dials):
        words += t(" The station was off for an unknown time, which counts as nothing: it may be ready sooner.")
    due = None if demold is None or cast.demolded else demold.due
    plan = cast.plan
    clock = cast.clock(ClockKind.DEMOLD)
    ready = None if clock is None or cast.demolded or cast.poured is None else ready_view(standing, cast, clock, now)
    title, mold = plan.material.title, plan.mold.title
    return CuringView(cast.number, title, mold, dials, cast.demolded, due, words.strip(), ready)


def _alarms(standing: Standing, now: Moment) -> tuple[AlarmView, ...]:
    return tuple(
        AlarmView(
            cast.number,
            clock.kind,
            since_raised_s(clock, now),
            clock_urgency(clock, now),
            alarm_words(cast, clock),
        )
        for cast, clock in sounding(standing)
    )

"""How late alarms are with a thousand armed clocks: 10,000 in simulated time, 100 on the machine's own clock.

    python -m tests.benchmarks.alarm_lateness [--short]

500 casts cure, each with two clocks. Simulated: the loop itself, with a ledger in memory, over a clock that leaps to
where the loop would wait to and moves on by the processor time of each turn; an alarm's lateness is what its own event
says. Real: a service as a process of its own with such a record and a scale that sends ten lines a second; from the
time at which a clock is due until the buzzer's driver is told, each alarm answered at once. The floors: a turn with one
cast, and how late a bare sleep ends on this machine.
"""

from __future__ import annotations

import random
import tempfile
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from station.board import Board
from station.clock import SystemClock
from station.core import events as ev
from station.core.clocks import ClockKind
from station.core.messages import Acknowledge, Tick
from station.inbox import Envelope, Inbox
from station.loop import Loop
from station.store.ledger import SqlLedger
from station.testing import MemoryLedger, RecordingSignals, ScriptedClock
from tests.benchmarks.curing import curing
from tests.benchmarks.rig import Rig, at
from tests.benchmarks.table import Figure, told
from tests.play import CARD

CASTS, APART_S, PROMISED_S = 500, 0.3, 1.0
STARTS_WITHIN_S, GRACE_S = 60.0, 5.0


def spread(found: list[float]) -> str:
    return f"p50 {at(found, 0.5) * 1000:.1f}, p99 {at(found, 0.99) * 1000:.1f}, max {found[-1] * 1000:.0f} ms"


def simulated(casts: int, seed: int) -> tuple[list[float], list[float]]:
    """Lateness of each alarm, and processor seconds of each turn, until all these casts may come out."""
    chance, clock = random.Random(seed), ScriptedClock(boot_s=5000.0)
    ledger = MemoryLedger(curing(casts, replace(clock.now(), boot_s=clock.now().boot_s + 5.0), APART_S))
    loop = Loop(
        clock=clock,
        ledger=ledger,
        signals=RecordingSignals(),
        inbox=Inbox(clock),
        board=Board(),
        card=CARD,
        version="benchmark",
    )
    loop.start()
    late, turns, read = [], [], len(ledger.written)
    while len(late) < casts:
        # Now and then something else comes first.
        clock.advance(loop._patience_s() * chance.choice((1.0, 1.0, chance.random())))
        turns.append(_turn(loop, clock, Envelope(Tick(), clock.now())))
        for entry in ledger.written[read:]:
            if isinstance(entry.event, ev.AlarmRaised):
                assert entry.event.late_s is not None
                late.append(entry.event.late_s)
                answer = Acknowledge(entry.event.number, ClockKind.DEMOLD, "benchmark")
                turns.append(_turn(loop, clock, Envelope(answer, clock.now())))
        read = len(ledger.written)
    return late, turns


def _turn(loop: Loop, clock: ScriptedClock, envelope: Envelope) -> float:
    began = time.thread_time()
    loop.handle(envelope)
    took = time.thread_time() - began
    clock.advance(took)
    return took


def real(folder: Path, casts: int, alarms: int) -> list[float]:
    """Seconds from due times to the buzzer's driver; alarms that fall due while another still sounds are one."""
    now = SystemClock().now()
    with SqlLedger(folder / "state") as ledger:
        due = replace(now, boot_s=now.boot_s + STARTS_WITHIN_S)
        ledger.write(curing(casts, due, APART_S))
    late: list[float] = []
    with Rig(folder) as rig:
        while SystemClock().now().boot_s < due.boot_s + alarms * APART_S + GRACE_S:
            rig.stand(0.0, 1)
            if told := [cue["took_s"] for cue in rig.cues if cue["cue"] == "ALARM"]:
                late += told
                rig.cues.clear()
                rig.order("answer_all")
    return sorted(late)


def measured(short: bool) -> Iterator[Figure]:
    casts, rounds, alarms = (100, 1, 20) if short else (CASTS, 20, 100)
    _, single = simulated(1, 0)
    late, turns = [], []
    for seed in range(rounds):
        more, work = simulated(casts, seed)
        late += more
        turns += work
    turns.sort()
    late.sort()
    yield Figure(
        f"a turn of the loop with {2 * casts} armed clocks, simulated",
        f"p50 {at(turns, 0.5) * 1000:.1f}, p99 {at(turns, 0.99) * 1000:.1f} ms of processor time",
        f"× {at(turns, 0.5) / at(sorted(single), 0.5):.0f} one cast",
    )
    kept = late[-1] <= PROMISED_S
    yield Figure(f"{len(late)} simulated alarms: how late", spread(late), "", f"≤ {PROMISED_S:g} s", kept)
    slept = []
    for _ in range(50):
        began = time.perf_counter()
        time.sleep(0.05)
        slept.append(time.perf_counter() - began - 0.05)
    with tempfile.TemporaryDirectory(dir="/var/tmp") as folder:
        found = real(Path(folder), casts, alarms)
    yield Figure(
        f"{len(found)} sounds of {alarms} real alarms with {2 * casts} armed clocks: due to the buzzer's driver",
        spread(found),
        f"p50 {at(found, 0.5) / at(sorted(slept), 0.5):.0f} bare sleeps' lateness",
        f"≤ {PROMISED_S:g} s",
        found[-1] <= PROMISED_S,
    )


if __name__ == "__main__":
    told(measured)

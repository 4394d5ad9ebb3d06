"""Messages of a whole station: an alarm arrives, and a target that hangs delays neither the bell nor the closing."""

from __future__ import annotations

import threading
import urllib.request
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from station.config import PushSettings
from station.core.clocks import ClockKind
from station.core.matters import USUAL, Occasion
from station.core.messages import Press, Pressed
from station.push.kept import Choices, keep_choices, read_sent
from station.push.outbox import Stage
from tests.push.targets import Target
from tests.system.whole import WITHIN_S, Whole

WORDS = "Cast 1: the pot life is over. Do not pour what has begun to gel."


def wait_for(holds: Callable[[], object]) -> None:
    for _ in range(int(WITHIN_S / 0.02)):
        if holds():
            return
        threading.Event().wait(0.02)
    raise AssertionError("never happened")


def to_the_pot_life(whole: Whole) -> None:
    """A cast up to first contact, and on until its pot life is over."""
    whole.ask(whole.station.library.plan("example-silicone", "paddle-grip", "220 g", {"A": "WW-SA-0117"}, "test"))
    whole.stand(24.3)
    now = whole.pour(24.3, 200.0, 40)
    whole.ask(Pressed(Press.SHORT, "pedal"))
    whole.pour(now, 20.0, 5)
    whole.clock.advance(3 * 3600)
    whole.stand(now + 20.0, 0.3)


def buzzes(whole: Whole) -> int:
    return sum(1 for state in whole.pins.pin(17).states if state.state)


def test_an_alarm_arrives_while_another_target_hangs_and_neither_bell_nor_closing_waits(tmp_path: Path) -> None:
    keep_choices(tmp_path, Choices(occasions=USUAL | {Occasion.POT_LIFE}))
    with Target(200, slowly=True).open() as hangs, Target(200).open() as target:
        whole = Whole(tmp_path)
        whole.settings = replace(whole.settings, push=PushSettings((hangs.url, target.url)))
        with whole:
            to_the_pot_life(whole)
            assert ClockKind.POT_LIFE in [alarm.clock for alarm in whole.seen.alarms]
            wait_for(lambda: hangs.heard and target.heard)
            assert WORDS in [one["message"] for one in target.heard]
            before = buzzes(whole)
            wait_for(lambda: buzzes(whole) >= before + 2)  # the bell goes on while the target hangs
            with urllib.request.urlopen(f"{whole.station.url}push", timeout=WITHIN_S) as page:
                shown = page.read().decode()
            assert "Messages that wait: " in shown
            assert target.url not in shown
            assert [line for line in children() if "station.push.child" in line]
        # Leaving the block joined the station's thread: it has closed while the target still hangs.
        assert "push" not in [thread.name for thread in threading.enumerate()]
        assert not [line for line in children() if "station.push.child" in line]
        assert {one.stage for one in read_sent(tmp_path).done} == {Stage.SENT}


def children() -> list[str]:
    """The command lines of this process's children."""
    numbers = " ".join(_told(task / "children") for task in Path("/proc/self/task").iterdir()).split()
    return [_told(Path("/proc") / number / "cmdline") for number in numbers]


def _told(file: Path) -> str:
    """What the kernel says in a file; nothing for a thread or child that has ended by now."""
    try:
        return file.read_text()
    except (FileNotFoundError, ProcessLookupError):
        return ""


def test_an_alarm_that_still_sounds_after_a_restart_goes_only_to_an_address_that_is_new(tmp_path: Path) -> None:
    keep_choices(tmp_path, Choices(occasions=USUAL | {Occasion.POT_LIFE}))
    with Target(200).open() as target, Target(200).open() as new:
        first = Whole(tmp_path)
        first.settings = replace(first.settings, push=PushSettings((target.url,)))
        with first:
            to_the_pot_life(first)
            told = {alarm.words for alarm in first.seen.alarms}
            wait_for(lambda: len(read_sent(tmp_path).done) == len(told))
        first.clock.advance(60)
        again = Whole(tmp_path, first.clock)
        again.settings = replace(again.settings, push=PushSettings((target.url, new.url)))
        with again:
            wait_for(lambda: len(read_sent(tmp_path).done) == 2 * len(told))
        assert [len(one.heard) for one in (target, new)] == [len(told), len(told)]
        assert {one["message"] for one in new.heard} == told

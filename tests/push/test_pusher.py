"""The pusher against targets on loopback: what arrives, how often, when not, and that nothing waits for a target."""

from __future__ import annotations

import logging
import select
from concurrent.futures import Future
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

import pytest

from station.core.matters import Matter, Occasion
from station.core.quiet import QuietHours
from station.errors import Refused
from station.push.attempt import LIMIT_S
from station.push.chooser import Chooser
from station.push.kept import SENT
from station.push.outbox import GAPS_S, Stage
from station.push.pusher import TEST_WORDS, TESTS_WAITING, Pusher, Source
from station.push.signs import PATIENCE_S, Sign
from station.push.verdict import Kind, Verdict
from station.testing import ScriptedClock
from tests.push.targets import Target, hanging, refusing

DEMOLD = Matter("cast 12 demold boot-1 5.000", Occasion.DEMOLD, "Cast 12: ready to demold.")
WITHIN_S = 60.0


@dataclass
class Desk:
    """A pusher whose turns a test takes by hand, on a clock that it moves."""

    folder: Path
    clock: ScriptedClock = field(default_factory=ScriptedClock)
    alarms: tuple[Matter, ...] = ()
    signs: dict[Sign, str] = field(default_factory=dict)
    noted: list[str] = field(default_factory=lambda: [""])

    def __post_init__(self) -> None:
        self.chooser = Chooser(self.folder, ())
        self.pusher = self.made()

    def made(self) -> Pusher:
        return Pusher(
            chooser=self.chooser,
            source=Source(lambda: self.alarms, lambda: self.signs),
            clock=self.clock,
            title="Wrenfield Works",
            folder=self.folder,
            note=self.noted.append,
        )

    def settle(self) -> None:
        """Turns until no attempt is under way."""
        self.pusher.turn()
        while self.pusher._flights:
            numbers = [flight.attempt.fileno() for flight in self.pusher._flights]
            assert select.select([n for n in numbers if n is not None], [], [], WITHIN_S)[0], "no answer"
            self.pusher.turn()

    def stages(self) -> list[Stage]:
        return [letter.stage for letter in self.pusher.letters]


def _always(folder: Path, kind: Kind) -> str:
    """A sending process that is quick and always comes to the same verdict."""
    program = folder / "python"
    program.write_text(f"#!/bin/sh\ncat >/dev/null\necho '[\"{kind.name}\", null]'\n")
    program.chmod(0o755)
    return str(program)


@pytest.fixture
def desk(tmp_path: Path):
    made = Desk(tmp_path)
    yield made
    made.pusher.close()


def test_an_alarm_arrives_once_with_its_words_also_over_a_restart(desk: Desk) -> None:
    with Target(200).open() as target:
        desk.chooser.add(target.url)
        desk.alarms = (DEMOLD,)
        desk.settle()
        desk.settle()
        desk.pusher = desk.made()
        desk.settle()
        assert [one["message"] for one in target.heard] == ["Cast 12: ready to demold."]
        assert desk.stages() == [Stage.SENT]
        desk.alarms = (Matter("cast 12 demold boot-2 7.000", Occasion.DEMOLD, "Again."),)
        desk.settle()
        assert target.heard[-1]["message"] == "Again."


def test_after_an_error_it_is_tried_again_at_the_next_gap_and_how_it_fared_is_kept(desk: Desk) -> None:
    with Target(500, 200).open() as target:
        address = desk.chooser.add(target.url)
        desk.alarms = (DEMOLD,)
        desk.settle()
        fared = desk.pusher.said.fared[address.key]
        assert (fared.good, fared.why) == (None, Verdict(Kind.ANSWERED, 500).words)
        desk.clock.advance(GAPS_S[0] - 1)
        desk.settle()
        assert len(target.heard) == 1
        desk.clock.advance(1)
        desk.settle()
        assert len(target.heard) == 2
        assert desk.stages() == [Stage.SENT]
        assert desk.made().said.fared[address.key].good == desk.clock.now().wall


def test_what_is_given_up_is_said_and_taken_back_once_something_gets_through(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    with refusing() as url, monkeypatch.context() as patched:
        patched.setattr("sys.executable", _always(desk.folder, Kind.NOT_REACHED))
        address = desk.chooser.add(url)
        desk.alarms = (DEMOLD,)
        desk.settle()
        for gap in GAPS_S:
            assert desk.noted[-1] == ""
            desk.clock.advance(gap)
            desk.settle()
    assert desk.stages() == [Stage.GIVEN_UP]
    assert desk.noted[-1] == ("No message got through: nobody away from the bench was told “Cast 12: ready to demold.”")
    said = len(desk.noted)
    desk.pusher = desk.made()
    desk.settle()
    assert desk.stages() == [Stage.GIVEN_UP]
    assert len(desk.noted) == said
    with Target(200).open() as target:
        desk.chooser.remove(address.key)
        desk.pusher.test(desk.chooser.add(target.url))
        desk.settle()
    assert desk.noted[-1] == ""


def test_an_alarm_that_is_acknowledged_while_nothing_gets_through_is_withdrawn_and_that_is_said(desk: Desk) -> None:
    with refusing() as url:
        desk.chooser.add(url)
        desk.alarms = (DEMOLD,)
        desk.settle()
        desk.alarms = ()
        desk.clock.advance(GAPS_S[0])
        desk.settle()
    assert desk.pusher.letters == ()
    assert desk.noted[-1].startswith("No message got through")


def test_quiet_hours_hold_messages_until_their_end_and_not_what_is_over_by_then(tmp_path: Path) -> None:
    desk = Desk(tmp_path, ScriptedClock(datetime(2026, 3, 2, 12, 0, tzinfo=UTC)))
    here = desk.clock.now().wall.astimezone()
    minute = here.hour * 60 + here.minute
    other = Matter("cast 13 demold boot-1 6.000", Occasion.DEMOLD, "Cast 13: ready to demold.")
    with Target(200).open() as target:
        desk.chooser.add(target.url)
        desk.chooser.be_quiet(QuietHours(minute, (minute + 60) % 1440))
        desk.alarms = (DEMOLD, other)
        desk.settle()
        assert target.heard == []
        assert desk.stages() == [Stage.WAITING, Stage.WAITING]
        desk.alarms = (other,)
        desk.clock.advance(3600)
        desk.settle()
        assert [one["message"] for one in target.heard] == ["Cast 13: ready to demold."]


def test_a_fault_of_the_station_arrives_when_it_has_lasted_and_once_over_a_restart(desk: Desk) -> None:
    with Target(200).open() as target:
        desk.chooser.add(target.url)
        desk.signs = {Sign.NOT_WRITTEN: "The record is not written: 3 entries wait in memory."}
        desk.settle()
        assert target.heard == []
        desk.clock.advance(PATIENCE_S[Sign.NOT_WRITTEN])
        desk.settle()
        assert len(target.heard) == 1
        desk.signs, kept = {}, desk.signs
        desk.pusher = desk.made()
        desk.settle()
        desk.signs = kept
        desk.settle()
        assert len(target.heard) == 1


def test_a_target_that_hangs_or_answers_drop_by_drop_is_ended_at_the_limit_and_keeps_no_other_waiting(
    desk: Desk,
) -> None:
    with Target(200, slowly=True).open() as slow, Target(200).open() as target:
        desk.chooser.add(slow.url)
        desk.chooser.add(target.url)
        desk.alarms = (DEMOLD,)
        desk.pusher.turn()
        flights = list(desk.pusher._flights)
        while len(desk.pusher._flights) == 2:
            number = flights[1].attempt.fileno()
            assert number is not None
            assert select.select([number], [], [], WITHIN_S)[0]
            desk.pusher.turn()
        assert [one["message"] for one in target.heard] == ["Cast 12: ready to demold."]
        assert desk.stages() == [Stage.UNDER_WAY, Stage.SENT]
        desk.clock.advance(LIMIT_S)
        desk.pusher.turn()
        assert desk.stages() == [Stage.WAITING, Stage.SENT]
        assert desk.pusher.said.fared[flights[0].to.key].why == Kind.LATE.value
        assert flights[0].attempt._process is not None
        assert flights[0].attempt._process.returncode is not None


def test_a_test_is_sent_in_quiet_hours_too_and_its_outcome_is_told(desk: Desk) -> None:
    desk.chooser.be_quiet(QuietHours(0, 1439))
    with Target(200, 500).open() as target:
        address = desk.chooser.add(target.url)
        for verdict in (Verdict(Kind.TAKEN), Verdict(Kind.ANSWERED, 500)):
            told: Future[Verdict] = desk.pusher.test(address)
            desk.settle()
            assert told.result(0) == verdict
        assert target.heard[0]["message"] == TEST_WORDS


def test_only_so_many_tests_wait(desk: Desk) -> None:
    with refusing() as url:
        address = desk.chooser.add(url)
        for _ in range(TESTS_WAITING):
            desk.pusher.test(address)
        with pytest.raises(Refused, match="still under way"):
            desk.pusher.test(address)


def test_a_full_card_is_said_once_and_nothing_is_sent_twice_meanwhile(
    desk: Desk, caplog: pytest.LogCaptureFixture
) -> None:
    (desk.folder / f".{SENT}.new").mkdir()
    with Target(200).open() as target:
        desk.chooser.add(target.url)
        desk.alarms = (DEMOLD,)
        desk.settle()
        desk.settle()
        assert len(target.heard) == 1
    assert len([one for one in caplog.records if "not kept" in one.getMessage()]) == 1


def test_an_address_is_in_no_line_of_the_log(desk: Desk, caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level(logging.DEBUG)
    with refusing() as url:
        desk.chooser.add(url)
        desk.alarms = (DEMOLD,)
        desk.settle()
    assert "NOT_REACHED" in caplog.text
    assert "Zq81xY" not in caplog.text
    assert "127.0.0.1" not in caplog.text


def test_the_thread_sends_by_itself_and_ends_at_once_while_a_target_hangs(tmp_path: Path) -> None:
    desk = Desk(tmp_path)
    with hanging() as url, Target(200).open() as target:
        stuck = desk.chooser.add(url)
        with desk.pusher:
            told = desk.pusher.test(stuck)
            desk.alarms = (DEMOLD,)
            arrived = desk.pusher.test(desk.chooser.add(target.url))
            assert arrived.result(WITHIN_S).good
            hung = [flight.attempt for flight in desk.pusher._flights if flight.to.key == stuck.key]
        assert not desk.pusher._thread.is_alive()
        assert told.result(0).kind in (Kind.BROKEN, Kind.SILENT)
        for attempt in hung:
            assert attempt._process is None or attempt._process.returncode is not None
        desk.chooser.remove(stuck.key)  # rings a bell that is gone

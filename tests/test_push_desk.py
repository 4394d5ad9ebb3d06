"""The desk of the messages: what the page may do with it, with the real sending process, and what it never tells."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest

from station.config import PushSettings
from station.core.matters import USUAL, Occasion
from station.core.moment import Moment
from station.core.quiet import QuietHours
from station.core.standing import Standing
from station.errors import Fault, Refused
from station.push.kept import read_choices
from station.push_desk import PushDesk, PushTools
from station.store.backup.contents import Belongings
from station.store.backup.due import none_for_a_week
from station.store.backup.label import Label
from station.testing import ScriptedClock
from tests.phone.shown import QUIET
from tests.push.targets import Target, refusing

NOW = ScriptedClock().now()


@pytest.fixture
def desk(tmp_path: Path) -> PushDesk:
    return PushDesk(PushSettings(("json://10.0.0.7/fixed",)), tmp_path, ScriptedClock())


def tools(notes: list[str], **changed: Any) -> PushTools:
    scribe = SimpleNamespace(health=lambda: SimpleNamespace(damage=""), end_row=lambda: 7)
    made = PushTools(
        scribe=cast("Any", scribe),
        shelf=cast("Any", SimpleNamespace(all=tuple)),
        archive=cast("Any", SimpleNamespace(count=lambda: 0)),
        standing=Standing,
        seen=lambda: QUIET,
        title="Wrenfield Works",
        note=notes.append,
    )
    return replace(made, **changed)


@pytest.fixture
def sending(desk: PushDesk) -> Iterator[PushDesk]:
    with desk.sending(tools([])):
        yield desk


def test_an_address_that_is_understood_is_added_and_one_that_is_not_is_refused(
    desk: PushDesk, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO)
    desk.add("json://10.0.0.7:8080/Zq81xY", "page (phone 1)")
    assert [line.label for line in desk.view().addresses] == ["json://…xed", "json://…1xY"]
    assert [address.url for address in read_choices(tmp_path).addresses] == ["json://10.0.0.7:8080/Zq81xY"]
    for url, why in (
        ("json://10.0.0.7:8080/Zq81xY", "Messages go to that address already."),
        ("json://10.0.0.7/fixed", "Messages go to that address already."),
        ("unknown://10.0.0.7/Zq81xY", "The address is not understood"),
        ("nonsense", "That is no address"),
    ):
        with pytest.raises(Refused, match=why) as told:
            desk.add(url, "page (phone 1)")
        assert "Zq81xY" not in told.value.sentence()
    assert len(desk.view().addresses) == 2
    assert "Zq81xY" not in caplog.text


def test_an_address_of_the_settings_stays_and_another_is_removed(desk: PushDesk) -> None:
    desk.add("json://10.0.0.7:8080/Zq81xY", "test")
    fixed, own = desk.view().addresses
    with pytest.raises(Refused, match="stands in the settings file"):
        desk.remove(fixed.key, "test")
    desk.remove(own.key, "test")
    with pytest.raises(Refused, match="not in use any more"):
        desk.remove(own.key, "test")
    assert [line.fixed for line in desk.view().addresses] == [True]


def test_what_is_chosen_is_kept_over_a_restart(desk: PushDesk, tmp_path: Path) -> None:
    assert desk.view().occasions == USUAL
    desk.choose(frozenset({Occasion.FULL_CURE}), "test")
    desk.be_quiet(QuietHours(1320, 390), "test")
    again = PushDesk(PushSettings(), tmp_path, ScriptedClock()).view()
    assert (again.occasions, again.quiet) == (frozenset({Occasion.FULL_CURE}), QuietHours(1320, 390))


def test_it_is_quiet_by_the_clock_on_the_wall_while_that_is_trusted(tmp_path: Path) -> None:
    clock = ScriptedClock()
    desk = PushDesk(PushSettings(), tmp_path, clock)
    here = clock.now().wall.astimezone()
    minute = here.hour * 60 + here.minute
    assert not desk.quiet()
    desk.be_quiet(QuietHours(minute, (minute + 10) % 1440), "test")
    assert desk.quiet()
    assert desk.view().quiet_now
    clock.trust(False)
    assert not desk.quiet()


def test_a_test_message_tells_what_came_of_it(sending: PushDesk) -> None:
    with Target(200).open() as target, refusing() as deaf:
        sending.add(target.url, "test")
        sending.add(deaf, "test")
        _, good, bad = sending.view().addresses
        told = sending.test(good.key, "test")
        assert (told.good, told.words) == (True, "json://…1xY took the test message. Is it on your phone?")
        told = sending.test(bad.key, "test")
        assert (told.good, told.words) == (False, "json://…1xY failed. It could not be reached.")
        _, good, bad = sending.view().addresses
        assert (good.good, bad.good) == (NOW.wall, None)
        assert bad.why == "It could not be reached."


def test_without_its_thread_no_test_is_sent(desk: PushDesk) -> None:
    with pytest.raises(Fault, match="No message is sent just now"):
        desk.test(desk.view().addresses[0].key, "test")


def test_no_address_gets_into_a_backup(desk: PushDesk, tmp_path: Path) -> None:
    desk.add("json://10.0.0.7:8080/Zq81xY", "test")
    settings = tmp_path / "etc" / "station.toml"
    settings.parent.mkdir()
    settings.write_text('[push]\naddresses = ["json://10.0.0.7/Zq81xY"]\n')
    files = Belongings(tmp_path, (settings,)).small_files()
    assert set(files) == {"settings/station.toml"}
    assert b"Zq81xY" not in files["settings/station.toml"]


def label(days_ago: float, rows: int, sure: bool = True) -> Label:
    return cast("Label", SimpleNamespace(made=NOW.wall - timedelta(days=days_ago), rows=rows, sure=sure))


@pytest.mark.parametrize(
    ("newest", "first", "says"),
    [
        (label(6.9, 5), None, ""),
        (label(7.1, 5), None, "No backup was made for 7 days."),
        (label(30, 7), None, ""),
        (label(30, 5, sure=False), None, ""),
        (None, None, ""),
        (None, NOW.wall - timedelta(days=9), "No backup was made for 9 days."),
        (None, NOW.wall - timedelta(days=2), ""),
    ],
)
def test_a_backup_is_missed_after_a_week_in_which_something_was_written(
    newest: Label | None, first: datetime | None, says: str
) -> None:
    said = none_for_a_week(newest, 7, first, NOW)
    assert said.startswith(says)
    assert bool(said) is bool(says)
    assert none_for_a_week(newest, 7, first, Moment(9.0, "boot-1", datetime(2030, 1, 1, tzinfo=UTC), False)) == ""

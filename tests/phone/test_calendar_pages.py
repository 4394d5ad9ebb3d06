"""The calendar at its addresses: who may see what, with a clock that is trusted and with one that is not."""

from __future__ import annotations

import re
import stat
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import timedelta
from pathlib import Path

import icalendar
import pytest

from station.almanac.kept import FILE
from station.calendar_desk import CalendarDesk
from station.core.standing import Standing
from station.testing import ScriptedClock
from tests.almanac.casts import cures
from tests.phone.shown import QUIET, Station, Visitor, opened_station


@dataclass
class Bench:
    """A standing that a test changes, and its clock."""

    folder: Path
    clock: ScriptedClock = field(default_factory=ScriptedClock)
    standing: Standing = field(default_factory=Standing)

    def desk(self) -> CalendarDesk:
        return CalendarDesk(self.folder, self.clock, lambda: self.standing, "Wrenfield Works (invented)")


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    made = Bench(tmp_path)
    now = made.clock.now()
    made.standing = Standing(casts=(cures(11, now), cures(12, now, mold="boot footbed", hours=2)))
    return made


@pytest.fixture
def station(bench: Bench) -> Iterator[Station]:
    with opened_station(calendar=bench.desk()) as opened:
        opened.post(QUIET)
        yield opened


@pytest.fixture
def visitor(station: Station) -> Visitor:
    return station.paired("phone 1")


def address(visitor: Visitor) -> str:
    found = re.search(r'href="http://localhost(/calendar/[^"]+\.ics)"', visitor.look("/calendar"))
    assert found is not None
    return found[1]


def events(text: str) -> dict[str, icalendar.Event]:
    return {str(event["summary"]): event for event in icalendar.Calendar.from_ical(text).walk("VEVENT")}


def test_only_a_paired_device_sees_the_secret_address(station: Station, visitor: Visitor, bench: Bench) -> None:
    stranger = Visitor(station.client())
    assert ".ics" not in stranger.look("/calendar")
    secret = address(visitor)
    assert len(secret) > 40
    assert stat.S_IMODE((bench.folder / FILE).stat().st_mode) == 0o600


def test_whoever_has_the_address_reads_all_casts_without_pairing(station: Station, visitor: Visitor) -> None:
    answer = station.client().get(address(visitor))
    assert answer.mimetype == "text/calendar"
    assert set(events(answer.get_data(as_text=True))) == {
        f"Cast {cast}: {what}"
        for cast in ("11, kayak seat pad, left", "12, boot footbed")
        for what in ("take it out of the mold", "fully cured")
    }


@pytest.mark.parametrize("guess", ["/calendar/x.ics", "/calendar/%C3%A4.ics", "/calendar/.ics"])
def test_any_other_address_leads_nowhere_also_before_there_is_one(station: Station, guess: str) -> None:
    assert station.client().get(guess).status_code == 404


def test_a_new_address_ends_the_old_one_and_lasts_over_a_restart(
    station: Station, visitor: Visitor, bench: Bench
) -> None:
    old = address(visitor)
    assert visitor.send("/calendar/renew").status_code == 303
    new = address(visitor)
    assert station.client().get(old).status_code == 404
    assert station.client().get(new).status_code == 200
    assert bench.desk().feed(new.removeprefix("/calendar/").removesuffix(".ics")) is not None


def test_who_has_not_paired_cannot_change_the_address(station: Station) -> None:
    visitor = Visitor(station.client())
    visitor.look("/calendar")
    assert visitor.send("/calendar/renew").status_code == 403


def test_one_cast_has_its_own_file_and_its_page_leads_there(station: Station) -> None:
    page = Visitor(station.client()).look("/log/12")
    assert 'href="/log/12/demold.ics"' in page
    answer = station.client().get("/log/12/demold.ics")
    assert len(events(answer.get_data(as_text=True))) == 2
    assert "demold.ics" not in Visitor(station.client()).look("/log/5")


def test_a_cast_that_does_not_cure_is_told_so(station: Station) -> None:
    answer = station.client().get("/log/5/demold.ics")
    assert answer.status_code == 409
    assert "Cast 5 does not cure, so it has no dates." in answer.get_data(as_text=True)


def test_without_a_trusted_clock_there_are_no_dates_and_a_sentence_says_why(
    station: Station, visitor: Visitor, bench: Bench
) -> None:
    feed = address(visitor)
    bench.clock.trust(False)
    for place in (feed, "/log/12/demold.ics"):
        answer = station.client().get(place)
        assert answer.status_code == 503
        assert "The station does not know the time, so there are no dates." in answer.get_data(as_text=True)
    assert "The station does not know the time" in visitor.look("/calendar")


def test_the_sequence_grows_as_the_forecast_moves_also_over_a_restart(visitor: Visitor, bench: Bench) -> None:
    title = "Cast 12, boot footbed: take it out of the mold"

    def seen(desk: CalendarDesk) -> icalendar.Event:
        return events(desk.cast(12))[title]

    first = seen(bench.desk())
    bench.clock.advance(60)
    assert seen(bench.desk())["sequence"] == first["sequence"] == 0
    bench.standing = replace(bench.standing, temperature_c=16.0)
    second = seen(bench.desk())
    assert (second["uid"], second["sequence"]) == (first["uid"], 1)
    assert second.decoded("dtstart") - first.decoded("dtstart") > timedelta(minutes=10)


def test_a_full_card_still_gives_dates(bench: Bench) -> None:
    (bench.folder / f".{FILE}.new").mkdir()
    assert len(events(bench.desk().cast(12))) == 2


def test_a_spoilt_file_begins_anew(bench: Bench) -> None:
    (bench.folder / FILE).write_text("{")
    assert len(events(bench.desk().cast(12))) == 2
    assert bench.desk().secret()

"""The page of the messages: what it shows, what it takes, what it refuses, and that it never shows an address."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime

import pytest

from station.core.matters import USUAL, Occasion
from station.core.quiet import QuietHours
from station.core.snapshot import Banner, BannerKind
from station.errors import Refused
from station.phone.push_view import AddressLine, PushView, Tried
from tests.phone.shown import QUIET, Station, Visitor, opened_station
from tests.phone.test_pages import plain

WHEN = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
LINE = AddressLine("ab12", "json://…1xY", good=WHEN, waiting=2)

SEEN = PushView((LINE,), USUAL, None, False, True)
TAKEN = Tried(True, "json://…1xY took the test message.")


@dataclass
class SmallPush:
    """A `phone.push_view.PushDesk` in memory."""

    seen: PushView = SEEN
    refuses: Refused | None = None
    said: Tried = TAKEN
    calls: list[tuple[object, ...]] = field(default_factory=list)

    def view(self) -> PushView:
        return self.seen

    def add(self, url: str, by: str) -> None:
        self._act("add", url, by)

    def remove(self, key: str, by: str) -> None:
        self._act("remove", key, by)

    def test(self, key: str, by: str) -> Tried:
        self._act("test", key, by)
        return self.said

    def choose(self, occasions: frozenset[Occasion], by: str) -> None:
        self._act("choose", occasions, by)

    def be_quiet(self, hours: QuietHours | None, by: str) -> None:
        self._act("quiet", hours, by)

    def _act(self, *call: object) -> None:
        if self.refuses is not None:
            raise self.refuses
        self.calls.append(call)


@pytest.fixture
def desk() -> SmallPush:
    return SmallPush()


@pytest.fixture
def station(desk: SmallPush) -> Iterator[Station]:
    with opened_station(push=desk) as opened:
        opened.post(QUIET)
        yield opened


@pytest.fixture
def visitor(station: Station) -> Visitor:
    return station.paired("phone 1")


def test_each_address_is_shown_with_how_it_fares(visitor: Visitor, desk: SmallPush) -> None:
    words = plain(visitor.look("/push"))
    assert "json://…1xY ✓ It last took a message on 2026-03-02" in words
    assert "Messages that wait: 2" in words
    failed = AddressLine("cd", "form://…abc", bad=WHEN, bad_sure=False, why="It did not answer in time.", given_up=1)
    desk.seen = replace(desk.seen, addresses=(failed,))
    words = plain(visitor.look("/push"))
    assert "It has taken no message yet." in words
    assert ", by a clock that was not set. It did not answer in time." in words
    assert "Given up after half an hour: 1" in words


def test_who_has_not_paired_may_look_and_finds_no_form(station: Station) -> None:
    visitor = Visitor(station.client())
    page = visitor.look("/push")
    assert "json://…1xY" in page
    assert 'action="/push/' not in page
    assert visitor.send("/push/add", address="json://h/x").status_code == 403


def test_an_address_is_added_and_one_that_is_refused_stays_in_its_field(visitor: Visitor, desk: SmallPush) -> None:
    visitor.look("/push")
    assert visitor.send("/push/add", address=" json://10.0.0.7/Zq81xY ").status_code == 303
    assert desk.calls == [("add", "json://10.0.0.7/Zq81xY", "page (phone 1)")]
    desk.refuses = Refused("That is no address.")
    answer = visitor.send("/push/add", address="jso:/10.0.0.7")
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    assert 'value="jso:/10.0.0.7"' in page
    assert 'aria-describedby="about-address wrong-address" aria-invalid="true"' in page
    assert '<p id="wrong-address" class="banner" role="alert">That is no address.</p>' in page


def test_a_test_tells_what_came_of_it(visitor: Visitor, desk: SmallPush) -> None:
    visitor.look("/push")
    assert "took the test message" in visitor.send("/push/test", key="ab12").get_data(as_text=True)
    assert desk.calls == [("test", "ab12", "page (phone 1)")]
    desk.said = Tried(False, "json://…1xY failed. It could not be reached.")
    page = visitor.send("/push/test", key="ab12").get_data(as_text=True)
    assert 'class="banner" role="alert">json://…1xY failed. It could not be reached.' in page


def test_an_address_of_the_settings_has_no_button_to_remove_it(visitor: Visitor, desk: SmallPush) -> None:
    assert 'action="/push/remove"' in visitor.look("/push")
    desk.seen = replace(desk.seen, addresses=(replace(LINE, fixed=True),))
    page = visitor.look("/push")
    assert 'action="/push/remove"' not in page
    assert "It stands in the settings file." in page
    desk.refuses = Refused("This address stands in the settings file.")
    assert visitor.send("/push/remove", key="ab12").status_code == 409


def test_occasions_are_chosen_and_none_at_all_is_a_choice(visitor: Visitor, desk: SmallPush) -> None:
    page = visitor.look("/push")
    assert page.count('name="occasion"') == len(Occasion)
    assert page.count(" checked>") == len(USUAL)
    chosen = {"token": visitor.token, "occasion": ["DEMOLD", "FULL_CURE", "NOTHING_KNOWN"]}
    visitor.client.post("/push/occasions", data=chosen, headers={"Origin": "http://localhost"})
    visitor.send("/push/occasions")
    assert [call[1] for call in desk.calls] == [frozenset({Occasion.DEMOLD, Occasion.FULL_CURE}), frozenset()]


def test_quiet_hours_are_set_and_taken_off(visitor: Visitor, desk: SmallPush) -> None:
    assert "There are none." in visitor.look("/push")
    assert visitor.send("/push/quiet", begin="22:00", end="06:30").status_code == 303
    assert visitor.send("/push/quiet", begin="22:00:00", end="7:05", off="1").status_code == 303
    assert [call[1] for call in desk.calls] == [QuietHours(22 * 60, 390), None]


@pytest.mark.parametrize(
    ("hours", "status", "says"),
    [
        (("25:00", "06:30"), 400, "&#39;25:00&#39; is no time of day"),
        (("22:00", ""), 400, "When do they end?"),
        (("22:00", "22:00"), 409, "cannot begin and end at the same time"),
    ],
)
def test_hours_that_make_no_sense_are_refused_and_stay_in_their_fields(
    visitor: Visitor, desk: SmallPush, hours: tuple[str, str], status: int, says: str
) -> None:
    begin, end = hours
    visitor.look("/push")
    desk.seen = replace(desk.seen, quiet=QuietHours(60, 120))
    answer = visitor.send("/push/quiet", begin=begin, end=end)
    page = answer.get_data(as_text=True)
    assert answer.status_code == status
    assert says in page
    assert f'name="begin" value="{begin}" required aria-invalid="true" aria-describedby="wrong-quiet"' in page
    assert "Each day from 01:00 to 02:00" in page
    assert desk.calls == []


def test_quiet_hours_that_hold_now_are_said_and_so_is_a_clock_that_lets_none_hold(
    visitor: Visitor, desk: SmallPush
) -> None:
    desk.seen = replace(desk.seen, quiet=QuietHours(1320, 390), quiet_now=True)
    assert "messages are held until 06:30 and nothing is spoken. The buzzer sounds as always." in visitor.look("/push")
    desk.seen = replace(desk.seen, quiet_now=False, time_known=False)
    assert "The station does not know the time, so nothing is held." in visitor.look("/push")


def test_a_banner_about_messages_leads_here(station: Station, visitor: Visitor) -> None:
    station.post(replace(QUIET, banners=(Banner(BannerKind.PUSH, "No message got through.", "See why"),)))
    assert 'href="/push"' in visitor.look("/")

"""Messages and calendar: only a paired device on this station's own page acts, and each such address is tried."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from station.calendar_desk import CalendarDesk
from station.core.standing import Standing
from station.testing import ScriptedClock
from tests.phone.shown import QUIET, Station, Visitor, opened_station
from tests.phone.test_push_pages import SmallPush

ACTS = {"/push/add", "/push/remove", "/push/test", "/push/occasions", "/push/quiet", "/calendar/renew"}
FORM = {"address": "json://h/x", "key": "ab12", "begin": "22:00", "end": "06:00"}
OURS = {"Origin": "http://localhost"}


@pytest.fixture
def desk() -> SmallPush:
    return SmallPush()


@pytest.fixture
def station(desk: SmallPush, tmp_path: Path) -> Iterator[Station]:
    calendar = CalendarDesk(tmp_path, ScriptedClock(), Standing, "Wrenfield Works (invented)")
    with opened_station(push=desk, calendar=calendar) as opened:
        opened.post(QUIET)
        yield opened


def test_these_are_all_addresses_that_act(station: Station) -> None:
    rules = [rule for rule in station.app.url_map.iter_rules() if rule.rule.startswith(("/push", "/calendar"))]
    assert {rule.rule for rule in rules if (rule.methods or set()) & {"POST", "PUT", "DELETE", "PATCH"}} == ACTS


@pytest.mark.parametrize("place", sorted(ACTS))
def test_each_refuses_other_sites_missing_tokens_foreign_names_and_devices_that_are_not_paired(
    station: Station, desk: SmallPush, place: str
) -> None:
    visitor = station.paired()
    form = {"token": visitor.token, **FORM}
    client = visitor.client
    assert client.post(place, data=form, headers={"Origin": "http://elsewhere.example"}).status_code == 403
    assert client.post(place, data=form).status_code == 403
    assert client.post(place, data=FORM, headers=OURS).status_code == 403
    foreign = {"Origin": "http://elsewhere.example", "Host": "elsewhere.example"}
    assert client.post(place, data=form, headers=foreign).status_code == 403
    stranger = Visitor(station.client())
    stranger.look("/push")
    assert stranger.send(place, **FORM).status_code == 403
    assert desk.calls == []
    assert client.post(place, data=form, headers=OURS).status_code in (200, 303)
    assert len(desk.calls) == (place != "/calendar/renew")

"""The page of the climate: what it shows, what it takes, what it refuses."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import pytest

from station.climate.state import Seen
from station.climate.watch import ClimateWatch
from station.config import ClimateSettings
from station.errors import Refused
from station.inbox import Inbox
from station.phone.climate_pages import climate_pages
from station.phone.climate_view import ClimateDesk
from station.testing import ScriptedClock
from tests.phone.shown import QUIET, Station, Visitor, opened_station
from tests.phone.test_pages import plain

SENSED = Seen(20.04, "from the temperature sensor", 12.0, 49.9, 12.0, "", (), "")


@dataclass
class SmallClimate:
    """A `phone.climate_view.ClimateDesk` in memory."""

    view: Seen = SENSED
    refuses: Refused | None = None
    taken: list[tuple[float, str]] = field(default_factory=list)

    def seen(self) -> Seen:
        return self.view

    def typed(self, celsius: float, by: str) -> None:
        if self.refuses is not None:
            raise self.refuses
        self.taken.append((celsius, by))


@pytest.fixture
def desk() -> SmallClimate:
    return SmallClimate()


@pytest.fixture
def station(desk: SmallClimate) -> Iterator[Station]:
    with opened_station() as opened:
        opened.app.register_blueprint(climate_pages(desk))
        opened.post(QUIET)
        yield opened


@pytest.fixture
def visitor(station: Station) -> Visitor:
    return station.paired("phone 1")


def test_temperature_and_humidity_are_shown_with_who_tells_them_and_how_old_they_are(visitor: Visitor) -> None:
    words = plain(visitor.look("/climate"))
    assert "20.0 °C from the temperature sensor, 12 s old" in words
    assert "50 % relative, 12 s old" in words
    # Dew point table of DIN 4108, from memory: 20 °C and 50 % → 9.3 °C.
    assert "Dew point 9.3 °C" in words


def test_nothing_known_is_said_plainly(visitor: Visitor, desk: SmallClimate) -> None:
    desk.view = Seen(None, "", None, None, None, "", ("There is no one-wire bus. Type the temperature.",), "")
    words = plain(visitor.look("/climate"))
    assert "Not known. Type it below." in words
    assert "No humidity sensor tells it." in words
    assert "There is no one-wire bus. Type the temperature." in words


def test_an_old_typed_temperature_says_so_and_a_waiting_one_says_when_it_counts(
    visitor: Visitor, desk: SmallClimate
) -> None:
    desk.view = replace(
        SENSED, where="typed on page (phone 1)", age_s=5 * 3600.0, old="It is more than four hours old."
    )
    words = plain(visitor.look("/climate"))
    assert "typed on page (phone 1), 5 h 00 old" in words
    assert "⚠ It is more than four hours old." in words
    desk.view = replace(SENSED, waiting="18.5 °C, typed on page (phone 1), counts when the sensor falls silent.")
    assert "counts when the sensor falls silent." in plain(visitor.look("/climate"))


def test_damp_air_is_warned_about(visitor: Visitor, desk: SmallClimate) -> None:
    assert "urethanes" not in visitor.look("/climate")
    desk.view = replace(SENSED, humidity_percent=71.0)
    assert "⚠ The air has 71 % humidity; above 60 to 65 % urethanes take up water" in plain(visitor.look("/climate"))


@pytest.mark.parametrize(
    ("text", "celsius"),
    [("21.5", 21.5), ("21,5 °C", 21.5), ("70.7 °F", 21.5), (" -3 ", -3.0), ("\N{MINUS SIGN}3 °C", -3.0)],
)
def test_a_typed_temperature_is_handed_on_with_who_typed_it(
    visitor: Visitor, desk: SmallClimate, text: str, celsius: float
) -> None:
    visitor.look("/climate")
    answer = visitor.send("/climate", temperature=text)
    assert (answer.status_code, answer.headers["Location"]) == (303, "/climate")
    assert desk.taken == [(pytest.approx(celsius), "page (phone 1)")]


@pytest.mark.parametrize("text", ["", "warm", "21 K", "2" * 21, "1e9", "nan", "<b>21</b>", "21 °C and more"])
def test_what_is_no_temperature_is_refused_beside_the_form_with_what_was_typed(
    visitor: Visitor, desk: SmallClimate, text: str
) -> None:
    visitor.look("/climate")
    answer = visitor.send("/climate", temperature=text)
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    assert 'role="alert"' in page
    assert "<b>21</b>" not in page
    assert 'http-equiv="refresh"' not in page
    assert desk.taken == []


def test_a_temperature_that_no_workshop_has_is_refused_by_the_watch_itself(station: Station) -> None:
    clock = ScriptedClock()
    watch: ClimateDesk = ClimateWatch(ClimateSettings("none", humidity=False), None, Inbox(clock), clock)
    with opened_station() as opened:
        opened.app.register_blueprint(climate_pages(watch))
        opened.post(QUIET)
        visitor = opened.paired()
        visitor.look("/climate")
        answer = visitor.send("/climate", temperature="210")
        assert answer.status_code == 409
        assert "210.0 °C is no temperature of a workshop." in plain(answer.get_data(as_text=True))
        assert visitor.send("/climate", temperature="21").status_code == 303
        assert "21.0 °C typed on page (test phone), 0 s old" in plain(visitor.look("/climate"))


def test_a_device_that_is_not_paired_may_look_and_not_type(station: Station, desk: SmallClimate) -> None:
    visitor = Visitor(station.client())
    page = visitor.look("/climate")
    assert "<form" not in page.split("Type the temperature", 1)[1].split("</section>", 1)[0]
    assert "Pair this device" in plain(page)
    assert visitor.send("/climate", temperature="21").status_code == 403
    assert desk.taken == []


def test_a_form_from_another_site_or_with_an_old_token_is_not_taken(visitor: Visitor, desk: SmallClimate) -> None:
    foreign = visitor.client.post(
        "/climate", data={"token": visitor.token, "temperature": "21"}, headers={"Origin": "http://elsewhere.example"}
    )
    stale = visitor.client.post(
        "/climate", data={"token": "old", "temperature": "21"}, headers={"Origin": "http://localhost"}
    )
    assert (foreign.status_code, stale.status_code, desk.taken) == (403, 403, [])

"""The page of the time in a real browser: set from this phone with one touch, and answered on a small screen."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest
from playwright.sync_api import expect

from station.core.messages import TellGap, TellTime
from tests.browser.conftest import DESK, PHONE, Shop
from tests.phone.test_time_pages import UNKNOWN, seen

pytestmark = pytest.mark.browser


@pytest.fixture(autouse=True)
def doubtful(shop: Shop) -> None:
    shop.station.post(replace(seen(UNKNOWN), seq=2))


@pytest.mark.parametrize("zone", ["Europe/Berlin", "America/St_Johns", "UTC"])
def test_one_touch_tells_the_station_this_phone_s_time(shop: Shop, zone: str) -> None:
    with shop.page(PHONE, "/time", paired=True, timezone_id=zone) as page:
        page.clock.install(time=datetime.fromisoformat("2026-07-05T12:00:00+00:00"))
        page.reload()
        expect(page.get_by_label("Date and time now")).to_be_hidden()
        page.get_by_role("button", name="Set from this phone").click()
        page.wait_for_url(f"{shop.url}/time")
        (told,) = [command for command in shop.station.asked.commands if isinstance(command, TellTime)]
        assert abs((told.wall - datetime.fromisoformat("2026-07-05T12:00:00+00:00")).total_seconds()) < 60
    assert shop.complaints == []


def test_the_banner_leads_to_the_question_and_an_answer_is_two_touches(shop: Shop) -> None:
    with shop.page(PHONE, "/", paired=True) as page:
        page.get_by_role("link", name="Set the time").click()
        expect(page.get_by_role("radio", name="I do not know")).to_be_checked()
        page.get_by_role("radio", name="It was off for").check()
        page.get_by_label("Time off").fill("40 min")
        page.get_by_role("button", name="Say so").click()
        page.wait_for_url(f"{shop.url}/time")
        assert [c.off_s for c in shop.station.asked.commands if isinstance(c, TellGap)] == [2400.0]
    assert shop.complaints == []


def test_without_script_the_time_is_typed(shop: Shop) -> None:
    with shop.page(PHONE, "/time", paired=True, java_script_enabled=False) as page:
        expect(page.get_by_role("button", name="Set from this phone")).to_be_hidden()
        page.get_by_label("Date and time now").fill("2026-07-05T14:00")
        page.get_by_label("Hours from UTC").fill("+02:00")
        page.get_by_role("button", name="Set this time").click()
        (told,) = [command for command in shop.station.asked.commands if isinstance(command, TellTime)]
        assert told.wall == datetime.fromisoformat("2026-07-05T12:00:00+00:00")


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_the_page_fits_the_screen(shop: Shop, size: dict[str, int]) -> None:
    with shop.page(size, "/time", paired=True) as page:
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]

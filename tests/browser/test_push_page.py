"""The pages of messages and calendar in a real browser: an address is given, tried and taken away, on a phone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from station.calendar_desk import CalendarDesk
from station.config import PushSettings
from station.core.standing import Standing
from station.phone.server import serving
from station.push_desk import PushDesk
from station.testing import ScriptedClock
from tests.almanac.casts import cures
from tests.browser.conftest import DESK, PHONE, Shop
from tests.phone.shown import QUIET, opened_station
from tests.push.targets import Target
from tests.test_push_desk import tools

pytestmark = pytest.mark.browser


@pytest.fixture
def shop(browser: Browser, tmp_path: Path) -> Iterator[Shop]:
    clock = ScriptedClock()
    desk = PushDesk(PushSettings(("jsons://wrenfield.example/hook/abcdefg",)), tmp_path, clock)
    standing = Standing(casts=(cures(12, clock.now()),))
    calendar = CalendarDesk(tmp_path, clock, lambda: standing, "Wrenfield Works (invented)")
    with opened_station(push=desk, calendar=calendar) as station, desk.sending(tools([])):
        station.post(replace(QUIET, seq=1))
        with serving(station.app, "127.0.0.1", 0, station.streams.end) as port:
            yield Shop(station, browser, port)


def test_an_address_is_given_tried_and_taken_away(shop: Shop) -> None:
    with Target(200, 500).open() as target, shop.page(PHONE, "/push", paired=True) as page:
        page.get_by_label("Address").fill("http://10.0.0.7/Zq81xY")
        page.get_by_role("button", name="Add it").click()
        expect(page.get_by_label("Address")).to_have_attribute("aria-invalid", "true")
        expect(page.get_by_label("Address")).to_have_value("http://10.0.0.7/Zq81xY")
        expect(page.locator("#wrong-address")).to_contain_text("Write json://")
        page.get_by_label("Address").fill(target.url)
        page.get_by_role("button", name="Add it").click()
        page.get_by_role("button", name="Send a test message to json://…1xY").click()
        expect(page.get_by_role("status").filter(has_text="took the test message")).to_be_visible()
        page.get_by_role("button", name="Send a test message to json://…1xY").click()
        expect(page.get_by_role("alert").filter(has_text="It answered with the status 500")).to_be_visible()
        page.get_by_role("button", name="Remove json://…1xY").click()
        expect(page.get_by_role("heading", name="json://…1xY", exact=True)).to_have_count(0)
        assert len(target.heard) == 2
    assert all(url.startswith(shop.url) or url == "about:blank" for url in shop.requests)


def test_occasions_and_quiet_hours_are_chosen_without_script(shop: Shop) -> None:
    with shop.page(PHONE, "/push", paired=True, java_script_enabled=False) as page:
        page.get_by_label("A cast is fully cured").check()
        page.get_by_role("button", name="Keep this").click()
        expect(page.get_by_label("A cast is fully cured")).to_be_checked()
        page.get_by_label("From").fill("21:30")
        page.get_by_label("To", exact=True).fill("05:45")
        page.get_by_role("button", name="Keep these hours").click()
        expect(page.get_by_text("Each day from 21:30 to 05:45")).to_be_visible()
        page.get_by_role("button", name="No quiet hours").click()
        expect(page.get_by_text("There are none.")).to_be_visible()
    assert shop.complaints == []


SMALL = """[...document.querySelectorAll('main button, main input:not([type=hidden]), main label')]
    .map(e => (e.matches('[type=checkbox]') ? e.closest('label') : e).getBoundingClientRect())
    .filter(r => r.height && r.height < 44 && r.width < 200).length"""


def test_the_pages_fit_small_and_large_screens_and_every_target_is_large_enough(shop: Shop) -> None:
    with shop.page({"width": 320, "height": 640}, "/push", paired=True) as page:
        for place in ("/push", "/calendar"):
            page.goto(f"{shop.url}{place}")
            for size in ({"width": 320, "height": 640}, PHONE, DESK):
                page.set_viewport_size(size)  # type: ignore[arg-type]
                assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
                assert page.evaluate(SMALL) == 0
    assert shop.complaints == []

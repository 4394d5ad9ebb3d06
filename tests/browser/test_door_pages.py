"""The door in a real browser: the code comes and goes on paired screens alone, and a lock is told by an open page."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest
from playwright.sync_api import Browser, Page, expect

from station.config import Look
from station.phone.server import serving
from tests.browser.conftest import DEADLINE_MS, DESK, PHONE, Shop
from tests.phone.shown import QUIET, opened_station

pytestmark = pytest.mark.browser


@pytest.fixture
def locked(browser: Browser) -> Iterator[Shop]:
    """A station that only paired devices may look at."""
    with opened_station(look=Look.PAIRED) as station:
        station.post(replace(QUIET, seq=1))
        with serving(station.app, "127.0.0.1", 0, station.streams.end) as port:
            yield Shop(station, browser, port)


def fits(page: Page) -> bool:
    return bool(page.evaluate("document.documentElement.scrollWidth <= innerWidth"))


def test_the_code_shows_on_a_paired_screen_as_soon_as_somebody_asks_and_goes_when_it_is_used(shop: Shop) -> None:
    with shop.page(DESK, "/", paired=True) as screen, shop.page(PHONE, "/pair") as phone:
        note = screen.locator("#door")
        expect(note).to_be_hidden()
        phone.get_by_role("button", name="Show a code at the bench").click()
        code = shop.station.codes[-1]
        expect(note).to_have_text(f"A device may be paired now. The code is {code[:3]} {code[3:]}")
        assert code[:3] not in phone.locator("body").inner_text()
        phone.get_by_label("Code").fill(code)
        phone.get_by_label("Name of this device").fill("phone by the oven")
        phone.get_by_role("button", name="Pair", exact=True).click()
        phone.wait_for_url(f"{shop.url}/")
        expect(note).to_be_hidden()
        screen.goto(f"{shop.url}/devices")
        expect(screen.get_by_role("heading", name="phone by the oven")).to_be_visible()
        screen.get_by_role("button", name="Lock out phone by the oven").click()
        expect(screen.get_by_role("heading", name="phone by the oven")).to_have_count(0)
        phone.get_by_role("button", name="Pause").click()
        expect(phone.locator("#answer")).to_contain_text("This device is not paired any more")
    assert [line for line in shop.complaints if "403" not in line] == []


@pytest.mark.parametrize("size", [PHONE, DESK, {"width": 320, "height": 640}], ids=["phone", "desk", "narrow"])
def test_the_devices_fit_the_screen_and_every_button_is_large_enough(shop: Shop, size: dict[str, int]) -> None:
    shop.station.paired("a phone with quite a long name, yes")
    with shop.page(size, "/devices", paired=True) as page:
        assert fits(page)
        heights = page.locator("main button, main input:not([type=hidden])").evaluate_all(
            "all => all.map(one => one.getBoundingClientRect().height)"
        )
        assert len(heights) >= 8
        assert min(heights) >= 44
        expect(page.get_by_text("✓ This device")).to_have_count(1)


def test_a_locked_station_shows_the_door_and_a_device_that_is_locked_out_is_told_by_its_open_page(locked: Shop) -> None:
    with locked.page(PHONE, "/log") as page:
        expect(page.get_by_role("heading", name="This station is locked")).to_be_visible()
        assert fits(page)
        page.get_by_role("link", name="Pair this device").click()
        page.get_by_role("button", name="Show a code at the bench").click()
        page.get_by_label("Code").fill(locked.station.codes[-1])
        page.get_by_role("button", name="Pair", exact=True).click()
        expect(page.locator(".strip li")).to_have_count(3)
        locked.station.post(replace(QUIET, seq=2, bench=None))
        expect(page.get_by_role("heading", name="The bench is free")).to_be_visible()
        locked.station.door.begin_anew()
        locked.station.post(replace(QUIET, seq=3))
        expect(page.get_by_role("heading", name="This station is locked")).to_be_visible(timeout=DEADLINE_MS)
    foreign = [one for one in locked.requests if not re.match(rf"{locked.url}/", one)]
    assert foreign == []

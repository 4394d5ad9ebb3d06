"""The page of all benches in a real browser on a phone: nothing wider than it, kept current, one tap to acknowledge."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from playwright.sync_api import Browser, expect

from station.phone.server import serving
from tests.browser.conftest import PHONE, Shop
from tests.phone.shown import FREE, QUIET, opened_station
from tests.phone.test_benches_pages import HOOD, SmallDesk

DESK = SmallDesk()


@pytest.fixture
def shop(browser: Browser) -> Iterator[Shop]:
    DESK.hood = HOOD
    DESK.wishes.clear()
    with opened_station(benches=DESK) as station:
        station.post(replace(QUIET, seq=1))
        with serving(station.app, "127.0.0.1", 0, station.streams.end) as port:
            yield Shop(station, browser, port)


@pytest.mark.parametrize("place", ["/benches", "/", "/benches/2/12"])
def test_on_a_phone_no_page_is_wider_than_the_phone(shop: Shop, place: str) -> None:
    with shop.page(PHONE, place) as page:
        expect(page.get_by_role("link", name="Curing").first).to_be_visible()
        assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
        chip = page.locator(".chip").bounding_box()
        last = page.locator("nav").bounding_box()
        assert chip is not None
        assert last is not None
        assert last["x"] + last["width"] <= chip["x"] + 1, "the way to go and the weight lie over each other"
    assert shop.complaints == []


def test_one_tap_acknowledges_and_the_page_follows_what_comes_of_it(shop: Shop) -> None:
    with shop.page(PHONE, "/benches", paired=True) as page:
        button = page.get_by_role("button", name="Acknowledge for bench 2")
        box = button.bounding_box()
        assert box is not None
        assert box["height"] >= 44
        button.click()
        page.wait_for_url("**/benches")
        assert len(DESK.wishes) == 1
        # Without a reload: the other bench is silent, and the page's own live state does not write over it.
        (other,) = HOOD.benches
        DESK.hood = replace(HOOD, benches=(replace(other, at_hand=replace(other.at_hand, alarms=())),))
        shop.station.post(replace(FREE, seq=9))
        expect(page.locator(".elsewhere")).to_have_count(0)
        expect(page.locator(".onebench").nth(1)).to_contain_text("paddle grip")
    assert shop.complaints == []
    assert {url.split("/")[2] for url in shop.requests} == {f"127.0.0.1:{shop.port}"}

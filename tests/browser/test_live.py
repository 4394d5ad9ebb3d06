"""The page tells the truth after each way in which it can be cut off: asleep, frozen, put away, deaf, or misled."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from playwright.sync_api import Browser, Page, expect

from station.core.snapshot import Fill
from station.phone.server import serving
from tests.browser.conftest import DEADLINE_MS, PHONE, Shop
from tests.browser.holding_proxy import HoldingProxy
from tests.browser.test_page import until
from tests.phone.shown import QUIET, opened_station, with_net

pytestmark = pytest.mark.browser

HIDE = """h => { Object.defineProperty(document, 'hidden', {value: h, configurable: true});
                 document.dispatchEvent(new Event('visibilitychange')); }"""
DAY_JUMPS = "ms => { const before = Date.now; Date.now = () => before.call(Date) + ms; }"


def left(page: Page):  # type: ignore[no-untyped-def]
    return page.locator(".left > b > span")


def true_now(page: Page, text: str) -> None:
    expect(left(page)).to_have_text(text)
    expect(page.locator("body.old")).to_have_count(0)
    expect(page.locator("#age")).to_be_hidden()


def test_a_bench_that_stands_still_behind_a_living_server_is_told_with_its_age(shop: Shop) -> None:
    clock = shop.station.clock
    shop.station.post(replace(QUIET, seq=2, at=clock.now()))
    with shop.page(PHONE) as page:
        true_now(page, "43.8")
        clock.advance(42)
        expect(page.locator("#age")).to_contain_text("its bench has stood still for 4")
        expect(page.locator("body.old")).to_have_count(1)
        assert "grayscale(1)" in page.locator("main").evaluate("e => getComputedStyle(e).filter")
        assert "line-through" in page.locator(".left > b").evaluate("e => getComputedStyle(e).textDecorationLine")
        shop.station.post(replace(with_net("103.9", Fill.NEAR, 3), at=clock.now()))
        true_now(page, "4.1")
        # Also a page that is opened while it stands still, and one that asks after a sleep.
        clock.advance(42)
        page.reload()
        expect(page.locator("#age")).to_contain_text("stood still for 4")
    assert shop.complaints == []


def test_a_station_that_was_started_again_is_followed_though_its_numbers_begin_anew(browser: Browser) -> None:
    with opened_station() as before:
        before.post(with_net("64.2", Fill.UNDER, 900))
        with serving(before.app, "127.0.0.1", 0, before.streams.end) as port:
            shop = Shop(before, browser, port)
            opened = shop.page(PHONE)
            page = opened.__enter__()
            true_now(page, "43.8")
    with opened_station() as after:
        after.post(with_net("103.9", Fill.NEAR, 1))
        with serving(after.app, "127.0.0.1", port, after.streams.end):
            true_now(page, "4.1")
            after.post(with_net("108.2", Fill.IN_BAND, 2))
            true_now(page, "+0.2")
            opened.__exit__(None, None, None)


def test_a_stream_that_looks_open_and_is_dead_is_left_for_a_new_one(shop: Shop) -> None:
    with HoldingProxy(shop.port) as wire:
        behind = Shop(shop.station, shop.browser, wire.port)
        with behind.page(PHONE) as page:
            true_now(page, "43.8")
            assert wire.hold() >= 1
            shop.station.post(with_net("103.9", Fill.NEAR, 2))
            expect(page.locator("#age")).to_contain_text("No news from the station for")
            true_now(page, "4.1")
            shop.station.post(with_net("108.2", Fill.IN_BAND, 3))
            true_now(page, "+0.2")


def put_away_and_back(page: Page, meanwhile: Callable[[], None]) -> None:
    page.evaluate("window.dispatchEvent(new PageTransitionEvent('pagehide', {persisted: true}))")
    meanwhile()
    page.evaluate("window.dispatchEvent(new PageTransitionEvent('pageshow', {persisted: true}))")


def hidden_and_back(page: Page, meanwhile: Callable[[], None]) -> None:
    page.evaluate(HIDE, True)
    meanwhile()
    page.evaluate(HIDE, False)


def frozen_and_back(page: Page, meanwhile: Callable[[], None]) -> None:
    life = page.context.new_cdp_session(page)
    life.send("Page.setWebLifecycleState", {"state": "frozen"})
    meanwhile()
    life.send("Page.setWebLifecycleState", {"state": "active"})
    life.detach()


@pytest.mark.parametrize("gone", [put_away_and_back, hidden_and_back, frozen_and_back])
def test_a_page_that_was_gone_is_true_when_it_is_looked_at_again(
    shop: Shop, gone: Callable[[Page, Callable[[], None]], None]
) -> None:
    with shop.page(PHONE) as page:
        true_now(page, "43.8")
        gone(page, lambda: shop.station.post(with_net("108.2", Fill.IN_BAND, 2)))
        true_now(page, "+0.2")
        shop.station.post(with_net("111.6", Fill.OVER, 3))
        true_now(page, "3.6")
    assert shop.complaints == []


def test_a_page_that_wakes_without_a_network_is_grey_at_once_though_its_own_time_stood_still(shop: Shop) -> None:
    with shop.page(PHONE) as page:
        true_now(page, "43.8")
        page.evaluate(HIDE, True)
        page.context.set_offline(True)
        page.evaluate(DAY_JUMPS, 3_600_000)
        assert page.evaluate(f"({HIDE})(false) || document.body.classList.contains('old')")
        expect(page.locator("#age")).to_contain_text("No news from the station for 360")
        page.context.set_offline(False)
        true_now(page, "43.8")


@pytest.mark.parametrize("ms", [-864e5, 864e6])
def test_a_jump_of_the_phones_clock_changes_nothing(shop: Shop, ms: float) -> None:
    with shop.page(PHONE) as page:
        true_now(page, "43.8")
        page.evaluate(DAY_JUMPS, ms)
        before = page.locator(".sheet .dial").first.inner_text()
        shop.station.post(with_net("103.9", Fill.NEAR, 2))
        true_now(page, "4.1")
        assert page.locator(".sheet .dial").first.inner_text() == before


@pytest.fixture
def full(browser: Browser) -> Iterator[Shop]:
    """A station with room for one live page."""
    with opened_station(limit=1) as station:
        station.post(replace(QUIET, seq=1))
        with serving(station.app, "127.0.0.1", 0, station.streams.end) as port:
            yield Shop(station, browser, port)


def test_a_page_for_which_there_is_no_stream_asks_for_the_state_every_few_seconds(full: Shop) -> None:
    with full.page(PHONE) as first, full.page(PHONE) as second:
        true_now(first, "43.8")
        full.station.post(with_net("103.9", Fill.NEAR, 2))
        expect(left(second)).to_have_text("4.1", timeout=DEADLINE_MS)
        first.goto("about:blank")
        assert until(lambda: full.station.streams.open == 1), "the free place was not taken"

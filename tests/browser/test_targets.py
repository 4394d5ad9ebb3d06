"""Everything that can be touched is large enough, and nothing needs scrolling sideways, in every state of a page."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from flask import Flask
from playwright.sync_api import Browser, Page

from tests.browser.conftest import DESK, PHONE, Shop
from tests.browser.everywhere import Visit, addresses, whole_station
from tests.browser.measured import AT_THE_BENCH, LEAST, SIZES, SMALL, TOO_WIDE
from tests.browser.states import shown
from tests.system.whole import Whole

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Whole, Flask]]:
    with whole_station(tmp_path_factory.mktemp("station")) as made:
        yield made


def small(page: Page) -> list[str]:
    found = []
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    for size in (PHONE, DESK):
        page.set_viewport_size(size)  # type: ignore[arg-type]
        found += [f"at {size['width']} {line}" for line in page.evaluate(SMALL, [LEAST, AT_THE_BENCH])]
    return found


def test_what_can_be_touched_on_any_page_of_the_map_is_large_enough(
    whole: tuple[Whole, Flask], browser: Browser
) -> None:
    station, app = whole
    visit = Visit(browser, station)
    found: list[str] = []
    titles: dict[str, str] = {}
    try:
        visit.pair()
        pages = [address for address in addresses(app) if visit.is_page(address)] + [visit.measure()]
        for address in pages:
            visit.page.goto(f"{visit.url}{address}")
            found += [f"{address} {line}" for line in small(visit.page)]
            titles[address] = visit.page.title().split("demold. · ")[-1]
    finally:
        visit.close()
    assert not found, "\n".join(found)
    assert len(set(titles.values())) == len(pages), "two pages with one title"


def test_what_can_be_touched_in_any_state_is_large_enough_and_nothing_is_too_wide(shop: Shop) -> None:
    found: list[str] = []
    with shop.page(PHONE, paired=True) as page, shop.page(PHONE) as lone:
        for state, on in shown(page, lone, shop):
            found += [f"{state.name} {line}" for line in small(on)]
            for width, times in SIZES:
                on.set_viewport_size({"width": width, "height": 740})
                on.evaluate("size => { document.documentElement.style.fontSize = size; }", f"{106.25 * times}%")
                if out := on.evaluate(TOO_WIDE):
                    found.append(f"{state.name}: wider than {width} with text {times} times as large: {out}")
            on.set_viewport_size(PHONE)  # type: ignore[arg-type]
    assert not found, "\n".join(found)


def test_a_small_target_is_found(shop: Shop) -> None:
    with shop.page(PHONE, paired=True) as page:
        page.evaluate("document.querySelector('main').innerHTML = '<a class=\"button\" href=\"/log\">x</a>'")
        page.evaluate("document.querySelector('main a').style.minHeight = '0'")
        assert any('href="/log"' in line for line in small(page))

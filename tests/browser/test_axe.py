"""No page, in no state, scheme or size, keeps anybody out by a rule that a program can check (WCAG 2.2 AA)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

import pytest
from flask import Flask
from playwright.sync_api import Browser, Page

from tests.browser.axe import COLOURS, PLACES, violations
from tests.browser.conftest import DESK, PHONE, Shop
from tests.browser.everywhere import Visit, addresses, whole_station
from tests.browser.states import shown
from tests.system.whole import Whole

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Whole, Flask]]:
    with whole_station(tmp_path_factory.mktemp("station")) as made:
        yield made


Ways = tuple[tuple[dict[str, int], Literal["light", "dark"], tuple[str, ...]], ...]
EVERY_WAY: Ways = (
    (PHONE, "light", ()),
    (PHONE, "dark", COLOURS),
    (DESK, "light", (*COLOURS, *PLACES)),
    (DESK, "dark", COLOURS),
)
TWO_WAYS: Ways = (EVERY_WAY[0], (DESK, "dark", (*COLOURS, *PLACES)))
"""For the many pages: each rule once, and once more in the other size and scheme what these may change."""
SPOIL = """() => {
  document.querySelector('main').innerHTML = '<h1>One</h1><h4>pale</h4><input>';
  document.querySelector('h4').style.color = '#999';
}"""


def wrong(page: Page, ways: Ways = EVERY_WAY) -> list[str]:
    found: list[str] = []
    for size, scheme, rules in ways:
        page.set_viewport_size(size)  # type: ignore[arg-type]
        page.emulate_media(color_scheme=scheme)
        found += [f"{size['width']} {scheme}: {line}" for line in violations(page, rules)]
    return found


def test_every_page_of_the_map_is_open_to_everybody(whole: tuple[Whole, Flask], browser: Browser) -> None:
    station, app = whole
    visit = Visit(browser, station)
    found: list[str] = []
    try:
        visit.pair()
        for address in [address for address in addresses(app) if visit.is_page(address)] + [visit.measure()]:
            visit.page.goto(f"{visit.url}{address}")
            found += [f"{address} {line}" for line in wrong(visit.page, TWO_WAYS)]
    finally:
        visit.close()
    assert not found, "\n".join(found)


def test_every_state_of_a_page_is_open_to_everybody(shop: Shop) -> None:
    found: list[str] = []
    with shop.page(PHONE, paired=True) as page, shop.page(PHONE) as lone:
        for state, on in shown(page, lone, shop):
            found += [f"{state.name} {line}" for line in wrong(on)]
    assert not found, "\n".join(found)


def test_the_rules_bite(shop: Shop) -> None:
    with shop.page(PHONE) as page:
        page.evaluate(SPOIL)
        said = " ".join(violations(page))
    assert {"color-contrast", "heading-order", "label"} <= {word.rstrip(":") for word in said.split()}

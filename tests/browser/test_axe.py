"""No page, in no state, scheme or size, keeps anybody out by a rule that a program can check (WCAG 2.2 AA)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

import pytest
from flask import Flask
from playwright.sync_api import Browser, Page, expect

from station.config import Look
from station.phone.server import serving
from tests.browser.axe import COLOURS, PLACES, violations
from tests.browser.conftest import DESK, PHONE, Shop
from tests.browser.everywhere import Visit, addresses, whole_station
from tests.browser.states import shown
from tests.phone.shown import opened_station
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
"""Each rule once, and once more in the other size and scheme what these may change."""
MANY = ("one way in turn", pytest.param("two ways", marks=pytest.mark.soak))
"""For the many pages, whose styles and parts are the same: each in one size and scheme, so that all four have come."""
SPOIL = """() => {
  document.querySelector('main').innerHTML = '<h1>One</h1><h4>pale</h4><input>';
  document.querySelector('h4').style.color = '#999';
}"""


def in_turn(number: int) -> Ways:
    """One size and scheme with every rule, another for the next number."""
    size, scheme, _ = EVERY_WAY[number % len(EVERY_WAY)]
    return ((size, scheme, ()),)


def wrong(page: Page, ways: Ways = EVERY_WAY) -> list[str]:
    found: list[str] = []
    for size, scheme, rules in ways:
        page.set_viewport_size(size)  # type: ignore[arg-type]
        page.emulate_media(color_scheme=scheme)
        found += [f"{size['width']} {scheme}: {line}" for line in violations(page, rules)]
    return found


@pytest.mark.parametrize("how", MANY)
def test_every_page_of_the_map_is_open_to_everybody(whole: tuple[Whole, Flask], browser: Browser, how: str) -> None:
    station, app = whole
    visit = Visit(browser, station)
    found: list[str] = []
    try:
        visit.pair()
        pages = [address for address in addresses(app) if visit.is_page(address)] + [visit.measure()]
        for number, address in enumerate(pages):
            visit.page.goto(f"{visit.url}{address}")
            found += [
                f"{address} {line}" for line in wrong(visit.page, TWO_WAYS if how == "two ways" else in_turn(number))
            ]
    finally:
        visit.close()
    assert not found, "\n".join(found)


FORMS = {
    "/materials/new": "Keep it",
    "/materials/lot": "Keep it",
    "/molds/new": "Keep it",
    "/stock": "Keep it",
    "/climate": "Take it",
    "/push": "Add it",
    "/work/box": "Work it out",
    "/work/schedule": "Work it out",
}
"""A form on each of these pages, by its button."""
TYPE_NONSENSE = """() => {
  document.querySelectorAll('main form').forEach((one) => { one.noValidate = true; });
  document.querySelectorAll('main form :is(input:not([type]), textarea)').forEach((one) => { one.value = '?!'; });
}"""
UNTOLD = """() => [...document.querySelectorAll('[aria-invalid]')]
  .filter((one) => ![...(one.getAttribute('aria-describedby') ?? '').split(' ')]
    .some((id) => document.getElementById(id)?.innerText))
  .map((one) => one.outerHTML.slice(0, 120))"""


def test_a_form_that_is_refused_is_open_to_everybody_and_says_why_at_each_field(
    whole: tuple[Whole, Flask], browser: Browser
) -> None:
    visit = Visit(browser, whole[0])
    found: list[str] = []
    try:
        visit.pair()
        for address, button in FORMS.items():
            visit.page.goto(f"{visit.url}{address}")
            visit.page.evaluate(TYPE_NONSENSE)
            visit.page.locator("main form .big", has_text=button).last.click()
            expect(visit.page.locator("main [role=alert]").first).to_be_visible()
            found += [f"{address} says nothing at {field}" for field in visit.page.evaluate(UNTOLD)]
            if not visit.page.locator("[aria-invalid]").count():
                found.append(f"{address} marks no field")
            found += [f"{address} {line}" for line in wrong(visit.page, TWO_WAYS)]
    finally:
        visit.close()
    assert not found, "\n".join(found)


@pytest.mark.parametrize("ways", [TWO_WAYS, pytest.param(EVERY_WAY, marks=pytest.mark.soak)], ids=["two", "four"])
def test_every_state_of_a_page_is_open_to_everybody(shop: Shop, ways: Ways) -> None:
    found: list[str] = []
    with shop.page(PHONE, paired=True) as page, shop.page(PHONE) as lone:
        for state, on in shown(page, lone, shop):
            found += [f"{state.name} {line}" for line in wrong(on, ways)]
    assert not found, "\n".join(found)


def test_the_locked_door_is_open_to_everybody_as_a_page(browser: Browser) -> None:
    with (
        opened_station(look=Look.PAIRED) as station,
        serving(station.app, "127.0.0.1", 0, station.streams.end) as port,
        Shop(station, browser, port).page(PHONE, "/log") as page,
    ):
        expect(page.get_by_role("heading", name="This station is locked")).to_be_visible()
        assert wrong(page) == []


def test_the_rules_bite(shop: Shop) -> None:
    with shop.page(PHONE) as page:
        page.evaluate(SPOIL)
        said = " ".join(violations(page))
    assert {"color-contrast", "heading-order", "label"} <= {word.rstrip(":") for word in said.split()}

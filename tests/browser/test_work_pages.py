"""Worksheets in a real browser: Enter works them out, a material fills them in, and every page fits a phone."""

import pytest
from playwright.sync_api import expect

from station.worksheets.guides import GUIDES
from tests.browser.conftest import DESK, PHONE, Shop

pytestmark = pytest.mark.browser

SIZES = pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])


@SIZES
def test_enter_in_a_field_works_it_out_and_not_the_button_above(shop: Shop, size: dict[str, int]):
    with shop.page(size, "/work/batch") as page:
        page.get_by_label("Mix ratio", exact=False).first.fill("100:60")
        page.get_by_label("Mix wanted, by mass", exact=False).fill("160 g")
        page.get_by_label("Mix wanted, by mass", exact=False).press("Enter")
        expect(page.get_by_role("region", name="Answer")).to_contain_text("exactly 100 g")
    assert shop.complaints == []


def test_a_slip_stands_beside_its_field_and_the_rest_stays(shop: Shop):
    with shop.page(PHONE, "/work/foam") as page:
        page.get_by_label("Volume of the cavity", exact=False).fill("much")
        page.get_by_label("Mix ratio", exact=False).fill("100:60")
        page.get_by_role("button", name="Work it out").last.click()
        expect(page.locator(".field[data-slip]")).to_contain_text("much")
        expect(page.get_by_label("Mix ratio", exact=False)).to_have_value("100:60")
    # The browser itself reports the answer's status as an error; nothing else may.
    assert all("409" in said for said in shop.complaints)


def test_a_material_fills_in_its_sheet(shop: Shop):
    with shop.page(PHONE, "/work/times-today") as page:
        page.get_by_role("button", name="Fill in what it says").click()
        expect(page.get_by_label("Pot life on the sheet", exact=False)).to_have_value("4 min")


@SIZES
def test_every_worked_plan_and_its_worksheets_fit_the_screen(shop: Shop, size: dict[str, int]):
    places = [
        "/work",
        *(f"/work/guides/{one.key}" for one in GUIDES),
        *(s.address for one in GUIDES for s in one.steps),
    ]
    with shop.page(size) as page:
        for place in places:
            page.goto(shop.url + place)
            assert page.evaluate("document.documentElement.scrollWidth") <= size["width"], place
    assert shop.complaints == []
    assert all(address.startswith(shop.url) for address in shop.requests)

"""The page of the scale in a real browser: it follows the errand, keeps what is being typed, and fits a phone."""

import threading
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect
from playwright.sync_api import Error as PlaywrightError

from station.phone.scale_desk import Asks
from station.phone.server import serving
from tests.browser.conftest import DEADLINE_MS, DESK, PHONE, Shop
from tests.phone.shown import QUIET
from tests.phone.small_desk import GOOD, NOT_GOOD, RUNNING, TEXT, YES_NO, SmallDesk, checked, opened_with

pytestmark = pytest.mark.browser

SIZES = pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])


@pytest.fixture
def desk() -> SmallDesk:
    return SmallDesk()


@pytest.fixture
def scale_shop(browser: Browser, desk: SmallDesk) -> Iterator[Shop]:
    with opened_with(desk) as station:
        station.post(replace(QUIET, seq=1))
        with serving(station.app, "127.0.0.1", 0, station.streams.end) as port:
            yield Shop(station, browser, port)


def until(true: object) -> bool:
    """Wait for `true()` with one overall deadline."""
    tick = threading.Event()
    for _ in range(DEADLINE_MS // 20):
        if true():  # type: ignore[operator]
            return True
        tick.wait(0.02)
    return False


def said_in(page: Page, script: str) -> Any:
    """What a script says in the page. At the end of an errand the page loads anew, which may be just now: once more."""
    try:
        return page.evaluate(script)
    except PlaywrightError:
        page.wait_for_load_state()
        return page.evaluate(script)


def photograph(page: Page, folder: Path, name: str) -> None:
    """The whole page as a picture, while it is in colour: it turns grey when the bench has no news."""
    said_in(page, "document.body.classList.remove('old')")
    page.screenshot(path=folder / f"{name}.png", full_page=True)
    assert (folder / f"{name}.png").stat().st_size > 10_000


def fits(page: Page, size: dict[str, int]) -> bool:
    return int(said_in(page, "document.documentElement.scrollWidth")) <= size["width"]


@SIZES
def test_a_question_is_answered_with_a_big_button_and_the_page_follows(scale_shop, desk, size, tmp_path):
    desk.view = RUNNING
    with scale_shop.page(size, "/scale", paired=True) as page:
        expect(page.locator(".recent li").last).to_have_text("Put something on the pan.")
        expect(page.get_by_role("button", name="Find the scale")).to_be_hidden()
        photograph(page, tmp_path, "running")
        desk.view = YES_NO
        yes = page.get_by_role("button", name="Yes")
        expect(yes).to_be_visible()
        box = yes.bounding_box()
        assert box["height"] >= 64
        assert box["y"] + box["height"] <= size["height"]
        photograph(page, tmp_path, "question")
        yes.click()
        expect(page.locator(".recent li").last).to_have_text("The scale should now show 123.4 g. Does it? yes")
        assert desk.calls == [("answer", "yes")]
        expect(yes).to_have_count(0)
        desk.view = GOOD
        expect(page.locator(".outcome h3")).to_contain_text("Found: status-commas")
        expect(page.get_by_role("button", name="Find the scale")).to_be_visible()
        assert fits(page, size)
        photograph(page, tmp_path, "good")
    assert scale_shop.complaints == []


@SIZES
def test_what_is_being_typed_outlives_the_news(scale_shop, desk, size, tmp_path):
    desk.view = TEXT
    with scale_shop.page(size, "/scale", paired=True) as page:
        field = page.get_by_label(TEXT.question)
        field.fill("500")
        for words in ("First news.", "Second news."):
            desk.view = replace(desk.view, told=(*desk.view.told, words))
            expect(page.locator(".recent li").last).to_have_text(words)
        field.press_sequentially(" g")
        expect(field).to_be_focused()
        photograph(page, tmp_path, "typing")
        field.press("Enter")
        expect(page.locator(".busy")).to_be_visible()
        assert desk.calls == [("answer", "500 g")]
        desk.view = NOT_GOOD
        expect(page.locator(".outcome h3")).to_contain_text("No scale was found.")
        photograph(page, tmp_path, "not-good")
    assert scale_shop.complaints == []


def test_an_address_that_is_being_typed_stays_when_another_phone_begins_and_ends_a_search(scale_shop, desk):
    with scale_shop.page(PHONE, "/scale", paired=True) as page:
        address = page.get_by_label("Address", exact=True)
        address.press_sequentially("socket://10.0.0.7:4001")
        expect(page.get_by_label("Another address, typed below")).to_be_checked()
        desk.view = RUNNING
        expect(page.locator(".recent li").last).to_have_text("Put something on the pan.")
        expect(address).to_be_visible()
        desk.view = GOOD
        expect(page.locator(".outcome h3")).to_contain_text("Found: status-commas")
        expect(address).to_have_value("socket://10.0.0.7:4001")
        desk.view = None
        page.get_by_role("button", name="Find the scale").click()
        assert until(lambda: desk.calls == [("find", "socket://10.0.0.7:4001")])


def test_a_check_that_ends_brings_its_result_into_the_history(scale_shop, desk):
    desk.view = replace(TEXT, question="", asks=Asks.NOTHING)
    with scale_shop.page(PHONE, "/scale", paired=True) as page:
        expect(page.locator(".history tbody tr")).to_have_count(3)
        desk.done = (checked("2026-03-02", "2027-03-02", verdict="fit"), *desk.done)
        desk.view = replace(desk.view, good=True, outcome="Verdict: fit.")
        expect(page.locator(".history tbody tr")).to_have_count(4)
        expect(page.locator(".outcome")).to_contain_text("Verdict: fit.")


@pytest.mark.parametrize("colour_scheme", ["light", "dark"])
@SIZES
def test_the_idle_page_fits_and_its_chart_is_legible(scale_shop, desk, size, colour_scheme, tmp_path):
    older = (checked("2024-08-20", "2025-08-20", error_g=-0.08), checked("2024-02-10", "2025-02-10", error_g=0.03))
    desk.done = (checked("2025-02-28", "2026-02-28", repeatability_g=0.062), *older)
    with scale_shop.page(size, "/scale", paired=True, color_scheme=colour_scheme) as page:
        expect(page.locator(".due[data-overdue]")).to_contain_text("Overdue by 2 days")
        expect(page.locator(".trend")).to_have_count(2)
        for label in page.locator(".trend text").all():
            assert label.bounding_box()["height"] >= 12
        for link in page.locator("nav a, .chip").all():
            box = link.bounding_box()
            assert box["x"] >= 0
            assert box["x"] + box["width"] <= size["width"]
        assert fits(page, size)
        photograph(page, tmp_path, "idle")


def test_without_a_script_the_page_reloads_until_there_is_a_question(scale_shop, desk):
    desk.view = RUNNING
    with scale_shop.page(PHONE, "/scale", paired=True, java_script_enabled=False) as page:
        expect(page.locator(".recent li").last).to_have_text("Put something on the pan.")
        desk.view = YES_NO
        page.get_by_role("button", name="No", exact=True).click()
        expect(page.locator(".recent li").last).to_have_text(f"{YES_NO.question} no")
        assert desk.calls == [("answer", "no")]

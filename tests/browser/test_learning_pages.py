"""The pages of learning with casts to tell of: open to everybody, none too wide, and a trial by taps alone."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from urllib.parse import urlencode

import pytest
from playwright.sync_api import Browser, expect

from station.phone.server import serving
from tests.browser.axe import violations
from tests.browser.conftest import DESK, PHONE, Shop
from tests.browser.measured import LEAST, SIZES, SMALL, TOO_WIDE
from tests.phone.shown import QUIET, opened_station
from tests.phone.small_learning import SmallLearning, busy
from tests.phone.test_learning_pages import FORM

pytestmark = pytest.mark.browser

PLACES = (
    "/insight/differences?defect=soft_spot",
    "/insight/compare?a=3&b=17",
    "/insight/advice",
    f"/insight/trials?{urlencode(FORM)}",
    f"/insight/trials?{urlencode(FORM | {'levels1': '60 s'})}",
    "/insight/trials/1",
)


@pytest.fixture(scope="module")
def learned(browser: Browser) -> Iterator[Shop]:
    book = busy(SmallLearning())
    with opened_station(learning=book) as station:
        station.asked.answers = book.done
        station.post(replace(QUIET, seq=1))
        with serving(station.app, "127.0.0.1", 0, station.streams.end) as port:
            yield Shop(station, browser, port)


def test_they_keep_nobody_out_and_fit(learned: Shop) -> None:
    wrong: list[str] = []
    with learned.page(PHONE, paired=True) as page:
        for place in PLACES:
            page.set_viewport_size(PHONE)  # type: ignore[arg-type]
            page.emulate_media(color_scheme="light")
            page.goto(f"{learned.url}{place}")
            page.evaluate("() => document.querySelectorAll('main details').forEach((one) => { one.open = true; })")
            wrong += [f"{place}: {line}" for line in violations(page)]
            wrong += [f"{place}: {line}" for line in page.evaluate(SMALL, [LEAST, LEAST])]
            for width, times in SIZES:
                page.set_viewport_size({"width": width, "height": 740})
                page.evaluate("size => { document.documentElement.style.fontSize = size; }", f"{106.25 * times}%")
                if out := page.evaluate(TOO_WIDE):
                    wrong.append(f"{place}: wider than {width} with text {times} times as large: {out}")
            page.emulate_media(color_scheme="dark")
            page.set_viewport_size(DESK)  # type: ignore[arg-type]
            wrong += [f"{place}, dark: {line}" for line in violations(page)]
    assert wrong == []
    assert all(one.startswith((learned.url, "data:", "blob:")) for one in learned.requests)


def test_from_a_difference_to_a_trial_by_taps(learned: Shop) -> None:
    with learned.page(PHONE, "/insight/differences?defect=soft_spot", paired=True) as page:
        page.goto(f"{learned.url}{PLACES[0]}")
        page.get_by_role("link", name=re.compile("Plan that trial.*Mix time")).click()
        expect(page.get_by_text("casts of each setting notice")).to_be_visible()
        page.get_by_role("button", name="Begin this trial").click()
        expect(page.get_by_role("heading", level=1)).to_contain_text("Does it matter: mix time?")
        page.get_by_label("Cast number of run 1", exact=True).fill("7")
        page.get_by_role("button", name=re.compile("This cast.*run 1$")).click()
        expect(page.get_by_role("link", name="7", exact=True)).to_be_visible()
        page.goto(f"{learned.url}/insight/advice")
        page.get_by_role("button", name=re.compile("Use it.*shortest mix time")).click()
        expect(page.get_by_text("Flexible foam: shortest mix time").first).to_be_visible()

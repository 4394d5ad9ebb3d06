"""A real browser against the real server on loopback. Nothing it loads may come from anywhere else."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page, sync_playwright
from playwright.sync_api import Error as PlaywrightError

from station.phone.server import serving
from station.phone.sessions import cookie_name
from station.texts import t
from tests.phone.shown import QUIET, Station, opened_station
from tests.phone.small_book import SmallBook, year

CHROMIUM = next(
    (one for one in (Path("/usr/bin/chromium-headless-shell"), Path("/usr/bin/chromium")) if one.exists()),
    Path("/usr/bin/chromium"),
)
"""The one without windows, where it is installed: its pages come in two thirds of the time."""
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
PHONE = {"width": 360, "height": 740}
DESK = {"width": 1280, "height": 800}
DEADLINE_MS = 15_000
LEAVINGS = 5


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    if not CHROMIUM.exists():
        pytest.skip("neither chromium-headless-shell nor chromium is installed")
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        yield opened
        opened.close()


@dataclass
class Shop:
    """A served station, and the browser that looks at it."""

    station: Station
    browser: Browser
    port: int
    requests: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    @contextmanager
    def page(self, size: dict[str, int], place: str = "/", *, paired: bool = False, **how: object) -> Iterator[Page]:
        """An open page; `paired`: of a device that was paired before."""
        context = self.browser.new_context(viewport=size, **how)  # type: ignore[arg-type]
        if paired:
            context.add_cookies([self._paired()])
        context.set_default_timeout(DEADLINE_MS)
        page = context.new_page()
        page.on("request", lambda request: self.requests.append(request.url))
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("console", lambda line: self.complaints.append(line.text) if line.type == "error" else None)
        page.goto(f"{self.url}{place}")
        yield page
        left(page)
        context.close()

    def _paired(self) -> Any:
        """The cookie of a device that has just been paired at this address."""
        cookie = self.station.paired("").client.get_cookie(cookie_name("localhost", False))
        assert cookie is not None
        # Its name holds the port; what is signed does not.
        return {"name": cookie_name(urlsplit(self.url).netloc, False), "value": cookie.value, "url": self.url}


def paired_by_hand(page: Page, url: str, codes: Callable[[], Sequence[str]]) -> None:
    """Pair the device that has this page as a person does. `codes`: those that the bench has shown, the newest last."""
    page.goto(f"{url}/pair")
    page.get_by_role("button", name=t("Show a code at the bench")).click()
    page.get_by_label(t("Code")).fill(codes()[-1])
    page.get_by_role("button", name=t("Pair"), exact=True).click()
    page.wait_for_url(f"{url}/")


def left(page: Page) -> None:
    """Closing has no deadline and hung once in the middle of a navigation: end that and the stream first.

    A navigation that a tap began just now interrupts leaving, and so does a first leaving a second: the page
    is left again until it stays left. Leaving is no finding of a test, so a page that will not be left is closed.
    """
    for _ in range(LEAVINGS):
        try:
            page.goto("about:blank")
        except PlaywrightError:
            continue
        return


@pytest.fixture
def shop(browser: Browser) -> Iterator[Shop]:
    with opened_station(facts=SmallBook(year())) as station:
        station.post(replace(QUIET, seq=1))
        with serving(station.app, "127.0.0.1", 0, station.streams.end) as port:
            yield Shop(station, browser, port)

"""Pictures of every page and state, in each size and scheme, with a page that shows them side by side.

    python -m tests.browser.gallery FOLDER [WORD]

WORD: only those whose name has it. For whoever changes how something looks: open FOLDER/index.html.
"""

from __future__ import annotations

import re
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from html import escape
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from station.phone.server import serving
from tests.browser.conftest import ARGUMENTS, CHROMIUM, DESK, PHONE, Shop
from tests.browser.everywhere import Visit, addresses, whole_station
from tests.browser.states import STATES
from tests.phone.shown import QUIET, opened_station
from tests.phone.small_book import SmallBook, year

Media = dict[str, str]
WAYS: dict[str, tuple[dict[str, int], Media]] = {
    "phone light": (PHONE, {"color_scheme": "light"}),
    "phone dark": (PHONE, {"color_scheme": "dark"}),
    "desk light": (DESK, {"color_scheme": "light"}),
    "desk dark": (DESK, {"color_scheme": "dark"}),
    "phone, colours forced": (PHONE, {"color_scheme": "dark", "forced_colors": "active"}),
    "phone, more contrast": (PHONE, {"color_scheme": "light", "contrast": "more"}),
}
HIGHEST = 2400


@contextmanager
def opened() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        yield browser
        browser.close()


class Gallery:
    """Takes the pictures into a folder and lists them."""

    def __init__(self, folder: Path, word: str = "") -> None:
        self.folder, self.word = folder, word
        self.shown: dict[str, list[tuple[str, str]]] = {}
        folder.mkdir(parents=True, exist_ok=True)

    def wants(self, name: str) -> bool:
        return self.word in name

    def take(self, page: Page, name: str) -> None:
        """The page as it is, in all ways."""
        for way, (size, media) in WAYS.items():
            page.set_viewport_size(size)  # type: ignore[arg-type]
            page.emulate_media(**{"forced_colors": "none", "contrast": "no-preference", **media})  # type: ignore[arg-type]
            file = re.sub(r"[^a-z0-9]+", "-", f"{name} {way}".lower()).strip("-") + ".png"
            high = min(HIGHEST, page.evaluate("Math.max(innerHeight, document.documentElement.scrollHeight)"))
            clip = {"x": 0, "y": 0, "width": size["width"], "height": high}
            page.screenshot(path=self.folder / file, full_page=True, clip=clip, animations="disabled")  # type: ignore[arg-type]
            self.shown.setdefault(name, []).append((way, file))

    def index(self) -> Path:
        """The page that shows them; gives its path."""
        parts = [
            f"<h2>{escape(name)}</h2><div>"
            + "".join(
                f'<figure><figcaption>{escape(way)}</figcaption><img loading="lazy" alt="" src="{file}"></figure>'
                for way, file in shown
            )
            + "</div>"
            for name, shown in self.shown.items()
        ]
        style = "body{font:16px sans-serif}div{display:flex;gap:1rem;overflow-x:auto}img{height:32rem;border:1px solid}"
        head = f'<!doctype html><html lang="en"><meta charset="utf-8"><title>Pages</title><style>{style}</style>'
        place = self.folder / "index.html"
        place.write_text(f"{head}<h1>Pages and states</h1>{''.join(parts)}</html>\n", encoding="utf-8")
        return place


def states(gallery: Gallery, browser: Browser) -> None:
    """What hand-made snapshots show."""
    with opened_station(facts=SmallBook(year())) as station:
        station.post(replace(QUIET, seq=1))
        with serving(station.app, "127.0.0.1", 0, station.streams.end) as port:
            shop = Shop(station, browser, port)
            with shop.page(PHONE, paired=True) as page, shop.page(PHONE) as lone:
                for state in STATES:
                    if gallery.wants(state.name):
                        on = page if state.paired else lone
                        state.enter(on, shop)
                        gallery.take(on, state.name)


def pages(gallery: Gallery, browser: Browser) -> None:
    """Every page of a whole station's map."""
    with tempfile.TemporaryDirectory() as folder, whole_station(Path(folder)) as (station, app):
        visit = Visit(browser, station)
        visit.pair()
        found = [address for address in addresses(app) if gallery.wants(address) and visit.is_page(address)]
        for address in found + ([visit.measure()] if gallery.wants("/positive/") else []):
            visit.page.goto(f"{visit.url}{address}")
            gallery.take(visit.page, address)
        visit.close()


PARTS: tuple[Callable[[Gallery, Browser], None], ...] = (states, pages)


def main(folder: str, word: str = "") -> None:
    gallery = Gallery(Path(folder), word)
    with opened() as browser:
        for part in PARTS:
            part(gallery, browser)
    print(gallery.index())


if __name__ == "__main__":
    main(*sys.argv[1:])

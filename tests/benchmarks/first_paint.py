"""How soon a phone four times as slow as this machine shows a page, how much it loads, and how soon a tap is answered.

    python -m tests.benchmarks.first_paint [TIMES]

The station and the browser share this machine and talk over loopback: a workshop's radio comes on top. The browser's
own slowdown (4 times) is on its main thread alone. Medians of TIMES visits, 5 by default, each by a browser that was
never there and then once more.
"""

from __future__ import annotations

import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from typing import Any

from playwright.sync_api import Browser, Page, expect, sync_playwright

from station.core.messages import Press, Pressed
from tests.browser.conftest import ARGUMENTS, CHROMIUM, DEADLINE_MS, PHONE
from tests.browser.everywhere import Visit, whole_station
from tests.browser.test_first_visit import Wire

SLOWER = 4
PLACES = {"bench": "/", "curing": "/curing", "log": "/log", "plan": "/work"}
WATCH = """() => {
  window.met = { shift: 0 };
  const watch = (type, then) =>
    new PerformanceObserver((list) => list.getEntries().forEach(then)).observe({ type, buffered: true });
  watch('paint', (one) => { if (one.name === 'first-contentful-paint') met.first = one.startTime; });
  watch('largest-contentful-paint', (one) => { met.largest = one.startTime; });
  watch('layout-shift', (one) => { met.shift += one.value; });
}"""
TAPPED = """() => {
  const heading = document.querySelector('.now h1');
  document.addEventListener('click', (event) => {
    const begun = event.timeStamp;
    const seen = new MutationObserver(() => requestAnimationFrame(() => setTimeout(() => {
      met.answer ??= performance.now() - begun;
    })));
    seen.observe(heading, { subtree: true, childList: true, characterData: true });
  }, { once: true, capture: true });
}"""


@dataclass(frozen=True)
class Met:
    """One visit: milliseconds from asking, the share of the screen that jumped, bytes off the wire."""

    first_ms: float
    largest_ms: float
    shift: float
    wire: int


def visited(page: Page, address: str) -> Met:
    """Go there and wait until it has loaded and the stream has painted it once."""
    wire = Wire(page)
    page.goto(address)
    page.wait_for_load_state("load")
    expect(page.get_by_role("button", name="Sound on this phone")).to_be_visible()
    page.wait_for_timeout(500)
    met: dict[str, Any] = page.evaluate("met")
    return Met(met["first"], met["largest"], met["shift"], wire.total)


def slow(browser: Browser, visit: Visit) -> Page:
    """A page of a browser that was never here, paired, with the slowdown on."""
    context = browser.new_context(viewport=PHONE, storage_state=visit.context.storage_state())  # type: ignore[arg-type]
    context.set_default_timeout(DEADLINE_MS)
    context.add_init_script(f"({WATCH})()")
    page = context.new_page()
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    return page


def left(page: Page) -> None:
    page.goto("about:blank")
    page.context.close()


def told(name: str, visits: list[Met]) -> None:
    print(
        f"{name}: first paint {median(one.first_ms for one in visits):.0f} ms, "
        f"largest {median(one.largest_ms for one in visits):.0f} ms, "
        f"shift {max(one.shift for one in visits):.3f} at most, {median(one.wire for one in visits):.0f} bytes"
    )


def paints(browser: Browser, visit: Visit, times: int) -> None:
    for name, place in PLACES.items():
        first, second = [], []
        for _ in range(times):
            page = slow(browser, visit)
            first.append(visited(page, f"{visit.url}{place}"))
            page.goto(f"{visit.url}/pair")
            second.append(visited(page, f"{visit.url}{place}"))
            left(page)
        told(f"{name}, first visit", first)
        told(f"{name}, again", second)


def taps(browser: Browser, visit: Visit, times: int) -> None:
    """Pause: from the finger to the heading's new words on the screen."""
    answers = []
    page = slow(browser, visit)
    heading = page.locator(".now h1")
    for _ in range(times):
        page.goto(f"{visit.url}/")
        page.evaluate(TAPPED)
        page.get_by_role("button", name="Pause").click()
        expect(heading).to_have_text("Paused")
        page.wait_for_timeout(100)
        answers.append(float(page.evaluate("met.answer")))
        visit.whole.ask(Pressed(Press.LONG, "the benchmark"))
        expect(heading).not_to_have_text("Paused")
    left(page)
    print(f"from a tap to its answer on the screen: {median(answers):.0f} ms, at most {max(answers):.0f} ms")


def main(times: int) -> None:
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        with whole_station(Path(folder)) as (station, _):
            visit = Visit(browser, station)
            visit.pair()
            paints(browser, visit, times)
            taps(browser, visit, times)
            visit.close()
        browser.close()


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)

"""The script draws the same page as the station: word for word what a page without a script shows."""

from dataclasses import replace

import pytest
from playwright.sync_api import expect

from station.core.snapshot import Fill, ScaleState
from tests.browser.conftest import DESK
from tests.phone.shown import FREE, LIVE, QUIET, WEIGHING, with_net

pytestmark = pytest.mark.browser

STATES = {
    "too little": with_net("64.2", Fill.UNDER),
    "too much": with_net("111.6", Fill.OVER),
    "not known": with_net(None, Fill.UNDER),
    "alarm and banner": WEIGHING,
    "stale": replace(QUIET, scale=replace(LIVE, state=ScaleState.STALE, age_s=2.4, words="The scale is silent.")),
    "lost": replace(QUIET, scale=replace(LIVE, state=ScaleState.LOST, gross=None, age_s=None, words="Cable is out.")),
    "free": FREE,
}
PARTS = ("header", "main", ".notices > [data-list=alarms]", ".notices > [data-list=banners]")


@pytest.mark.parametrize("name", STATES)
@pytest.mark.parametrize("place", ["/", "/curing"])
def test_the_page_with_a_script_says_what_the_page_without_one_says(shop, place, name):
    # Begun with another state than the one compared, so that every word of it has been put there by the script.
    first = QUIET if STATES[name].bench is None else FREE
    shop.station.post(replace(first, seq=2))
    with shop.page(DESK, place) as painted:
        shop.station.post(replace(STATES[name], seq=3))
        with shop.page(DESK, place, java_script_enabled=False) as served:
            for part in (*PARTS, *(["footer"] if place == "/" else [])):
                want = served.locator(part).inner_text()
                expect(painted.locator(part)).to_have_text(want, use_inner_text=True)
    assert shop.complaints == []

"""What a person has asked of the device is followed: less motion, more contrast, colours of one's own."""

from __future__ import annotations

import pytest

from tests.browser.conftest import PHONE, Shop
from tests.phone.shown import QUIET

pytestmark = pytest.mark.browser

MOVES = """() => [...document.querySelectorAll('*')].filter((one) => {
  const style = getComputedStyle(one);
  return style.transitionDuration.split(', ').some((time) => parseFloat(time) > 0) || style.animationName !== 'none';
}).length"""
STYLE = "(one, name) => getComputedStyle(one)[name]"


def test_nothing_moves_for_who_wants_less_motion(shop: Shop) -> None:
    with shop.page(PHONE, paired=True) as page:
        assert page.evaluate(MOVES) > 0
    with shop.page(PHONE, paired=True, reduced_motion="reduce") as page:
        assert page.evaluate(MOVES) == 0


def test_soft_words_are_as_dark_as_the_others_for_who_wants_more_contrast(shop: Shop) -> None:
    with shop.page(PHONE) as page:
        soft = page.locator("footer .more")
        assert soft.evaluate(STYLE, "color") != page.locator("h1:visible").evaluate(STYLE, "color")
        page.emulate_media(contrast="more")
        assert soft.evaluate(STYLE, "color") == page.locator("h1:visible").evaluate(STYLE, "color")


def test_the_present_step_and_page_are_told_by_lines_where_the_device_sets_the_colours(shop: Shop) -> None:
    shop.station.post(QUIET)
    with shop.page(PHONE, paired=True, forced_colors="active") as page:
        now, other = page.locator(".strip [data-state=NOW]"), page.locator(".strip [data-state=AHEAD]")
        assert now.evaluate(STYLE, "borderTopWidth") == "4px"
        assert other.evaluate(STYLE, "borderTopWidth") == "1px"
        here, there = page.locator("nav [aria-current]"), page.get_by_role("link", name="Log")
        paper = page.locator("html").evaluate(STYLE, "backgroundColor")
        assert here.evaluate(STYLE, "borderBottomColor") != paper
        assert there.evaluate(STYLE, "borderBottomColor") == paper
        assert page.locator(".column .level").evaluate(STYLE, "stroke") != page.locator(".column .fill").evaluate(
            STYLE, "fill"
        )

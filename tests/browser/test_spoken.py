"""What a screen reader meets: names and roles of what is drawn, and what is said aloud in a whole weighing."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from station.core.snapshot import Snapshot
from station.core.views import snapshot
from station.phone.wire import state
from tests.browser.conftest import PHONE, Shop
from tests.browser.states import CLOCKS, FULL
from tests.phone.shown import BENCH, CURING, FREE, QUIET
from tests.play import CARD, GRIP, SILICONE, Play

pytestmark = pytest.mark.browser

HEARS = """async (states) => {
  const here = document.querySelector('script[src*="live.js"]').src;
  const { bind } = await import(new URL('bind.js', here));
  const { speak } = await import(new URL('speak.js', here));
  const regions = '[aria-live]:not([aria-live=off]), [role=alert], [role=status], [role=log]';
  const texts = () => [...document.querySelectorAll(regions)].map((one) => (one.hidden ? '' : one.innerText.trim()));
  const said = [];
  let before = texts();
  for (const now of states) {
    bind(document.body, now);
    speak(now);
    const after = texts();
    after.forEach((text, at) => { if (text && text !== before[at]) said.push(text); });
    before = after;
  }
  return said;
}"""
"""Shows one state after the other; gives every change of what a screen reader reads out by itself."""


class Watched(Play):
    """A bench that keeps what a page would show after each frame of the scale."""

    def __init__(self) -> None:
        self.seen: list[Snapshot] = []
        super().__init__()

    def keep(self) -> None:
        self.seen.append(snapshot(self.bench, self.now, len(self.seen) + 1, CARD))

    def frame(self, moving: bool = False) -> None:
        super().frame(moving)
        self.keep()


def whole_weighing() -> list[Snapshot]:
    """A cast from the empty pan to the alarm of its cure, nobody answering it for a while."""
    play = Watched()
    play.keep()
    play.begin(SILICONE, "220", GRIP)
    play.put("24.3")
    play.pour("200.0", g_per_s=20)
    play.press()
    play.pour("20.0", g_per_s=1)
    play.wait(181)
    play.keep()
    play.press()
    play.press()
    play.lift()
    play.press()
    for _ in range(245):
        play.wait(60, tick_s=60)
        play.keep()
    return play.seen


def heard(page: Page, seen: list[Snapshot]) -> list[str]:
    told: list[str] = page.evaluate(HEARS, [state(one) for one in seen])
    return told


def test_a_whole_weighing_is_told_step_by_step_and_no_number_runs(shop: Shop) -> None:
    seen = whole_weighing()
    assert len({one.bench.column.net for one in seen if one.bench and one.bench.column}) > 50, "numbers ran"
    shop.station.post(FREE)
    with shop.page(PHONE) as page:
        expect(page.get_by_role("heading", name="The bench is free")).to_be_visible()
        said = heard(page, seen)
    # Each is said once, but for what is true of each component.
    assert {words: times for words, times in Counter(said).items() if times > 1} == {"Stop.": 2}
    assert said[-1] == "Cast 1, Paddle grip: ready to demold."
    spoken = " | ".join(said)
    steps = ("Put an empty mixing cup", "Pour 200.0 g A.", "All within reach?", "Pour 20.0 g B.", "Mix.", "Emptied")
    assert [step for step in steps if step not in spoken] == []
    assert len([words for words in said if "to go" in words]) == 4, "a number ran"
    assert len(said) < 25, said
    assert "?." not in spoken


def test_what_lasts_is_told_when_it_comes_and_not_when_the_page_is_opened(shop: Shop) -> None:
    with shop.page(PHONE) as page:
        told = heard(page, [QUIET, replace(QUIET, banners=(FULL,)), replace(QUIET, banners=(FULL,)), QUIET])
    assert told == [FULL.words]


def tree(page: Page) -> list[tuple[str, str]]:
    """Role and name of all that a screen reader meets, in its order."""
    reader = page.context.new_cdp_session(page)
    nodes: list[dict[str, Any]] = reader.send("Accessibility.getFullAXTree")["nodes"]
    reader.detach()
    met = [node for node in nodes if not node.get("ignored")]
    return [(node["role"]["value"], node.get("name", {}).get("value", "")) for node in met]


def test_what_is_drawn_has_a_role_and_a_name_that_says_all_of_it(shop: Shop) -> None:
    with shop.page(PHONE, paired=True) as page:
        met = tree(page)
        names = {role: [name for one, name in met if one == role] for role, _ in met}
        assert any("64.2 g" in name and "108.0 g" in name for name in names["image"]), names["image"]
        assert ("list", "steps of this cast") in met
        assert len(names["figure"]) == 1
        assert names["heading"][0] == "Keep pouring"
        assert {"banner", "navigation", "main", "complementary"} <= names.keys()
        shop.station.post(replace(QUIET, seq=2, bench=replace(BENCH, column=None, dials=CLOCKS, title="Mix")))
        expect(page.locator(".sheet .dial")).to_have_count(3)
        # A dial is its words; the ring beside them is not met.
        met = tree(page)
        assert len([role for role, _ in met if role == "figure"]) == 3
        texts = [name for role, name in met if role == "StaticText"]
        assert [name for name in texts if name in ("Pot life", "Pour by", "Mix")]
        assert len([name for name in texts if re.fullmatch(r"[+−-]?\d+:\d\d", name)]) == 3, texts


def test_the_step_that_is_now_and_those_that_are_done_are_told_apart_without_seeing_them(shop: Shop) -> None:
    with shop.page(PHONE) as page:
        steps = page.locator(".strip li")
        expect(steps.nth(1)).to_have_attribute("aria-current", "step")
        assert page.locator(".strip [aria-current]").count() == 1
        listed = [name for role, name in tree(page) if role == "StaticText"]
        assert [name for name in listed if name in ("done", "now", "ahead")] == ["done", "now", "ahead"]
        assert not any("✓" in name for name in listed)


def test_lists_of_casts_keep_their_columns_on_a_phone(shop: Shop) -> None:
    with shop.page(PHONE, "/log") as page:
        met = tree(page)
        headers = [name for role, name in met if role == "columnheader"]
        assert headers == ["Cast", "Begun", "Mold, material", "Mix", "How far"]
        assert len([1 for role, _ in met if role == "row"]) > 10


def test_casts_that_cure_are_named_where_their_buttons_are(shop: Shop) -> None:
    shop.station.post(replace(QUIET, seq=2, curing=CURING))
    with shop.page(PHONE, "/curing", paired=True) as page:
        grip, footbed = (page.get_by_role("article", name=name) for name in ("paddle grip", "boot footbed"))
        expect(grip.get_by_role("button")).to_have_count(1)
        expect(footbed.get_by_role("link", name="Add a note")).to_be_visible()

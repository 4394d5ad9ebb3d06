"""Every main job is done with a keyboard alone, and the focus is seen, never hidden, never lost."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, expect

from station.core.clocks import ClockKind
from station.core.messages import Acknowledge, AddNote, BeginCast, Press, Pressed
from station.phone.server import serving
from station.sheet_desk import SheetDesk
from tests.browser.conftest import DESK, PHONE, Shop
from tests.browser.keys import HERE, Keys
from tests.browser.states import LIMIT, STATES
from tests.browser.test_page import until
from tests.phone.shown import ALARM, BENCH, CURING, FREE, QUIET, opened_station
from tests.typed_forms import FOAM

pytestmark = pytest.mark.browser

BY = "page (a phone)"
SIZES = pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])


def test_a_device_is_paired(shop: Shop) -> None:
    with shop.page(PHONE, "/pair") as page:
        keys = Keys(page)
        keys.use(page.get_by_role("button", name="Show a code at the bench"))
        expect(page.get_by_label("Code")).to_be_focused()
        page.keyboard.type(shop.station.codes[-1])
        keys.type(page.get_by_label("Name of this device"), "phone by the oven")
        keys.press("Enter")
        page.wait_for_url(f"{shop.url}/")
        assert [one.name for one in shop.station.door.paired()] == ["phone by the oven"]
    assert keys.wrong == []


@SIZES
def test_a_cast_is_planned_and_begun(shop: Shop, size: dict[str, int]) -> None:
    shop.station.post(replace(FREE, seq=2))
    with shop.page(size, paired=True) as page:
        keys = Keys(page)
        keys.use(page.get_by_role("link", name="Begin a cast"))
        page.wait_for_url(f"{shop.url}/new")
        keys.pick(page.get_by_role("combobox", name="Mold"), "kay")
        keys.type(page.get_by_label("Amount of mix"), "210")
        keys.type(page.get_by_label("A", exact=True), "0417")
        keys.use(page.get_by_role("button", name="Work it out"))
        keys.use(page.get_by_role("button", name="Begin at the bench"))
        page.wait_for_url(f"{shop.url}/")
        begun = shop.station.asked.commands[-1]
        assert isinstance(begun, BeginCast)
        assert str(begun.plan.total.text()).startswith("210")
    assert keys.wrong == []


def test_the_bench_is_pressed_and_the_focus_stays_on_the_button_though_its_words_change(shop: Shop) -> None:
    with shop.page(PHONE, paired=True) as page:
        keys = Keys(page)
        go = page.locator(".presses .go button")
        keys.to(go)
        keys.press("Enter")
        assert until(lambda: shop.station.asked.commands == [Pressed(Press.SHORT, BY)])
        shop.station.post(replace(QUIET, seq=2, bench=replace(BENCH, title="Mix", press_means="I pour now")))
        expect(page.get_by_role("button", name="I pour now")).to_be_focused()
        keys.press("Space")
        assert until(lambda: len(shop.station.asked.commands) == 2)
        # The button goes: its place is taken by the heading, where nothing can be pressed by mistake.
        shop.station.post(replace(QUIET, seq=3, bench=replace(BENCH, title="Weigh", press_means="")))
        expect(page.locator(".now h1")).to_be_focused()
    assert keys.wrong == []


def test_an_alarm_is_acknowledged_and_no_other_one_slips_under_the_key(shop: Shop) -> None:
    shop.station.post(replace(QUIET, seq=2, alarms=(ALARM,)))
    with shop.page(PHONE, paired=True) as page:
        keys = Keys(page)
        mine = page.locator(".alarm", has_text=ALARM.words).get_by_role("button")
        keys.to(mine)
        # A more urgent one comes above it, and the order turns: the key still answers the one that was meant.
        shop.station.post(replace(QUIET, seq=3, alarms=(LIMIT, ALARM)))
        expect(page.locator(".alarm b")).to_have_text([LIMIT.words, ALARM.words])
        assert mine.evaluate(HERE)
        shop.station.post(replace(QUIET, seq=4, alarms=(ALARM, LIMIT)))
        expect(page.locator(".alarm b")).to_have_text([ALARM.words, LIMIT.words])
        assert mine.evaluate(HERE)
        keys.press("Enter")
        assert until(lambda: shop.station.asked.commands == [Acknowledge(11, ClockKind.DEMOLD, BY)])
        shop.station.post(replace(QUIET, seq=5, alarms=(LIMIT,)))
        expect(page.locator(".now h1")).to_be_focused()
        keys.press("Enter")
        assert len(shop.station.asked.commands) == 1
    assert keys.wrong == []


def test_the_list_of_curing_casts_turns_and_the_focus_stays_with_its_cast(shop: Shop) -> None:
    shop.station.post(replace(QUIET, seq=2, curing=CURING))
    with shop.page(PHONE, "/curing", paired=True) as page:
        keys = Keys(page)
        note = page.locator(".cast", has_text="boot footbed").get_by_role("link", name="Add a note")
        keys.to(note)
        shop.station.post(replace(QUIET, seq=3, curing=CURING[::-1]))
        shop.station.post(replace(QUIET, seq=4, curing=(CURING[1], replace(CURING[0], number=13, mold="x"), CURING[0])))
        expect(page.locator(".cast")).to_have_count(3)
        assert note.evaluate(HERE)
        keys.press("Enter")
        page.wait_for_url(f"{shop.url}/log/12#note")
    assert keys.wrong == []


def test_a_note_is_added(shop: Shop) -> None:
    with shop.page(PHONE, "/log/3", paired=True) as page:
        keys = Keys(page)
        keys.type(page.get_by_label("Note for this cast"), "A bubble at the rim.")
        keys.use(page.get_by_role("button", name="Keep the note"))
        assert until(lambda: shop.station.asked.commands == [AddNote(3, "A bubble at the rim.", BY)])
    assert keys.wrong == []


@SIZES
def test_the_log_is_searched(shop: Shop, size: dict[str, int]) -> None:
    with shop.page(size, "/log") as page:
        keys = Keys(page)
        keys.type(page.get_by_role("searchbox"), "kayak 4")
        keys.use(page.get_by_role("button", name="Find"))
        expect(page.locator("a.num")).to_have_text(["40", "34", "24", "14", "4"])
        keys.use(page.locator("main summary"))
        keys.pick(page.get_by_role("combobox", name="How far it came"), "batch lost")
        keys.press("Enter")
        keys.use(page.get_by_role("button", name="Find"))
        expect(page.locator("a.num")).to_have_text(["14"])
        keys.use(page.get_by_role("link", name="14", exact=True))
        expect(page.get_by_role("heading", level=1)).to_have_text("Cast 14: kayak seat pad")
    assert keys.wrong == []


@pytest.fixture
def sheets(browser: Browser, tmp_path: Path) -> Iterator[Shop]:
    with opened_station(sheets=SheetDesk((), tmp_path)) as station:
        station.post(replace(QUIET, seq=1))
        with serving(station.app, "127.0.0.1", 0, station.streams.end) as port:
            yield Shop(station, browser, port)


NEEDED = ("key", "title", "tolerance", "pour_into", "component 1 name", "component 1 parts", "component 2 name")


def test_a_material_is_entered_after_a_slip(sheets: Shop) -> None:
    with sheets.page(DESK, "/materials/new", paired=True) as page:
        keys = Keys(page)

        def field(name: str) -> Locator:
            return page.locator(f'[name="{name}"]')

        for name in ("key", "title"):
            keys.type(field(name), FOAM[name])
        keys.pick(field("chemistry"), FOAM["chemistry"])
        keys.pick(field("basis"), FOAM["basis"])
        for name in NEEDED[2:]:
            keys.type(field(name), FOAM[name])
        keys.type(field("component 2 parts"), "many")
        keys.to(field("component 1 isocyanate"))
        keys.press("Space")
        for name in ("times reference", "times pot_life", "times mix", "times pour_reserve", "times demold"):
            keys.type(field(name), FOAM[name])
        keys.use(page.get_by_role("button", name="Keep it"))
        expect(page.get_by_role("alert").first).to_contain_text("Nothing is kept yet")
        slipped = page.locator("[aria-invalid]")
        expect(slipped).to_have_attribute("name", "component 2 parts")
        expect(slipped).to_have_accessible_description(re.compile("Must be a number above zero"))
        keys.type(slipped, "62,5")
        keys.use(page.get_by_role("button", name="Keep it"))
        expect(page.locator("summary", has_text="Test foam (invented)")).to_be_visible()
    assert keys.wrong == []


@SIZES
@pytest.mark.parametrize("name", ["weighing, alarms and banners", "several cure, alarms", "a plan worked out", "log"])
def test_all_of_a_page_is_gone_through_and_the_way_past_its_head_comes_first(
    shop: Shop, size: dict[str, int], name: str
) -> None:
    state = next(one for one in STATES if one.name == name)
    with shop.page(size, paired=True) as page:
        state.enter(page, shop)
        keys = Keys(page)
        met = keys.whole_round()
        assert 'class="skip"' in met[0]
        assert len(met) > 8
        keys.from_the_top()
        keys.to(page.get_by_role("link", name="Skip to the content"))
        keys.press("Enter", "Tab")
        assert page.evaluate("document.querySelector('main').contains(document.activeElement)")
        levels = page.locator("h1:visible, h2:visible, h3:visible, h4:visible").evaluate_all(
            "all => all.map((one) => Number(one.nodeName[1]))"
        )
        assert levels[0] == 1
        assert all(after - before <= 1 for before, after in pairwise(levels))
    assert keys.wrong == []

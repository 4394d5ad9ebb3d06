"""Judging on a phone in a real browser: a few taps for a good part, all of it on one screen, at the bench too."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from station.core.judging_events import HardnessScale, Severity, Verdict
from station.part_records import PartRecord
from tests.browser.everywhere import Visit
from tests.phone.judged_part import station_with_parts
from tests.photos.pictures import jpeg
from tests.system.whole import Whole

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def visit(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Visit]:
    with station_with_parts(tmp_path_factory.mktemp("state")) as whole:
        made = Visit(browser, whole)
        made.pair()
        yield made
        made.close()


def part(whole: Whole, number: int) -> PartRecord:
    record = whole.station.archive.record(number)
    assert record is not None
    assert record.part is not None
    return record.part


def test_the_part_on_the_pan_is_taken_and_judged_good_in_four_taps(visit: Visit) -> None:
    page, whole = visit.page, visit.whole
    page.goto(f"{visit.url}/")
    whole.stand(0.0)
    whole.stand(209.5)
    expect(page.locator(".part-mass")).to_have_text("209.5 g")
    page.get_by_role("button", name="Take it trimmed").click()
    expect(page.locator(".cue")).to_contain_text("Part of cast 2: 209.5 g, trimmed.")
    page.goto(f"{visit.url}/curing")
    page.locator(".to-judge a").first.click()
    page.get_by_label("good").check()
    page.get_by_role("button", name="Keep the verdict").click()
    expect(page.locator("#known")).to_contain_text("209.5 g, trimmed")
    found = part(whole, 2)
    assert (found.verdict, found.mass, found.trimmed) == (Verdict.GOOD, found.mass, True)
    assert visit.wrong == []


def test_defects_readings_and_a_verdict_are_kept_by_one_button(visit: Visit) -> None:
    page, whole = visit.page, visit.whole
    page.goto(f"{visit.url}/judge/2")
    page.get_by_label("scrap").check()
    page.get_by_text("What is wrong with it").click()
    expect(page.get_by_label("tear: where on the part")).to_be_hidden()
    page.get_by_label("tear", exact=True).select_option(label="spoils the part")
    page.get_by_label("tear: where on the part").fill("heel")
    page.locator("summary", has_text="Hardness").click()
    page.get_by_label("Scale of the durometer").select_option(label="Shore 00")
    for row, value in ((1, "45"), (2, "47,5")):
        page.get_by_label(f"Reading {row}", exact=True).fill(value)
    page.get_by_role("button", name="Keep all of it").click()
    expect(page.locator("#known")).to_contain_text("scrap; tear (spoils the part), heel")
    found = part(whole, 2)
    assert [(one.kind.value, one.severity, one.place) for one in found.defects] == [("tear", Severity.SPOILT, "heel")]
    assert [(one.scale, one.value) for one in found.readings] == [
        (HardnessScale.SHORE_00, 45.0),
        (HardnessScale.SHORE_00, 47.5),
    ]
    assert visit.wrong == []


def test_a_photo_is_taken_while_the_part_is_judged_and_what_was_typed_stays(visit: Visit) -> None:
    page, whole = visit.page, visit.whole
    page.goto(f"{visit.url}/judge/2")
    page.get_by_label("Remark").fill("soft at the heel")
    photo = {"name": "heel.jpg", "mimeType": "image/jpeg", "buffer": jpeg(1800, 1200)}
    page.get_by_label("Take a photo").set_input_files(photo)  # type: ignore[arg-type]
    page.get_by_label("What they show").fill("the heel")
    page.get_by_role("button", name="Add the photos").click()
    expect(page.locator("#photos img")).to_have_attribute("alt", "the heel")
    expect(page.get_by_label("Remark")).to_have_value("soft at the heel")
    record = whole.station.archive.record(2)
    assert record is not None
    assert [(one.caption, one.wide, one.high) for one in record.photos] == [("the heel", 1600, 1067)]
    assert visit.wrong == []


def test_without_a_script_the_form_works_as_it_stands(browser: Browser, visit: Visit) -> None:
    context = browser.new_context(
        viewport={"width": 360, "height": 740}, java_script_enabled=False, storage_state=visit.context.storage_state()
    )
    page = context.new_page()
    page.goto(f"{visit.url}/judge/2")
    page.get_by_label("usable").check()
    page.get_by_role("button", name="Keep the verdict").click()
    assert part(visit.whole, 2).verdict is Verdict.USABLE
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    context.close()

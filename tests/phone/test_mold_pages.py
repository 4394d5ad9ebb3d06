"""The page of the molds: what they take, how casts came out of them, and entering one without losing what was typed."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from station.core.messages import ApplyRelease, RetireMold, ReturnMold
from station.core.mold_care import MoldCare
from station.errors import LedgerFault
from station.phone.mold_view import MoldCasts
from station.sheet_desk import SheetDesk
from tests.insight.test_wear import judged
from tests.phone.shown import opened_station
from tests.phone.small_molds import SmallBook
from tests.typed_forms import MOLD

PAST = MoldCasts(9, 6, 2, 31, datetime(2026, 3, 1, 12, 0, tzinfo=UTC), True, (3, 2, 1))


@pytest.fixture
def book():
    return SmallBook({"paddle-grip": PAST})


@pytest.fixture
def shop(tmp_path, book):
    sheets = SheetDesk((), tmp_path)
    with opened_station(molds=sheets, mold_book=book) as station:
        station.shelf.molds = sheets.molds
        yield station


def card(page, key):
    return page.split(f'id="{key}"')[1].split("</section>")[0]


def test_every_mold_shows_what_it_takes_and_how_its_casts_came_out(shop, book):
    grip = card(shop.client().get("/molds").text, "paddle-grip")
    for said in (
        "197.5 cm³",
        "220.0 g",
        "<td>9</td>",
        "6 of 8, 75 %",
        "3 good, 2 usable, 1 scrap",
        "31, begun 2026-03-01",
    ):
        assert said in grip
    book.pasts["paddle-grip"] = replace(PAST, out=0, failed=0, sure=False)
    grip = card(shop.client().get("/molds").text, "paddle-grip")
    assert "none has ended yet" in grip
    assert "(clock not set)" in grip
    assert "none yet" in card(shop.client().get("/molds").text, "boot-footbed")


def test_a_record_that_cannot_be_read_is_said_and_the_molds_are_shown(tmp_path):
    broken = SmallBook(broken=LedgerFault("The record cannot be read."))
    with opened_station(molds=SheetDesk((), tmp_path), mold_book=broken) as shop:
        page = shop.client().get("/molds").text
    assert "cannot be read now. The record cannot be read." in page
    assert "197.5 cm³" in card(page, "paddle-grip")
    assert "Casts made" not in card(page, "paddle-grip")


def test_a_mold_is_entered_shown_and_changed(shop):
    visitor = shop.paired()
    assert visitor.send("/molds/new", **MOLD).headers["Location"].endswith("/molds#test-pad")
    page = shop.client().get("/molds").text
    assert "0.4 %" in card(page, "test-pad")
    assert 'href="/molds/test-pad/change"' in page
    assert 'href="/molds/paddle-grip/change"' not in page
    form = shop.client().get("/molds/test-pad/change").text
    assert '<option value="no" selected>no</option>' in form
    assert 'value="160 g"' in form
    assert visitor.send("/molds/test-pad/change", **(MOLD | {"shot": "171 g"})).status_code == 303
    assert "171.0 g" in card(shop.client().get("/molds").text, "test-pad")


def test_what_was_typed_stays_and_the_slip_is_told_at_its_field(shop):
    answer = shop.paired().send("/molds/new", **(MOLD | {"shot": "<much>"}))
    assert answer.status_code == 409
    box = answer.text.split('name="shot"')[1].split("</div>")[0]
    assert 'value="&lt;much&gt;"' in box
    assert 'aria-invalid="true" aria-describedby="shot-slip' in box
    assert 'id="shot-slip"' in box
    assert 'value="1300 cm3"' in answer.text
    assert 'href="/molds">Molds</a>' in answer.text


def test_a_name_from_a_person_is_never_taken_for_markup(shop):
    shop.paired().send("/molds/new", **(MOLD | {"title": "<script>alert(1)</script>", "cautions": "<b>hot</b>"}))
    page = shop.client().get("/molds").text
    assert "<script>alert" not in page
    assert "<b>hot" not in page
    assert "&lt;b&gt;hot" in page


def test_only_a_paired_device_enters_a_mold_and_only_one_entered_here_is_changed(shop):
    visitor = shop.paired()
    assert visitor.send("/molds/paddle-grip/change", **MOLD).status_code == 409
    assert shop.client().get("/molds/paddle-grip/change").status_code == 409
    assert shop.client().post("/molds/new", data=MOLD, headers={"Origin": "http://localhost"}).status_code == 403


def test_shots_and_release_agent_are_told_and_the_button_says_that_it_is_on(shop, book):
    shop.paired().send("/molds/new", **(MOLD | {"release_every": "5"}))
    book.molds = (MoldCare("test-pad", 12, 5), MoldCare("paddle-grip", 30))
    page = shop.client().get("/molds").text
    assert "Release agent is due: 5 shots since release agent was put on. It is to be put on every 5 shots." in page
    assert "<td>12</td>" in card(page, "test-pad")
    assert "<button" not in card(page, "test-pad")
    assert "elease agent" not in card(page, "paddle-grip")  # its sheet asks for none, and none is on record
    phone = shop.paired()
    assert '<button class="big">Release agent is on</button>' in card(phone.client.get("/molds").text, "test-pad")
    answer = phone.send("/api/release", mold="paddle-grip", back="/molds/paddle-grip")
    assert (answer.status_code, answer.headers["Location"]) == (303, "/molds/paddle-grip")
    assert shop.asked.commands == [ApplyRelease("paddle-grip", "page (test phone)")]


def test_a_mold_is_retired_with_a_reason_and_taken_into_use_again(shop, book):
    phone = shop.paired()
    place = "/molds/paddle-grip"
    shown = phone.client.get(place).text
    assert "Take it into use again" not in shown
    assert 'action="/api/retire"' in shown
    assert phone.send("/api/retire", mold="paddle-grip", reason="torn at the seam", back=place).status_code == 303
    assert phone.send("/api/retire", mold="paddle-grip", reason=" ", back=place).status_code == 400
    book.molds = (MoldCare("paddle-grip", 30, None, "torn <at> the seam"),)
    shown = phone.client.get(place).text
    assert "Retired, nothing is cast in it: torn &lt;at&gt; the seam" in shown
    assert 'action="/api/retire"' not in shown
    assert phone.send("/api/return", mold="paddle-grip", back=place).status_code == 303
    assert shop.asked.commands == [
        RetireMold("paddle-grip", "torn at the seam", "page (test phone)"),
        ReturnMold("paddle-grip", "page (test phone)"),
    ]


def test_a_mold_that_is_on_no_sheet_is_neither_shown_nor_looked_after(shop):
    assert shop.client().get("/molds/no-such").status_code == 404
    answer = shop.paired().ask("release", {"mold": "no-such"})
    assert (answer.status_code, answer.json["refused"]) == (409, "There is no mold 'no-such'. Look it up under Molds.")
    assert shop.asked.commands == []


def test_programs_are_told_the_same(shop, book):
    book.molds = (MoldCare("boot-footbed", 3, 3, "worn"),)
    told = {one["key"]: one for one in shop.client().get("/api/molds").json["molds"]}
    assert told["boot-footbed"] == {
        "key": "boot-footbed",
        "title": "Boot footbed",
        "shots": 3,
        "since_release": 3,
        "release_every": 5,
        "release": {"name": "ENOUGH", "words": "not yet due"},
        "retired": "worn",
    }


def test_its_wear_is_told_in_a_sentence_and_a_table_and_few_shots_are_called_few(shop, book):
    place = "/molds/paddle-grip"
    assert "Too little is known of its wear: 8 judged or weighed parts" in shop.client().get(place).text
    book.shots = tuple(judged({*range(11, 21)}))
    page = shop.client().get(place).text
    assert "Over its shots these became more: tears and flash" in page
    row = page.split('scope="row">tears and flash')[1].split("</tr>")[0]
    assert "shots 1 to 20" in row
    assert "0 of 10 in the earlier half, 10 of 10 in the later" in row
    assert "they become more" in row
    assert "too few for a trend" in page.split('scope="row">part mass')[1]
    book.broken = LedgerFault("The record cannot be read.")
    page = shop.client().get(place).text
    assert "cannot be read now" in page
    assert "Its wear" not in page

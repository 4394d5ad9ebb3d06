"""The page of one lot: which casts contain it, which parts to set aside, and the same for programs."""

import re

import pytest

from tests.phone.shown import opened_station
from tests.phone.small_stock import SmallStock


@pytest.fixture
def stock():
    return SmallStock()


@pytest.fixture
def shop(stock):
    with opened_station(stock=stock) as station:
        yield station


def row(page, number):
    return page.split(f'href="/log/{number}"')[1].split("</li>")[0]


def test_everything_of_a_lot_stands_on_one_page(shop):
    page = shop.client().get("/stock/lot?lot=FA-1").text
    for said in (
        "<h1>Lot FA-1</h1>",
        "Foam (invented), A",
        "2026-02-16",
        "572.4 g",
        "700.5 g left, counted by",
    ):
        assert said in page
    assert "Seat &lt;pad&gt;" in page
    assert "120.4 g as A, in the mold</p>" in row(page, 9)
    assert "nothing of it as A, given up</p>" in row(page, 8)
    assert "(clock not set)" in row(page, 8)
    assert "121.0 g as A, demolded, good" in row(page, 5)
    assert "3 casts contain it: 331.4 g in all." in page


def test_only_parts_that_are_there_are_set_aside(shop):
    page = shop.client().get("/stock/lot?lot=FA-1").text
    assert "Set aside the parts of the 2 casts 5, 9." in page
    assert [("tickbox" in row(page, number)) for number in (9, 8, 7, 5)] == [True, False, False, True]


def test_a_lot_of_many_casts_is_turned_by_its_address(shop, stock):
    first = shop.client().get("/stock/lot?lot=FA-1").text
    address = re.search(r'href="([^"]+)">Older<', first)[1].replace("&amp;", "&")
    assert address == "/stock/lot?lot=FA-1&before=5"
    assert ">Older<" not in shop.client().get(address).text
    assert stock.asked == [("FA-1", None), ("FA-1", 5)]
    shop.client().get("/stock/lot?lot=FA-1&before=-3")
    assert stock.asked[-1] == ("FA-1", None)


def test_a_lot_on_the_shelf_that_was_never_cast_has_a_page_and_an_unknown_one_is_told(shop):
    page = shop.client().get("/stock/lot?lot=FA-2")
    assert page.status_code == 200
    assert "nobody knows &lt;how much&gt;" in page.text
    assert "No part contains it." in page.text
    unknown = shop.client().get("/stock/lot?lot=%3Cfa-1%3E")
    assert unknown.status_code == 404
    assert "Nothing is known of a lot &lt;fa-1&gt;" in unknown.text
    assert 'value="&lt;fa-1&gt;"' in unknown.text
    assert "Number of the lot" in shop.client().get("/stock/lot").text


def test_the_stock_and_the_sheet_of_a_cast_lead_to_it(shop):
    assert 'href="/stock/lot?lot=FA-1"' in shop.client().get("/stock").text
    sheet = shop.client().get("/log/3").text
    assert re.search(r'data-of="lot"[^>]*><a href="/stock/lot\?lot=[^"]+">', sheet)


def test_programs_are_told_the_same(shop):
    told = shop.client().get("/api/lot?lot=FA-1").json
    assert (told["left_mg"], told["older"]) == (572400, True)
    assert told["counts"] == [
        {"at": "2026-03-02T09:14:00+00:00", "sure": True, "left_mg": 700500, "by": "page (phone)"}
    ]
    assert [(one["number"], one["taken_mg"], one["verdict"], one["set_aside"]) for one in told["casts"]] == [
        (9, 120400, None, True),
        (8, 0, None, False),
        (7, 90000, None, False),
        (5, 121000, "good", True),
    ]
    unknown = shop.client().get("/api/lot?lot=nowhere")
    assert (unknown.status_code, unknown.json) == (404, {"refused": "Nothing is known of a lot of this number."})
    assert shop.client().get("/api/lot").status_code == 400

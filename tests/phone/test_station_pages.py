"""The page Station: the way to every part that has a page, and how each part fares."""

import re

from station.core.mass import Mass
from tests.phone.shown import QUIET, opened_station
from tests.phone.small_desk import SmallDesk, opened_with


def test_every_page_leads_to_five_places_and_marks_the_present_one(station):
    client = station.client()
    for place, mark in (
        ("/", "/"),
        ("/curing", "/curing"),
        ("/log", "/log"),
        ("/work", "/work"),
        ("/time", "/station"),
    ):
        head = client.get(place).text.partition("<nav")[2].partition("</nav>")[0]
        assert re.findall(r'href="([^"]+)"', head) == ["/", "/curing", "/log", "/work", "/station"]
        assert re.findall(r'href="([^"]+)" aria-current', head) == [mark]


def test_the_weight_in_the_head_is_the_way_to_the_scale():
    with opened_with(SmallDesk()) as station:
        station.post(QUIET)
        assert '<a class="chipbody" href="/scale"' in station.client().get("/").text
    with opened_station() as station:
        station.post(QUIET)
        assert 'class="chipbody" href' not in station.client().get("/").text
        assert Mass.grams("159.3").text() in station.client().get("/").text


def test_only_parts_that_this_station_has_are_linked(station):
    page = station.client().get("/station").text
    assert 'href="/time"' in page
    assert 'href="/push"' not in page
    with opened_with(SmallDesk()) as other:
        assert '<li><a href="/scale">' in other.client().get("/station").text
    assert '<li><a href="/scale">' not in page

"""The page of insight: which casts it compares, what it draws and says, and what it answers to nonsense."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from station.errors import LedgerFault
from tests.phone.shown import FREE, opened_station
from tests.phone.small_book import SmallBook, marked_up, year


@pytest.fixture
def book():
    return SmallBook(year(60))


@pytest.fixture
def shop(book):
    with opened_station(facts=book) as station:
        station.post(FREE)
        yield station


def text(shop, place):
    answer = shop.client().get(place)
    assert answer.status_code == 200, answer.text
    return answer.text


def test_the_newest_casts_mold_and_material_are_shown_unless_others_are_asked_for(shop):
    page = text(shop, "/insight")
    assert '<option value="grip" selected>' in page
    assert '<option value="foam" selected>' in page
    assert page.count('href="/log/') == 20
    every = text(shop, "/insight?mold=&material=")
    assert every.count('href="/log/') == 60
    assert text(shop, "/insight?mold=pad&last=30").count('href="/log/') == 30


def test_a_chart_is_drawn_told_and_stands_beside_as_a_table(shop):
    page = text(shop, "/insight?figure=density&mold=pad&material=foam")
    assert "Beyond a limit: cast 41." in page
    assert page.count("<svg viewBox") >= 5
    assert 'aria-label="molded density of casts 1 to 59. The table below says the same."' in page
    row = re.search(r'<tr><th scope="row"><a class="num" href="/log/41">41</a></th>(.*?)</tr>', page)
    assert row is not None
    assert row[1].endswith("<td>beyond a limit</td>")
    assert "of 30 casts that differ by chance alone, nine charts in a hundred have a mark, more where" in page


def test_figures_that_differ_from_mold_to_mold_are_not_charted_together(shop):
    page = text(shop, "/insight?figure=shot&mold=&material=")
    assert "Choose one mold and one material" in page
    assert 'href="/log/' not in page


def test_yields_and_defects_have_their_intervals(shop):
    page = text(shop, "/insight?mold=&material=")
    assert "Good: 37 of 60: 62 % (with 95 % confidence 49 to 73 %)." in page
    assert "Good casts by mold" in page
    assert "Some of these groups are small." in page
    assert page.index("flash") < page.index("soft spot")


def test_what_is_allowed_is_shaded_and_judged_with_its_interval(shop):
    page = text(shop, "/insight?figure=density&mold=pad&material=foam&low=0.39&high=0.43")
    assert "1 cast of 40 lies outside." in page
    assert re.search(r"Cpk = 0\.58, with 95 % confidence 0\.41 to 0\.74", page)
    assert "Casts are marked above" in page
    assert "Shaded: what you allow." in page


@pytest.mark.parametrize(
    ("query", "words"),
    [
        ("figure=beauty", "There is no such figure."),
        ("last=7", "Choose how many casts"),
        ("last=" + "9" * 50, "Choose how many casts"),
        ("since=yesterday", "is no day"),
        ("since=2026-05-01&until=2026-04-01", "lies before the first"),
        ("low=abc", "is no number"),
        ("low=1.5 g", "is no number"),
        ("high=1,500", "may be 1500 or 1.500"),
        ("low=2&high=1", "must lie below the highest"),
    ],
)
def test_nonsense_is_answered_at_its_field_and_the_rest_is_shown(shop, query, words):
    answer = shop.client().get(f"/insight?mold=pad&{query}")
    assert answer.status_code == 400
    assert words in answer.text
    assert 'class="slip"' in answer.text
    assert "How the parts came out" in answer.text
    api = shop.client().get(f"/api/insight?{query}")
    assert api.status_code == 400
    assert "This cannot be read" in api.get_json()["refused"]


def test_too_few_casts_are_drawn_without_limits(book, shop):
    book.casts = book.casts[:3]
    page = text(shop, "/insight?mold=&material=")
    assert "3 casts have this figure. Limits take 5." in page
    assert "ink-dashed" not in page


def test_without_casts_the_page_says_so(book, shop):
    book.casts = ()
    assert "No cast was poured yet." in text(shop, "/insight")
    assert shop.client().get("/api/insight").get_json()["values"] == []


def test_a_mold_that_was_never_used_leaves_nothing(shop):
    assert "No poured cast fits all of this." in text(shop, "/insight?mold=nowhere")


def test_casts_nobody_judged_are_told(book, shop):
    book.casts = tuple(replace(one, verdict=None) for one in year(12))
    page = text(shop, "/insight?mold=&material=")
    assert "No verdict yet on these 12 casts." in page
    assert "Good casts by" not in page


def test_names_from_sheets_are_text(shop, book):
    book.casts = marked_up(30).casts
    page = text(shop, "/insight?mold=&material=")
    assert "<b>mold</b>" not in page
    assert "&lt;b&gt;mold&lt;/b&gt;" in page


def test_a_record_that_cannot_be_read_is_a_sentence(book, shop, monkeypatch):
    def broken(**_):
        raise LedgerFault("The record cannot be read.", "Look at the page Record.")

    monkeypatch.setattr(book, "facts", broken)
    answer = shop.client().get("/insight")
    assert answer.status_code == 503
    assert "The record cannot be read." in answer.text


def test_programs_get_every_figure_with_full_precision(shop, book):
    told = shop.client().get("/api/insight?figure=mix&last=30&mold=pad").get_json()
    assert told["figure"] == "MIX"
    assert [one["number"] for one in told["values"]] == [c.number for c in book.facts(mold="pad", last=30)]
    assert told["values"][0]["value"] == book.facts(mold="pad", last=30)[0].mix_s
    assert told["judged"]["good"]["of"] == 30
    assert told["limits"]["low"] < told["limits"]["middle"] < told["limits"]["high"]


def test_the_log_leads_there(shop):
    assert '<a href="/insight">' in text(shop, "/log")
    assert '<a href="/log" aria-current="true"' in text(shop, "/insight")

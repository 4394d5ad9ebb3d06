"""The log: found and narrowed by its address alone, turned by numbers, and one cast as a sheet."""

import re
from datetime import UTC, datetime, timedelta

import pytest

from station.records import Stage
from tests.phone.test_pages import plain


def numbers(page):
    return [int(found) for found in re.findall(r'class="num" href="/log/(\d+)"', page)]


def link(page, words):
    return re.search(rf'href="([^"]+)">{words}</a>', page)[1].replace("&amp;", "&")


def test_the_log_is_turned_by_numbers_so_that_a_new_cast_moves_nothing(station):
    client = station.client()
    first = client.get("/log").get_data(as_text=True)
    assert numbers(first) == list(range(40, 10, -1))
    assert link(first, "Older") == "/log?before=11"
    second = client.get("/log?before=11").get_data(as_text=True)
    assert numbers(second) == list(range(10, 0, -1))
    assert link(second, "Newer") == "/log?after=10"
    assert (">Newer<" in first, ">Older<" in second) == (False, False)
    assert numbers(client.get("/log?after=10").get_data(as_text=True)) == list(range(40, 10, -1))


@pytest.mark.parametrize("odd", ["before=-5", "before=x", "before=", "after=1e9", "before=99999999999999"])
def test_a_place_that_is_none_is_the_beginning(station, odd):
    assert numbers(station.client().get(f"/log?{odd}").get_data(as_text=True))[0] == 40


def test_words_and_choices_stand_in_the_address_and_stay_in_the_form(station):
    answer = station.client().get("/log?search=Kayak++4&end=lost&mold=pad&material=foam&since=2026-01-20")
    page = answer.get_data(as_text=True)
    asked = station.log.asked[-1]
    assert (asked.search, asked.stage, asked.mold, asked.material) == ("Kayak 4", Stage.LOST, "pad", "foam")
    assert asked.since == datetime(2026, 1, 20).astimezone().astimezone(UTC)
    assert numbers(page) == [14]
    assert 'value="Kayak 4"' in page
    assert '<option value="lost" selected>' in page
    assert '<option value="pad" selected>' in page
    assert 'name="since" value="2026-01-20"' in page
    assert "<details open>" in page


def test_the_last_day_is_meant_whole(station):
    station.client().get("/log?since=2026-03-01&until=2026-03-01")
    asked = station.log.asked[-1]
    assert asked.until - asked.since == timedelta(days=1)


@pytest.mark.parametrize(
    ("wrong", "field", "says"),
    [
        ("since=yesterday", "since", "is no day"),
        ("until=2026-02-30", "until", "is no day"),
        ("since=2026-03-02&until=2026-03-01", "until", "lies before the first"),
        ("end=eaten", "end", "Choose one of the list"),
        ("since=0001-01-01", "since", "is no day"),
    ],
)
def test_what_is_no_day_is_said_at_its_field_and_stays_there(station, wrong, field, says):
    answer = station.client().get(f"/log?{wrong}")
    page = answer.get_data(as_text=True)
    assert answer.status_code == 400
    slip = re.search(rf'id="{field}-slip">([^<]+)', page)[1]
    assert says in slip
    assert re.search(rf'name="{field}"[^>]*aria-describedby="{field}-slip"', page)


def test_an_empty_list_says_what_may_be_left_out(station):
    page = station.client().get("/log?search=nothing&end=lost").get_data(as_text=True)
    assert "Leave something out" in page
    assert link(page, "the words “nothing”") == "/log?end=lost"
    assert link(page, "“batch lost”") == "/log?search=nothing"


def test_a_number_leads_straight_to_its_cast(station):
    assert ">Cast 14</a>" in station.client().get("/log?search=14").get_data(as_text=True)
    assert ">Cast 41</a>" not in station.client().get("/log?search=41").get_data(as_text=True)


def test_a_cast_is_a_sheet_with_amounts_times_and_who_pressed(station):
    page = station.client().get("/log/3").get_data(as_text=True)
    words = plain(page)
    for said in (
        "Cast 3: kayak seat pad",
        "120.3 g",
        "+12 % of what is allowed",  # 0.3 g of the 2.4 g between 120.0 g and 122.4 g
        "−141 % of what is allowed",  # 3.1 g where 2.2 g are allowed
        "✓ in the band",
        "✕ outside the band",
        "101 s after first contact, pot life 4 min",
        "42.1 min after the pour",
        "heard by pedal 29 s later",
        "21.5 to 22.0 °C",
        "begun page (test phone)",
        "poured pedal",
        "A 100.00 : B 87.45 (off by B −2.83 %)",
    ):
        assert said in words, said
    assert "The heel is &lt;b&gt;dry&lt;/b&gt;." in page


def test_a_pour_is_drawn_with_its_moments_and_told_in_words(station):
    page = station.client().get("/log/3").get_data(as_text=True)
    drawn = re.search(r'class="drawing" aria-label="(B into the mixing cup[^"]+)"', page)[1]
    # 6 g a second: 86.64 g (0.8 of 108.3 g) are there at 14.5 s, the band from 106.1 g is never reached.
    assert "grams in the cup over 30 s" in drawn
    assert "The band goes from 106.1 g to 110.4 g." in drawn
    assert "near after 14 s" in drawn
    assert "the band is reached" not in drawn
    assert "accepted after 30 s: 105.2 g" in drawn
    assert page.count('class="trace"') == 2
    assert "A weighing trace in the record is damaged" in page


def test_the_record_may_be_taken_away_as_json_and_stands_below_as_text(station):
    client = station.client()
    answer = client.get("/log/3.json")
    assert answer.get_json() == {"number": 3, "mold": "kayak seat pad"}
    assert answer.headers["Content-Disposition"] == 'attachment; filename="cast-3.json"'
    assert "B 108.2 g &lt;checked&gt;" in client.get("/log/3").get_data(as_text=True)
    assert client.get("/log/41.json").status_code == client.get("/log/41").status_code == 404


def test_a_cast_that_is_over_can_be_cast_again_but_not_given_up(station):
    page = station.paired().look("/log/3")
    assert 'href="/new?again=3"' in page
    assert 'href="/give-up/3"' not in page
    assert "demold.ics" not in page  # nobody makes calendar files here

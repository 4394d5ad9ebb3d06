"""The page of the scale without a script: what it shows in each state, what it hands to the desk, what it refuses."""

import re
from collections.abc import Iterator
from dataclasses import replace
from html import unescape

import pytest

from station.core.moment import Moment
from station.errors import Fault, Refused
from tests.phone.shown import AT, FREE, QUIET, Station, Visitor
from tests.phone.small_desk import GOOD, NOT_GOOD, PORTS, RUNNING, TEXT, YES_NO, SmallDesk, checked, opened_with
from tests.phone.test_pages import plain

REFRESH = '<noscript><meta http-equiv="refresh" content="2"></noscript>'


@pytest.fixture
def desk() -> SmallDesk:
    return SmallDesk()


@pytest.fixture
def station(desk: SmallDesk) -> Iterator[Station]:
    with opened_with(desk) as opened:
        opened.post(QUIET)
        yield opened


@pytest.fixture
def visitor(station: Station) -> Visitor:
    return station.paired()


def part(page: str, begin: str, end: str = "</section>") -> str:
    return page[page.index(begin) :].split(end, maxsplit=1)[0]


def test_the_idle_page_offers_every_port_and_both_errands(visitor):
    page = visitor.look("/scale")
    words = plain(page)
    assert "status-commas on /dev/ttyUSB1, 9600 baud, 8N1" in words
    assert re.findall(r'name="port" value="([^"]+)"', page) == [PORTS[0].name, PORTS[1].name, "other"]
    assert "⚠ Its name may change" in words
    assert "not a verification for trade" in words
    assert 'action="/scale/find"' in page
    assert 'action="/scale/check"' in page
    assert 'action="/scale/leave"' not in page
    assert REFRESH not in page


def test_without_a_port_the_page_says_what_to_plug_in_and_takes_an_address(visitor, desk):
    desk.offered = ()
    page = visitor.look("/scale")
    assert "No serial port is plugged in. Connect the scale's cable" in plain(page)
    assert re.search(r'value="other" checked', page)


def test_the_only_port_is_chosen_already_and_among_several_none_is(visitor, desk):
    assert " checked" not in part(visitor.look("/scale"), 'class="ports"')
    desk.offered = PORTS[:1]
    assert re.findall(r'value="([^"]+)" checked', visitor.look("/scale")) == [PORTS[0].name]


def test_a_running_errand_shows_what_was_told_the_newest_last_and_reloads(visitor, desk):
    desk.view = replace(RUNNING, told=tuple(f"Line {n}." for n in range(1, 8)))
    page = visitor.look("/scale")
    words = plain("<body>" + part(page, '<section id="errand"'))
    assert [int(n) for n in re.findall(r"Line (\d)\.", words)] == [1, 2, 3, 4, 5, 6, 7]
    assert "Said before (3)" in words
    assert 'action="/scale/leave"' in page
    assert 'action="/scale/answer"' not in page
    assert REFRESH in page


@pytest.mark.parametrize("view", [YES_NO, TEXT], ids=["yes or no", "text"])
def test_an_open_question_is_shown_with_its_own_controls_and_the_page_keeps_still(visitor, desk, view):
    desk.view = view
    page = visitor.look("/scale")
    form = part(page, 'action="/scale/answer"', "</form>")
    assert view.question in unescape(form)
    assert re.findall(r'<button class="big" name="text" value="(\w+)"', form) == (
        ["yes", "no"] if view is YES_NO else []
    )
    assert ('<input name="text"' in form) == (view is TEXT)
    assert 'http-equiv="refresh"' not in page


@pytest.mark.parametrize(("view", "sign"), [(GOOD, "✓"), (NOT_GOOD, "✕")])
def test_the_outcome_is_said_in_words_and_shape(visitor, desk, view, sign):
    desk.view = view
    page = visitor.look("/scale")
    outcome = part(page, 'class="outcome"', "</div>")
    short, *more = view.outcome.splitlines()
    assert re.search(rf"<h3><span[^>]*>{sign}</span> {re.escape(short)}</h3>", outcome)
    assert re.findall(r"<p>(.*?)</p>", outcome) == more
    assert "data-running" not in page
    assert 'action="/scale/leave"' not in page
    assert REFRESH not in page


def test_an_overdue_check_is_said_plainly(visitor, desk):
    assert "The next check is due by 2027-02-20 ." in plain(visitor.look("/scale"))
    desk.done = (checked("2025-02-28", "2026-02-28"),)
    page = visitor.look("/scale")
    assert "Overdue by 2 days: the next check was due by 2026-02-28 . Check the scale" in plain(page)
    assert "data-overdue" in page


def test_a_clock_that_is_not_set_makes_nothing_overdue(station, visitor, desk):
    desk.done = (checked("2025-02-28", "2026-02-28"),)
    station.post(replace(FREE, seq=2, at=Moment(AT.boot_s, AT.boot_id, AT.wall, False)))
    words = plain(visitor.look("/scale"))
    assert "Overdue" not in words
    assert "The station's clock is not set" in words


def test_the_history_has_the_newest_verdict_with_reasons_two_drawings_and_every_check(visitor, desk):
    page = visitor.look("/scale")
    words = plain(page)
    assert "The scale is fit with limits ." in words
    assert "Below 12.3 g it is not good to 1 %." in words
    spoken = re.findall(r'role="img" aria-label="([^"]+)"', part(page, '<div class="trends">', "</div>"))
    assert spoken == [
        "Repeatability at 3 checks, the oldest first: 2025-02-10 0.032 g; 2025-08-11 0.041 g; 2026-02-20 0.050 g.",
        "Error at the check weight at 2 checks, the oldest first: 2025-08-11 −0.080 g; 2026-02-20 +0.12 g.",
    ]
    rows = re.findall(r"<tr>(<td.*?)</tr>", part(page, '<table class="history">', "</table>"))
    cells = [re.findall(r"<td[^>]*>(.*?)</td>", row) for row in rows]
    assert cells[0] == [
        "2026-02-20",
        "fit with limits",
        "0.050 g",
        "+0.12 g",
        "−0.40 g/h",
        "21.5 °C",
        "2027-02-20",
        "/dev/ttyUSB1",
    ]
    assert cells[2][3:6] == ["not tested", "not tested", "21.5 °C"]
    assert len(cells) == 3


def test_before_the_first_check_the_page_says_so(visitor, desk):
    desk.done = ()
    assert "The scale has not been checked here yet." in plain(visitor.look("/scale"))


@pytest.mark.parametrize(
    ("place", "form", "call"),
    [
        ("find", {"port": PORTS[1].name}, ("find", PORTS[1].name)),
        ("find", {"port": "other", "address": " socket://10.0.0.7:4001 "}, ("find", "socket://10.0.0.7:4001")),
        ("find", {"address": "rfc2217://10.0.0.7:4001"}, ("find", "rfc2217://10.0.0.7:4001")),
        ("check", {}, ("check",)),
        ("leave", {}, ("leave",)),
    ],
)
def test_each_form_reaches_the_desk_and_leads_back_to_the_page(visitor, desk, place, form, call):
    answer = visitor.send(f"/scale/{place}", **form)
    assert (answer.status_code, answer.headers["Location"]) == (303, "/scale#errand")
    assert desk.calls == [call]


@pytest.mark.parametrize(
    ("view", "text", "said"),
    [(YES_NO, "yes", "yes"), (YES_NO, "No", "no"), (TEXT, " 500\x00g ", "500 g"), (TEXT, "", "")],
)
def test_an_answer_reaches_the_desk_and_an_empty_line_is_one_too(visitor, desk, view, text, said):
    desk.view = view
    assert visitor.send("/scale/answer", text=text, asked=view.question).status_code == 303
    assert desk.calls == [("answer", said)]


@pytest.mark.parametrize(
    ("form", "said"),
    [
        ({}, "No port is chosen."),
        ({"port": "other", "address": " "}, "No address is typed."),
        ({"port": PORTS[0].name, "address": "socket://x:1"}, "A port is chosen and an address is typed too."),
        ({"port": "other", "address": "x" * 300}, "address has 300 characters"),
    ],
)
def test_a_search_without_one_clear_port_is_not_begun(visitor, desk, form, said):
    answer = visitor.send("/scale/find", **form)
    assert answer.status_code in (400, 409)
    assert said in plain(answer.get_data(as_text=True))
    assert desk.calls == []


def test_a_refused_search_is_said_beside_its_form_and_what_was_typed_stays(visitor, desk):
    desk.view = RUNNING
    desk.refuses = Refused("Another errand runs: <it>.", "Finish it first.")
    answer = visitor.send("/scale/find", port="other", address='socket://"x":1')
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    place = part(page, "<h2>Find the scale</h2>")
    assert '<p class="banner" role="alert">Another errand runs: &lt;it&gt;. Finish it first.</p>' in place
    assert re.search(r'value="other" checked', place)
    assert 'name="address" value="socket://&#34;x&#34;:1"' in place
    assert 'class="begin kept"' in page
    assert 'http-equiv="refresh"' not in page


def test_a_refused_check_is_said_beside_its_button(visitor, desk):
    desk.refuses = Refused("A cast is in hand.")
    page = visitor.send("/scale/check").get_data(as_text=True)
    assert page.count("A cast is in hand.") == part(page, "<h2>Check the scale</h2>").count("A cast is in hand.") == 1


def test_a_refused_answer_is_said_at_the_errand_and_what_was_typed_stays(visitor, desk):
    desk.view = TEXT
    desk.refuses = Refused("No question is open.")
    answer = visitor.send("/scale/answer", text="500 <g>", asked=TEXT.question)
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    assert page.index("No question is open.") < page.index('<section id="errand"')
    assert 'name="text" value="500 &lt;g&gt;"' in page


def test_an_answer_to_another_question_than_the_open_one_is_not_taken(visitor, desk):
    desk.view = TEXT
    answer = visitor.send("/scale/answer", text="yes", asked=YES_NO.question)
    assert answer.status_code == 409
    assert "The question has changed meanwhile; 'yes' was not taken" in plain(answer.get_data(as_text=True))
    assert desk.calls == []


def test_a_question_for_yes_or_no_takes_nothing_else_and_no_answer_is_endless(visitor, desk):
    desk.view = YES_NO
    assert "wants yes or no" in visitor.send("/scale/answer", text="maybe").get_data(as_text=True)
    desk.view = TEXT
    assert "has 300 characters" in visitor.send("/scale/answer", text="5" * 300).get_data(as_text=True)
    assert desk.calls == []


def test_a_desk_that_fails_is_said_in_a_sentence_at_every_place(visitor, desk):
    desk.breaks = Fault("The ports cannot be listed.", "Restart the station.")
    answer = visitor.client.get("/scale")
    assert answer.status_code == 200
    assert plain(answer.get_data(as_text=True)).count("The ports cannot be listed. Restart the station.") == 4
    assert "cannot be listed" in visitor.client.get("/scale/errand.json").get_json()["html"]


@pytest.mark.parametrize(("view", "running"), [(None, False), (RUNNING, True), (YES_NO, True), (GOOD, False)])
def test_the_script_gets_the_very_errand_that_the_page_shows(visitor, desk, view, running):
    desk.view = view
    said = visitor.client.get("/scale/errand.json").get_json()
    assert said["running"] is running
    assert said["html"] in visitor.look("/scale")

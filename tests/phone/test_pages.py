"""The pages as they come without any script."""

import re
from dataclasses import replace
from html import unescape

import pytest

from station.core.messages import BeginCast
from station.core.snapshot import Fill
from station.errors import Refused
from tests.phone.shown import FREE, QUIET, WEIGHING, with_net


def plain(page):
    """What a reader sees: the body without tags and without the patterns for the script."""
    body = re.sub(r"(?s)<template.*?</template>|<svg.*?</svg>", "", page[page.index("<body") :])
    return " ".join(unescape(re.sub(r"(?s)<[^>]*>", " ", body)).split())


@pytest.mark.parametrize(
    ("net", "fill"),
    [("64.2", Fill.UNDER), ("103.9", Fill.NEAR), ("108.2", Fill.IN_BAND), ("111.6", Fill.OVER)],
)
def test_the_page_without_a_script_shows_the_numbers_that_the_state_tells(station, net, fill):
    station.post(with_net(net, fill))
    said = station.client().get("/api/state").get_json()
    words = plain(station.client().get("/").get_data(as_text=True))
    bench, column = said["bench"], said["bench"]["column"]
    shown = [said["scale"]["shown"], bench["do"], bench["title"], bench["words"], bench["material"]]
    shown += [column[key] for key in ("left", "left_words", "net_text", "rule")]
    shown += [column["low"]["text"], column["high"]["text"], column["target"]["text"]]
    shown += [dial[key] for dial in bench["dials"] for key in ("left", "due")]
    shown += [step["label"] for step in bench["strip"]] + bench["notes"] + bench["cautions"]
    assert all(shown)
    assert [value for value in shown if value not in words] == []


def test_the_page_without_a_script_reloads_itself(station):
    page = station.client().get("/").get_data(as_text=True)
    assert '<noscript><meta http-equiv="refresh" content="2"></noscript>' in page


def test_alarms_and_banners_stand_on_every_page(station):
    for place in ("/", "/curing", "/log", "/log/3", "/new", "/pair"):
        words = plain(station.client().get(place).get_data(as_text=True))
        assert "Cast 11, paddle grip: demold now." in words
        assert "The wall clock is not set yet." in words


def test_an_alarm_is_acknowledged_without_a_script(station):
    visitor = station.paired()
    page = visitor.look()
    form = page[page.index('action="/api/acknowledge"') :].split("</form>")[0]
    fields = dict(re.findall(r'name="(\w+)"[^>]* value="([^"]*)"', form))
    assert (fields["number"], fields["clock"]) == ("11", "DEMOLD")
    assert (
        visitor.client.post("/api/acknowledge", data=fields, headers={"Origin": "http://localhost"}).status_code == 303
    )
    assert len(station.asked.commands) == 1


def test_a_free_bench_leads_to_a_new_cast_only_for_a_paired_device(station):
    station.post(FREE)
    assert 'href="/new"' not in station.client().get("/").get_data(as_text=True)
    assert 'href="/new"' in station.paired().look()


def test_what_was_typed_stays_when_it_is_refused(station):
    visitor = station.paired()
    form = {"material": "foam", "mold": "pad", "amount": "much", "lot foam A": 'L-"7"'}
    answer = visitor.client.post("/new", data={"token": visitor.token, **form}, headers={"Origin": "http://localhost"})
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    assert "is no mass. Enter one such as 220 g." in plain(page)
    assert 'value="much"' in page
    assert 'value="L-&#34;7&#34;"' in page
    assert station.asked.commands == []


def test_a_batch_is_shown_before_it_is_begun(station):
    visitor = station.paired()
    form = {"material": "foam", "mold": "pad", "amount": ""}
    worked_out = visitor.send("/new", **form)
    words = plain(worked_out.get_data(as_text=True))
    # 228 g at 100 : 90 by weight: 228 × 100/190 = 120.0 g and 228 × 90/190 = 108.0 g.
    assert "120.0 g" in words
    assert "108.0 g" in words
    assert station.asked.commands == []
    assert visitor.send("/new", begin="1", **form).headers["Location"] == "/"
    assert isinstance(station.asked.commands[0], BeginCast)


def test_a_batch_that_the_bench_refuses_stays_on_the_form(station):
    visitor = station.paired()
    station.asked.refuses = Refused("Cast 14 is at the bench.", "Finish it first.")
    answer = visitor.send("/new", begin="1", material="foam", mold="pad", amount="200")
    assert answer.status_code == 409
    assert "Cast 14 is at the bench. Finish it first." in plain(answer.get_data(as_text=True))
    assert 'value="200"' in answer.get_data(as_text=True)


def test_a_record_is_shown_as_text_and_never_as_markup(station):
    page = station.client().get("/log/3").get_data(as_text=True)
    assert "B 108.2 g &lt;checked&gt;" in page
    assert station.client().get("/log/41").status_code == 404


def test_words_from_the_bench_are_never_markup(station):
    nasty = replace(QUIET.bench, mold="<script>alert(1)</script>", title='"><img src=x>')
    station.post(replace(WEIGHING, seq=2, bench=nasty))
    page = station.client().get("/").get_data(as_text=True)
    assert "<script>alert" not in page
    assert "<img" not in page


def test_a_page_drawn_while_the_bench_stands_still_says_how_old_it_is(station):
    station.post(replace(WEIGHING, at=station.clock.now()))
    station.clock.advance(2.9)
    assert "has stood still for" not in station.client().get("/").text.split('id="age"')[1].split(">")[1]
    station.clock.advance(10)
    assert ">The bench has stood still for 12 s. What you see is old.<" in station.client().get("/").text

"""What goes over the wire: everything a page needs, so that it computes nothing."""

import json
from dataclasses import replace

import pytest

from station.core.clocks import AlarmState, ClockKind
from station.core.lead import Lead
from station.core.mass import Mass
from station.core.snapshot import Fill, ScaleState
from station.phone.wire import state
from tests.phone.shown import BENCH, FREE, LIVE, QUIET, WEIGHING, dial, with_net


def seen(snapshot):
    return json.loads(json.dumps(state(snapshot)))


def test_a_mass_goes_in_milligrams_and_as_text_and_an_enum_by_name_and_in_words():
    said = seen(WEIGHING)
    assert said["scale"]["gross"] == {"mg": 159300, "text": "159.3 g"}
    assert said["scale"]["state"] == {"name": "LIVE", "words": "live"}
    assert said["bench"]["column"]["target"] == {"mg": 108000, "text": "108.0 g"}
    assert said["alarms"][0]["clock"] == {"name": "DEMOLD", "words": "demold"}


@pytest.mark.parametrize(
    ("net", "fill", "do", "left", "words"),
    [
        ("64.2", Fill.UNDER, "Keep pouring", "43.8", "still to pour"),
        ("103.9", Fill.NEAR, "Slowly", "4.1", "still to pour"),
        ("108.2", Fill.IN_BAND, "Stop pouring", "+0.2", "off target, in the band"),
        ("107.8", Fill.IN_BAND, "Stop pouring", "−0.2", "off target, in the band"),
        ("111.6", Fill.OVER, "Too much", "3.6", "too much"),
    ],
)
def test_what_to_do_and_how_much_is_left_go_together(net, fill, do, left, words):
    bench = seen(with_net(net, fill))["bench"]
    assert (bench["do"], bench["column"]["left"], bench["column"]["left_words"]) == (do, left, words)


def test_each_state_of_a_weighing_has_a_sign_of_its_own():
    signs = [seen(with_net("100.0", fill))["bench"]["sign"] for fill in Fill]
    lost = replace(QUIET, scale=replace(LIVE, state=ScaleState.LOST, gross=None, words="The cable is out."))
    paused = replace(QUIET, bench=replace(BENCH, paused=True, title="Paused"))
    signs += [seen(lost)["bench"]["sign"], seen(paused)["bench"]["sign"]]
    assert len(set(signs)) == len(signs) == 6


@pytest.mark.parametrize("state_", [s for s in ScaleState if s is not ScaleState.LIVE])
def test_a_weight_that_is_not_live_never_asks_for_more(state_):
    old = replace(QUIET, scale=replace(LIVE, state=state_, age_s=2.4, words="Silent."))
    said = seen(old)
    assert said["bench"]["do"] == "No weight"
    assert said["bench"]["column"]["grey"]
    assert said["scale"]["grey"]
    assert (said["scale"]["shown"] == "") == (state_ is not ScaleState.STALE)


def test_a_stale_number_is_shown_with_its_age():
    old = replace(QUIET, scale=replace(LIVE, state=ScaleState.STALE, age_s=2.4, words="Silent."))
    assert (seen(old)["scale"]["shown"], seen(old)["scale"]["rest"]) == ("159.3 g", "2 s old")


def test_an_unknown_net_leaves_the_numbers_empty():
    column = seen(with_net(None, Fill.UNDER))["bench"]["column"]
    assert (column["net"], column["left"], column["fill"]["name"], column["known"]) == (None, "", "UNKNOWN", False)
    assert column["draw"]["height"] == "0.00%"


def test_a_countdown_is_the_stations_own_and_is_sent_as_words_and_as_seconds():
    only = seen(QUIET)["bench"]["dials"][0]
    assert (only["left_s"], only["left"], only["left_words"], only["tone"]) == (171.2, "2:52", "left", "calm")


@pytest.mark.parametrize(
    ("kind", "left", "alarm", "tone", "words"),
    [
        (ClockKind.POT_LIFE, 30.0, AlarmState.WAITING, "close", "left"),
        (ClockKind.POT_LIFE, -4.0, AlarmState.SOUNDING, "sounding", "over"),
        (ClockKind.POUR_BY, -4.0, AlarmState.ACKNOWLEDGED, "over", "over"),
        (ClockKind.DEMOLD, -4.0, AlarmState.ACKNOWLEDGED, "done", "since due"),
        (ClockKind.DEMOLD, 30.0, AlarmState.WAITING, "calm", "left"),
        (ClockKind.DEMOLD, 30.0, AlarmState.STOPPED, "calm", "left, stands still"),
    ],
)
def test_a_limit_and_a_wait_are_told_apart(kind, left, alarm, tone, words):
    only = seen(replace(QUIET, bench=replace(BENCH, dials=(dial(kind, left, 240.0, alarm),))))["bench"]["dials"][0]
    assert (only["tone"], only["left_words"]) == (tone, words)


def test_the_cast_that_needs_somebody_soonest_comes_first():
    assert [cast["number"] for cast in seen(WEIGHING)["curing"]] == [11, 12]


def test_a_time_of_day_that_is_not_trusted_is_not_told():
    unsure = replace(FREE, at=replace(FREE.at, trusted=False))
    assert (seen(FREE)["time"] != "", seen(unsure)["time"]) == (True, "")


def test_a_free_bench_still_shows_the_pan():
    said = seen(replace(FREE, scale=replace(LIVE, gross=Mass(-40))))
    assert (said["free"], said["bench"], said["scale"]["shown"]) == (True, None, "0.0 g")


@pytest.mark.parametrize(
    ("lead", "pace", "share", "do"),
    [(Lead.SLOW, 0.62, "62.00%", "Slowly"), (Lead.STOP, None, "100.00%", "Stop pouring"), (None, None, "0%", "Slowly")],
)
def test_a_led_pour_is_told_in_a_word_and_a_bar_and_a_stop_is_the_largest_word(lead, pace, share, do):
    near = with_net("104.2", Fill.NEAR)
    led = replace(near, bench=replace(near.bench, column=replace(near.bench.column, lead=lead, pace=pace)))
    said = seen(led)["bench"]
    name, words = ("", "") if lead is None else (lead.name, lead.value)
    assert said["column"]["lead"] == {"name": name, "words": words, "share": share, "pace": pace}
    assert said["do"] == do

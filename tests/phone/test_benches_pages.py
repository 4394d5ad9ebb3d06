"""The page of all benches: what each has at hand, alarms to acknowledge elsewhere, and what is honestly not known."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import pytest

from station.core.at_hand import AtHand, at_hand
from station.core.clocks import ClockKind
from station.core.mass import Mass
from station.errors import Refused
from station.neighbours import Errand, ErrandState, Neighbour, Neighbourhood, SharedCast
from station.phone.benches_view import benches, told_here
from tests.phone.shown import AT, FREE, WALL, WEIGHING, opened_station

ELSEWHERE = at_hand(replace(WEIGHING, bench=None))
CAST = SharedCast(2, 12, WALL, True, "Silicone", "grip <b>", Mass.grams(220), "in the mold", "Record of 12 <here>")
HOOD = Neighbourhood(1, AT, (Neighbour(2, "By the <window>", 4.0, ELSEWHERE),), (CAST,))


@dataclass
class SmallDesk:
    hood: Neighbourhood = HOOD
    title: str = "Left bench"
    wishes: list[tuple[int, int, ClockKind, str]] = field(default_factory=list)
    refuses: Exception | None = None

    def latest(self) -> Neighbourhood:
        return self.hood

    def wish(self, to_bench: int, number: int, clock: ClockKind, by: str) -> None:
        if self.refuses is not None:
            raise self.refuses
        self.wishes.append((to_bench, number, clock, by))


@pytest.fixture
def desk():
    return SmallDesk()


@pytest.fixture
def shop(desk):
    with opened_station(benches=desk) as station:
        station.post(FREE)
        yield station


def test_anybody_may_look_and_nothing_is_taken_for_markup(shop):
    page = shop.client().get("/benches").text
    assert "By the &lt;window&gt;" in page
    assert "Cast 11, paddle grip: demold now." in page
    assert "grip &lt;b&gt;" in page
    assert "Acknowledge for bench 2" not in page
    assert "pair this device" in page
    assert shop.client().get("/benches/now").text in page
    assert '<a href="/curing" aria-current="true">Curing' in page
    assert '<b class="count">◉1</b></a>' in page
    assert '<a class="button" href="/benches">Other benches <b class="count">1</b>' in shop.client().get("/curing").text


def test_the_record_of_another_bench_s_cast_is_one_tap_away(shop):
    assert 'href="/benches/2/12"' in shop.client().get("/benches").text
    assert "Record of 12 &lt;here&gt;" in shop.client().get("/benches/2/12").text
    assert shop.client().get("/benches/3/12").status_code == 404


def test_a_paired_device_acknowledges_for_another_bench(shop, desk):
    visitor = shop.paired("Kim's phone")
    assert "Acknowledge for bench 2" in visitor.look("/benches")
    answer = visitor.send("/benches/acknowledge", bench="2", number="11", clock="DEMOLD")
    assert (answer.status_code, answer.location) == (303, "/benches")
    assert desk.wishes == [(2, 11, ClockKind.DEMOLD, "Left bench: page (Kim's phone)")]


@pytest.mark.parametrize(
    ("form", "told"),
    [
        ({"bench": "", "number": "11", "clock": "DEMOLD"}, "digit of a bench"),
        ({"bench": "12", "number": "11", "clock": "DEMOLD"}, "digit of a bench"),
        ({"bench": "2", "number": "x", "clock": "DEMOLD"}, "number of a cast"),
        ({"bench": "2", "number": "11", "clock": "TEA"}, "clock must be one of"),
    ],
)
def test_nonsense_gets_a_sentence(shop, desk, form, told):
    answer = shop.paired().send("/benches/acknowledge", **form)
    assert answer.status_code == 409
    assert told in answer.text
    assert desk.wishes == []


def test_a_refusal_is_shown_and_an_unpaired_device_asks_nothing(shop, desk):
    desk.refuses = Refused("The shared log is not to be had now.", "Go there.")
    form = {"bench": "2", "number": "11", "clock": "DEMOLD"}
    assert "Go there." in shop.paired().send("/benches/acknowledge", **form).text
    visitor = shop.client()
    assert visitor.post("/benches/acknowledge", data=form).status_code == 403
    assert desk.wishes == []


@pytest.mark.parametrize("state", [ErrandState.WAITING, ErrandState.ASKED, ErrandState.TAKEN, ErrandState.DONE])
def test_a_wish_on_its_way_stands_in_the_place_of_its_button(shop, desk, state):
    desk.hood = replace(HOOD, errands=(Errand("k", 2, 11, ClockKind.DEMOLD, "x", state),))
    page = shop.paired().look("/benches")
    assert "Acknowledge for bench 2" not in page
    assert f"Acknowledging: {state.value}." in page


def test_a_wish_that_came_to_nothing_is_told_and_may_be_made_again(shop, desk):
    errand = Errand("k", 2, 11, ClockKind.DEMOLD, "x", ErrandState.EXPIRED, "That bench has not fetched it.")
    desk.hood = replace(HOOD, errands=(errand,))
    page = shop.paired().look("/benches")
    assert "Acknowledge for bench 2" in page
    assert "That bench has not fetched it." in page


def test_clocks_of_a_bench_that_is_off_run_on_and_the_page_says_so():
    hood = replace(HOOD, benches=(replace(HOOD.benches[0], age_s=600.0),))
    (_, now), (_, then) = (benches(h, FREE, "x")["benches"] for h in (HOOD, hood))
    assert (now["silent"], then["silent"]) == (False, True)
    assert "not heard from for 10:00" in then["heard"]
    left = [cast["dials"][0]["left_s"] for cast in (now["casts"][0], then["casts"][0])]
    assert left[0] - left[1] == pytest.approx(596)


def test_time_since_the_log_was_read_counts_too():
    later = replace(FREE, at=replace(AT, boot_s=AT.boot_s + 100))
    (_, other) = benches(HOOD, later, "x")["benches"]
    assert other["silent"]


def test_the_bench_page_says_what_sounds_elsewhere_what_is_refused_and_since_when_the_log_is_away():
    assert told_here(HOOD, AT) == ("Bench 2, By the <window>: Cast 11, paddle grip: demold now.",)
    away = replace(HOOD, benches=(), trouble="The shared log cannot be reached.")
    assert told_here(away, AT) == ()
    (line,) = told_here(away, replace(AT, boot_s=AT.boot_s + 100))
    assert line.startswith("The shared log cannot be reached. Read last at ")
    assert told_here(replace(away, read=None), AT) == ("The shared log cannot be reached.",)
    assert told_here(replace(HOOD, benches=(), refused="Another station is bench 1."), AT) == (
        "Another station is bench 1.",
    )


def test_a_bench_that_cannot_be_understood_is_shown_as_such(shop, desk):
    desk.hood = replace(HOOD, benches=(Neighbour(7, "Far one", 1.0, AtHand(), "What it tells cannot be read."),))
    assert "What it tells cannot be read." in shop.client().get("/benches").text


def test_the_same_is_there_for_programs(shop):
    said = shop.client().get("/api/benches").get_json()
    assert [one["bench"] for one in said["benches"]] == [1, 2]
    assert said["benches"][1]["alarms"][0]["clock"]["name"] == "DEMOLD"
    assert said["casts"][0]["page"] == "/benches/2/12"

"""New cast: repeated, queued, changed; every refusal at its field, every check with its word."""

import re
from dataclasses import replace

import pytest

from station.core.messages import BeginCast, DropQueued, MoveQueued, QueueCast
from station.core.plan_checks import Check, Finding
from station.core.snapshot import QueuedView
from station.errors import Refused
from station.phone.shelf import QueueLine
from tests.phone.shown import FREE, WEIGHING, G
from tests.phone.test_pages import plain

BY = "page (test phone)"
FORM = {"material": "foam", "mold": "pad", "amount": ""}
OK, LOOK = Check(Finding.OK, "The cup holds it."), Check(Finding.LOOK, "Lot A is old.")
QUEUE = tuple(QueueLine(n, "foam", f"pad {n}", f"{n}00.0 g", (OK, LOOK)[:n]) for n in (1, 2, 3))


def test_a_cast_is_repeated_with_its_amount_and_lots_filled_in(station):
    page = station.paired().look("/new?again=40")
    assert 'name="amount" value="228.0 g"' in page
    assert 'name="lot foam A" value="0418"' in page
    assert 'href="/new?again=40"' in page
    assert "There is no cast 39 to repeat." in plain(station.client().get("/new?again=39").get_data(as_text=True))


@pytest.mark.parametrize(
    ("typed", "field", "says"),
    [
        ({"amount": "much"}, "amount", "is no mass. Enter one such as 220 g."),
        ({"material": "clay"}, "material", "is not on the shelf"),
        ({"lot foam A": "other"}, "lot-foam-A", "is A of another material"),
    ],
)
@pytest.mark.parametrize("button", ["work out", "begin", "queue"])
def test_a_refusal_stands_at_its_field(station, typed, field, says, button):
    answer = station.paired().send("/new", **{**FORM, **typed, button: "1"})
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    assert says in re.search(rf'id="{field}-slip">([^<]+)', page)[1]
    assert f'aria-describedby="{field}-slip' in page
    assert station.asked.commands == []


def test_a_batch_that_cannot_be_cast_shows_every_reason(station):
    answer = station.paired().send("/new", **{**FORM, "amount": "5000", "begin": "1"})
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    refused = re.findall(r'data-finding="REFUSED"><b class="finding">refused</b> <span>([^<]+)', page)
    assert len(refused) == 2
    assert "do not fit" in refused[0]
    assert "beyond the scale" in refused[1]
    assert 'value="5000"' in page
    assert station.asked.commands == []


def test_the_checks_stand_before_the_amounts_each_with_its_word(station):
    page = station.paired().send("/new", **FORM).get_data(as_text=True)
    found = re.findall(r'data-finding="(\w+)"><b class="finding">(\w+)<', page)
    assert {word.upper() == name for name, word in found} == {True}
    assert [name for name, _ in found] == sorted((name for name, _ in found), key=["LOOK", "OK"].index)


def test_a_plan_waits_for_the_bench_until_somebody_begins_it(station):
    station.post(FREE)
    visitor = station.paired()
    shown = visitor.send("/new", **FORM).get_data(as_text=True)
    assert "Let it wait for the bench" in shown
    assert visitor.send("/new", **FORM, queue="1").headers["Location"] == "/new"
    (command,) = station.asked.commands
    assert isinstance(command, QueueCast)
    assert (command.by, command.instead, command.plan.total) == (BY, None, G("228.0"))


def test_a_plan_that_waits_is_changed_in_its_place(station):
    visitor = station.paired()
    page = visitor.look("/new?queued=2")
    assert 'name="instead" value="2"' in page
    assert 'name="amount" value="180 g"' in page
    visitor.send("/new", **{**FORM, "amount": "180", "instead": "2", "queue": "1"})
    assert station.asked.commands[-1].instead == 2
    assert "not in the queue any more" in plain(station.client().get("/new?queued=9").get_data(as_text=True))


def test_the_queue_is_shown_in_its_order_with_what_needs_a_look(station):
    station.post(FREE)
    station.shelf.queue = QUEUE
    page = station.paired().look("/new")
    shown = page[page.index('class="queue"') : page.index("</ol>")]
    assert re.findall(r"<b>(pad \d)</b>", shown) == ["pad 1", "pad 2", "pad 3"]
    assert shown.count("Lot A is old.") == 2
    assert shown.count(">Earlier<") == shown.count(">Later<") == 2
    assert shown.count(">Begin<") == 3


def test_while_a_cast_is_at_the_bench_the_large_button_lets_a_plan_wait(station):
    station.post(WEIGHING)
    station.shelf.queue = QUEUE
    visitor = station.paired()
    assert ">Begin<" not in visitor.look("/new")
    shown = visitor.send("/new", **FORM).get_data(as_text=True)
    assert re.findall(r'class="big"[^>]*name="(\w+)"', shown) == ["queue"]
    station.post(replace(FREE, seq=2))
    shown = visitor.send("/new", **FORM).get_data(as_text=True)
    assert re.findall(r'class="big"[^>]*name="(\w+)"', shown) == ["begin"]


def test_a_plan_is_moved_and_removed(station):
    visitor = station.paired()

    def move(to):
        form, headers = {"token": visitor.token, "place": to}, {"Origin": "http://localhost"}
        return visitor.client.post("/new/queue/3/move", data=form, headers=headers)

    assert move("1").headers["Location"] == "/new"
    assert visitor.send("/new/queue/2/drop").headers["Location"] == "/new"
    assert station.asked.commands == [MoveQueued(3, 1, BY), DropQueued(2, BY)]
    assert move("up").status_code == 400
    station.asked.refuses = Refused("That plan is not in the queue any more.")
    assert visitor.send("/new/queue/2/drop").status_code == 409


def test_a_free_bench_offers_what_waits_first(station):
    waiting = (QueuedView(5, "foam", "boot footbed", G("120.0")), QueuedView(6, "foam", "grip", G("90.0")))
    station.post(replace(FREE, queue=waiting))
    page = station.paired().look("/")
    words = plain(page)
    assert "Next: boot footbed 120.0 g foam" in words
    assert "Begin boot footbed" in words
    assert re.search(r'action="/api/take".*?name="ticket"[^>]*value="5"', page, re.S)
    told = station.client().get("/api/state").get_json()
    assert (told["next"]["ticket"], told["waiting"], told["none_waits"]) == (5, 2, False)
    unpaired = station.client().get("/").get_data(as_text=True)
    assert "Next:" in unpaired
    assert 'data-ask="take"' not in unpaired


def test_a_refusal_of_the_bench_keeps_the_plan_on_the_page(station):
    station.post(FREE)
    visitor = station.paired()
    station.asked.refuses = Refused("Cast 14 is at the bench.", "Finish it first.")
    answer = visitor.send("/new", **FORM, begin="1")
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    assert "Cast 14 is at the bench. Finish it first." in page
    assert 'id="plan"' in page
    assert isinstance(station.asked.commands[0], BeginCast)

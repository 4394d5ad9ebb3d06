"""Casts that wait for the bench: in an order, through a restart, worked out again before they begin."""

import pytest

from station.core import events as ev
from station.core import messages as msg
from station.core.clocks import ClockKind
from station.core.cues import Cue
from station.core.mass import Mass
from station.core.material import Lot
from station.core.messages import Press, Pressed
from station.core.mix_amount import Amount
from station.core.plan_checks import Finding, checks_failed, checks_of, notes_besides
from station.core.planning import Impossible, planned
from station.core.queueing import LONGEST, after, plan_now
from station.core.steps import WeighEmptied
from station.core.views import snapshot
from station.errors import Refused
from station.metrology.promise import ScalePromise
from tests.play import CARD, FOAM, GRIP, PAD, PLACE, SILICONE, Play, replay_equals_live

G = Mass.grams


def queue(play, material=SILICONE, grams="220", mold=GRIP, *, lots=(), promise=None):
    amount = Amount(G(grams), f"{grams} g as typed")
    plan = planned(material, mold, amount, place=PLACE, standing=play.standing, lots=lots)
    play.send(msg.QueueCast(plan, amount, promise, f"{grams} g", "page"))


def waiting(play):
    return [one.ticket for one in play.standing.queue]


def test_plans_wait_in_the_order_in_which_they_came_and_a_press_begins_the_first():
    play = Play()
    queue(play)
    queue(play, FOAM, "300", PAD)
    assert [(one.ticket, one.mold) for one in snapshot(play.bench, play.now, 1, CARD).queue] == [
        (1, "Paddle grip"),
        (2, "Kayak seat pad"),
    ]
    play.wait(600)
    assert play.standing.bench is None  # never by itself
    play.press()
    assert (play.cast.number, play.cast.plan.mold) == (1, GRIP)
    assert waiting(play) == [2]
    assert any(isinstance(entry.event, ev.QueueTaken) and entry.event.number == 1 for entry in play.entries)
    assert replay_equals_live(play)


def test_a_page_begins_the_plan_that_it_showed_and_no_other():
    play = Play()
    queue(play)
    queue(play, FOAM, "300", PAD)
    play.send(msg.TakeQueued(2, "page"))
    assert play.cast.plan.mold == PAD
    with pytest.raises(Refused, match="not in the queue any more"):
        play.send(msg.TakeQueued(2, "page"))


def test_a_press_at_a_free_bench_without_a_queue_still_means_nothing():
    with pytest.raises(Refused, match="Nothing waits"):
        Play().press()


def test_while_a_cast_is_at_the_bench_nothing_is_taken_from_the_queue():
    play = Play()
    play.begin(SILICONE, "220", GRIP)
    queue(play)
    with pytest.raises(Refused, match="Cast 1 is at the bench"):
        play.send(msg.TakeQueued(1, "page"))
    with pytest.raises(Refused, match="cup is not on the scale"):
        play.press()
    assert waiting(play) == [1]


def test_an_alarm_that_sounds_is_answered_by_the_press_before_anything_begins():
    play = Play()
    play.begin(SILICONE, "220", GRIP)
    play.put("24.3")
    play.pour("199.8")
    play.press()
    play.pour("20.0", g_per_s=3)
    play.wait(181)
    play.press()
    play.press()
    while play.standing.bench is not None:
        assert isinstance(play.step, WeighEmptied)
        play.press()
    queue(play, FOAM, "300", PAD)
    play.wait(14400 + 60, tick_s=30)
    play.press()
    assert play.standing.bench is None
    assert play.standing.cast(1).clock(ClockKind.DEMOLD).acknowledged is not None
    play.press()
    assert play.cast.plan.mold == PAD


def test_one_press_too_many_at_the_end_of_a_cast_begins_nothing():
    play = Play()
    play.begin(SILICONE, "220", GRIP)
    play.put("24.3")
    play.pour("199.8")
    play.press()
    play.pour("20.0", g_per_s=3)
    queue(play, FOAM, "300", PAD)
    play.wait(181)
    play.press()
    play.press()
    while play.standing.bench is not None:
        play.press()
    with pytest.raises(Refused, match="Cast 1 has only just left the bench") as why:
        play.press()
    assert why.value.hint == "Press again to begin Kayak seat pad."
    play.wait(3)
    play.press()
    assert play.cast.plan.mold == PAD


def test_the_order_can_be_changed_and_a_plan_removed():
    play = Play()
    for grams in ("200", "210", "220"):
        queue(play, grams=grams)
    play.send(msg.MoveQueued(3, 1, "page"))
    assert waiting(play) == [3, 1, 2]
    play.send(msg.DropQueued(1, "page"))
    assert waiting(play) == [3, 2]
    with pytest.raises(Refused, match="no place 4"):
        play.send(msg.MoveQueued(3, 4, "page"))
    queue(play)
    assert waiting(play) == [3, 2, 4]  # a ticket is never given twice
    assert replay_equals_live(play)


def test_a_plan_that_was_worked_out_anew_keeps_the_place_of_the_old_one():
    play = Play()
    for grams in ("200", "210", "220"):
        queue(play, grams=grams)
    old = play.standing.queue[1]
    play.send(msg.QueueCast(old.plan, old.amount, None, "", "page", instead=2))
    assert waiting(play) == [1, 4, 3]
    with pytest.raises(Refused, match="not in the queue any more"):
        play.send(msg.QueueCast(old.plan, old.amount, None, "", "page", instead=2))
    assert replay_equals_live(play)


def test_a_queue_has_an_end():
    play = Play()
    for _ in range(LONGEST):
        queue(play)
    with pytest.raises(Refused, match="wait already"):
        queue(play)


def test_a_lot_that_has_run_out_meanwhile_is_noticed_when_the_cast_is_to_begin():
    play = Play()
    lot = Lot("A", "W-17", G(4000))
    queue(play, lots=(lot,))
    play.send(msg.CountLot("W-17", G(300), G(240), "page"))
    with pytest.raises(Refused, match=r"Paddle grip cannot be begun as it was queued.*60\.0 g are left of its lot"):
        play.press()
    assert waiting(play) == [1]


def test_a_warmer_bench_changes_the_plan_and_says_so():
    play = Play()
    queue(play)
    queued = play.standing.queue[0]
    play.send(msg.Temperature(8.0))
    again = plan_now(queued, play.standing, play.now)
    assert again.temperature_c == 8.0
    new = [said for said in again.warnings if said not in queued.plan.warnings]
    assert new
    play.send(Pressed(Press.SHORT, "pedal"))
    assert play.cast.plan == again
    said = next(cue.words for cue in reversed(play.cues) if cue.cue is Cue.GO_ON)
    assert all(words in said for words in new)


def test_what_waits_before_a_cast_takes_its_share_of_a_lot_first():
    play = Play()
    lot = Lot("A", "W-17", G(300))
    queue(play, lots=(lot,))
    left = after(play.standing, [one.plan for one in play.standing.queue]).left("W-17", lot.left)
    assert left == G(100)  # 220 g at 10 : 1 take 200 g of A
    with pytest.raises(Impossible) as why:
        planned(
            SILICONE,
            GRIP,
            G("220"),
            place=PLACE,
            standing=after(play.standing, [one.plan for one in play.standing.queue]),
            lots=(lot,),
        )
    assert [check.finding for check in checks_failed(why.value)] == [Finding.REFUSED]


def test_a_plan_is_told_with_what_needs_a_look_before_what_is_in_order():
    lots = (Lot("A", "W-17", G(300)), Lot("B", "W-18", G(100)))
    plan = planned(SILICONE, GRIP, G("220"), place=PLACE, standing=Play().standing, lots=lots)
    told = checks_of(plan)
    assert [check.finding for check in told] == [Finding.LOOK] * len(plan.warnings) + [Finding.OK] * 4
    assert "afterwards they still hold A 100.0 g, B 80.0 g." in told[-2].words
    without = checks_of(planned(SILICONE, GRIP, G("220"), place=PLACE, standing=Play().standing))
    missing = next(check for check in without if "No lot is named for A, B" in check.words)
    assert missing.finding is Finding.LOOK
    assert missing.words not in notes_besides(plan, without)


def test_what_the_scale_was_found_to_promise_counts_again():
    play = Play()
    queue(play, promise=ScalePromise(0.1, 3000, repeatability_g=0.04))
    again = plan_now(play.standing.queue[0], play.standing, play.now)
    assert any("by its last check" in note for note in again.notes)
    assert replay_equals_live(play)

"""Advice that plans use, and trials: what counts, what is refused, what a plan says of it; a replay gives the same."""

from dataclasses import replace

import pytest

from station.asked_plan import amount_typed
from station.casting.loss import Emptied
from station.core import events as ev
from station.core import learning_messages as say
from station.core.adopted import adopted_notes, amount_adopted, as_adopted
from station.core.advice_events import AdviceAdopted, AdviceKind
from station.core.learning_fold import learned_after
from station.core.learning_standing import TRIALS_KEPT
from station.core.mass import Mass
from station.core.material import FoamFacts, TimesAt
from station.core.planning import planned
from station.core.standing import Standing
from station.core.trial_events import TrialBegun, TrialEnded, TrialRun, TrialSetting
from station.errors import Refused
from tests.play import FOAM, GRIP, PAD, PLACE, SILICONE, Play, replay_equals_live

MIX = TrialSetting("mix time", ("60 s", "95 s"))
RUNS = (TrialRun(1, 1, (1,)), TrialRun(2, 1, (0,)))
FOAMY = replace(FOAM, foam=FoamFacts(0.1, packing_low=1.05, packing_high=1.4))


def adopt(kind=AdviceKind.MIX, mold="pad", value=62.5, material="foam", **other):
    ends = {"low": value - 1, "high": value + 1} | other
    return say.AdoptAdvice(kind, mold, material, value, ends["low"], ends["high"], (3, 5, 8), "test")


def begin(title="Longer mixing"):
    return say.BeginTrial(title, (MIX,), 1, 41, False, RUNS, "NOT_GOOD", "test")


def adopted(*told):
    return Standing(
        adopted=tuple(
            AdviceAdopted(kind, mold, "foam", value, None, None, (3, 5, 8), "test") for kind, mold, value in told
        )
    )


@pytest.fixture
def play():
    return Play()


def test_the_latest_advice_of_a_kind_counts(play):
    play.send(adopt(value=62.5))
    play.send(adopt(value=63.0))
    play.send(adopt(AdviceKind.MIX_TIME, "", 20.0))
    assert [(one.kind, one.value) for one in play.standing.adopted] == [
        (AdviceKind.MIX, 63.0),
        (AdviceKind.MIX_TIME, 20.0),
    ]
    assert len(play.events(ev.AdviceAdopted)) == 3
    assert replay_equals_live(play)


def test_a_mass_mixed_and_a_mass_in_the_mold_take_each_others_place(play):
    play.send(adopt(AdviceKind.MIX))
    play.send(adopt(AdviceKind.SHOT, value=60.0))
    play.send(adopt(AdviceKind.SHOT, mold="grip", value=40.0))
    assert [(one.kind, one.mold) for one in play.standing.adopted] == [
        (AdviceKind.SHOT, "pad"),
        (AdviceKind.SHOT, "grip"),
    ]


def test_advice_is_dropped_once(play):
    play.send(adopt())
    play.send(say.DropAdvice(AdviceKind.MIX, "pad", "foam", "test"))
    assert play.standing.adopted == ()
    with pytest.raises(Refused, match="do not use"):
        play.send(say.DropAdvice(AdviceKind.MIX, "pad", "foam", "test"))
    assert replay_equals_live(play)


@pytest.mark.parametrize("value", [0.0, -3.0, float("nan"), float("inf")])
def test_advice_is_a_number_above_zero(play, value):
    with pytest.raises(Refused, match="above zero"):
        play.send(adopt(value=value))
    assert play.standing.adopted == ()


def test_a_plan_uses_an_adopted_mass_and_says_where_it_comes_from():
    told = adopted((AdviceKind.MIX, "pad", 62.5))
    amount = amount_typed("", FOAM, PAD, PLACE, told)
    assert amount.total == Mass.grams("62.5")
    assert amount.rule == "62.5 g = 62.5 g mass mixed, adopted from your own casts (3, 5, 8)"
    assert amount_typed("70 g", FOAM, PAD, PLACE, told).total == Mass.grams("70")  # what is typed still counts
    with pytest.raises(Refused):
        amount_typed("", FOAM, GRIP, PLACE, told)  # another mold


def test_a_mass_in_the_mold_is_planned_with_what_will_stay_in_the_cup():
    told = replace(adopted((AdviceKind.SHOT, "pad", 60.0)), losses=(Emptied(PLACE.cup.capacity.g, 5.0),))
    amount = amount_adopted(FOAM, PAD, told.adopted[0], place=PLACE, standing=told)
    assert amount.total.g == pytest.approx(60 / 0.95, abs=0.001)
    assert "÷ (1 − 5.0/100), mean of 1 emptied cup" in amount.rule


def test_limits_only_ever_tighten_a_sheet():
    told = adopted((AdviceKind.POUR_BY, "", 45.0), (AdviceKind.MIX_TIME, "", 18.0))
    sheet = as_adopted(FOAM, told)
    assert (sheet.times.pot_life_s, sheet.times.mix_s) == (45.0, 18.0)
    loose = as_adopted(FOAM, adopted((AdviceKind.POUR_BY, "", 90.0), (AdviceKind.MIX_TIME, "", 5.0)))
    assert loose.times == FOAM.times
    none_left = as_adopted(FOAM, adopted((AdviceKind.POUR_BY, "", 30.0), (AdviceKind.MIX_TIME, "", 25.0)))
    assert none_left.times == FOAM.times  # 25 s of mixing and 12 s of pouring do not fit into 30 s
    assert as_adopted(SILICONE, told) == SILICONE


def test_an_adopted_time_in_the_mold_only_ever_lengthens_the_sheet():
    times = replace(FOAM.times, demold_s=3600.0, full_cure_s=7200.0, at=(TimesAt(30.0, None, 1800.0), TimesAt(15.0)))
    sheet = replace(FOAM, times=times)
    longer = as_adopted(sheet, adopted((AdviceKind.CURE, "", 2.5))).times
    assert (longer.demold_s, longer.full_cure_s) == (9000.0, 9000.0)
    assert longer.at == (TimesAt(30.0, None, 9000.0), TimesAt(15.0))
    assert as_adopted(sheet, adopted((AdviceKind.CURE, "", 0.4))).times == times
    assert adopted_notes(sheet, adopted((AdviceKind.CURE, "", 2.7))) == (
        "Shortest time in the mold: 2.7 h, adopted from your own casts (3, 5, 8).",
    )


def test_packing_is_bounded_anew_but_never_wider_than_the_sheet():
    sheet = as_adopted(FOAMY, adopted((AdviceKind.PACKING_LOW, "", 1.12), (AdviceKind.PACKING_HIGH, "", 1.3)))
    assert (sheet.foam.packing_low, sheet.foam.packing_high) == (1.12, 1.3)
    assert as_adopted(FOAMY, adopted((AdviceKind.PACKING_HIGH, "", 1.9))).foam.packing_high == 1.4
    assert as_adopted(FOAMY, adopted((AdviceKind.PACKING_LOW, "", 1.01))).foam.packing_low == 1.05
    assert as_adopted(FOAMY, adopted((AdviceKind.PACKING_LOW, "", 1.5))).foam == FOAMY.foam


def test_a_plan_counts_to_the_adopted_limits_and_says_so_again_when_it_is_planned_anew():
    told = adopted((AdviceKind.POUR_BY, "", 45.0), (AdviceKind.MIX_TIME, "", 18.0))
    plan = planned(FOAM, PAD, Mass.grams("200"), place=PLACE, standing=told)
    assert (plan.limit_s, plan.material.times.mix_s) == (45.0, 18.0)
    note = "Shortest mix time: 18 s, adopted from your own casts (3, 5, 8)."
    assert note in plan.notes
    assert planned(plan.material, PAD, Mass.grams("200"), place=PLACE, standing=told).notes == plan.notes
    assert adopted_notes(FOAM, adopted((AdviceKind.MIX_TIME, "", 5.0))) == ()


def test_a_trial_gets_its_casts_and_ends(play):
    play.silicone_in_the_mold()
    play.send(begin())
    (trial,) = play.standing.trials
    assert (trial.number, trial.next_run) == (1, RUNS[0])
    play.send(say.TakeTrialCast(1, 1, 1, "test"))
    assert play.standing.trials[0].casts == ((1, 1),)
    assert play.standing.trials[0].next_run == RUNS[1]
    with pytest.raises(Refused, match="Run 2 has no cast yet"):
        play.send(say.EndTrial(1, " ", "test"))
    play.send(say.EndTrial(1, "the mold tore", "test"))
    assert play.standing.trials[0].ended
    with pytest.raises(Refused, match="not open"):
        play.send(say.TakeTrialCast(1, 2, 1, "test"))
    play.send(begin("Again"))
    assert play.standing.trials[-1].number == 2
    assert replay_equals_live(play)


def test_a_cast_belongs_to_one_run_and_can_be_taken_from_it(play):
    play.silicone_in_the_mold()
    play.send(begin())
    play.send(say.TakeTrialCast(1, 1, 1, "test"))
    for wrong, said in ((say.TakeTrialCast(1, 2, 1, "t"), "is run 1"), (say.TakeTrialCast(1, 2, 9, "t"), "no cast 9")):
        with pytest.raises(Refused, match=said):
            play.send(wrong)
    with pytest.raises(Refused, match="no run 3"):
        play.send(say.TakeTrialCast(1, 3, 1, "test"))
    with pytest.raises(Refused, match="Run 2 has no cast"):
        play.send(say.LeaveTrialCast(1, 2, "test"))
    play.send(say.LeaveTrialCast(1, 1, "test"))
    play.send(say.TakeTrialCast(1, 2, 1, "test"))
    assert play.standing.trials[0].casts == ((2, 1),)


def test_few_trials_are_open_at_a_time_and_each_has_a_name(play):
    with pytest.raises(Refused, match="no name"):
        play.send(begin(" "))
    for n in range(6):
        play.send(begin(f"trial {n}"))
    with pytest.raises(Refused, match="6 trials are open"):
        play.send(begin("one more"))


def test_old_trials_leave_and_open_ones_stay():
    standing = Standing()
    for n in range(1, 2 * TRIALS_KEPT):
        standing = learned_after(standing, TrialBegun(n, "t", (MIX,), 1, 1, False, RUNS, "NOT_GOOD", "test"))
        if n != 3:
            standing = learned_after(standing, TrialEnded(n, "", "test"))
    kept = [one.number for one in standing.trials]
    assert len(kept) == TRIALS_KEPT
    assert kept[0] == 3
    assert kept[-1] == standing.last_trial == 2 * TRIALS_KEPT - 1

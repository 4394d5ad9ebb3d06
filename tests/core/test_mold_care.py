"""A mold's care: shots are pours, release agent falls due by them, and a retired mold is not cast in.

How often release agent is needed is the sheet's own number: common practice, no source.
"""

import pytest

from station.core import events as ev
from station.core import messages as msg
from station.core.mass import Mass
from station.core.material import Mold
from station.core.mix_amount import Amount
from station.core.mold_care import MoldCare, Release, care_of, release_due, release_of, release_words
from station.core.plan_checks import Finding, checks_of
from station.core.planning import RELEASE_ON, Impossible, planned
from station.core.queueing import after
from station.core.steps import Pour, ReadyCheck, WeighEmptied
from station.errors import Refused
from tests.play import PLACE, SILICONE, Play, replay_equals_live

G = Mass.grams
BOX = Mold("box", "Test box", closes=False, release_every=2)


def plan(play, mold=BOX):
    return planned(SILICONE, mold, G(220), place=PLACE, standing=play.standing)


def to_the_pour(play, mold=BOX):
    play.begin(SILICONE, "220", mold)
    play.put("24.3")
    play.pour("199.8")
    play.press()
    play.pour("20.0", g_per_s=3)
    play.wait(181)
    play.press()
    assert isinstance(play.step, Pour)


def cast(play, mold=BOX):
    to_the_pour(play, mold)
    play.press()
    while play.standing.bench is not None:
        assert isinstance(play.step, WeighEmptied)
        play.press()
    play.load = G(0)
    play.stand()


def care(play, mold=BOX):
    return care_of(play.standing.molds, mold.key)


def said(plan):
    """What the plan says of release agent before the first cup."""
    return [words for words in plan.warnings if "elease agent" in words]


def test_a_shot_is_a_pour_and_a_batch_that_was_given_up_before_is_none():
    play = Play()
    to_the_pour(play)
    play.send(msg.Abort(1, "the cup tipped", "page"))
    assert care(play) == MoldCare("box")
    play.load = G(0)
    play.stand()
    cast(play)
    assert care(play) == MoldCare("box", 1, None)
    play.send(msg.ApplyRelease("box", "page"))
    cast(play)
    assert care(play) == MoldCare("box", 2, 1)
    assert [entry.event for entry in play.entries if isinstance(entry.event, ev.ReleaseApplied)] == [
        ev.ReleaseApplied("box", "page")
    ]
    assert replay_equals_live(play)


@pytest.mark.parametrize(
    ("since", "every", "stands"),
    [
        (None, None, Release.NOT_ASKED),
        (7, None, Release.NOT_ASKED),
        (None, 5, Release.UNKNOWN),
        (0, 5, Release.ENOUGH),
        (4, 5, Release.ENOUGH),
        (5, 5, Release.DUE),
        (6, 5, Release.OVERDUE),
        (0, 1, Release.ENOUGH),
        (1, 1, Release.DUE),
    ],
)
def test_release_agent_is_due_after_as_many_shots_as_the_sheet_says(since, every, stands):
    assert release_of(MoldCare("box", 9, since), every) is stands


def test_the_words_tell_the_numbers_and_the_rule():
    told = release_words(MoldCare("box", 9, 5), 5)
    assert told == ("Release agent is due: 5 shots since release agent was put on. It is to be put on every 5 shots.")
    assert release_words(MoldCare("box", 9, 1), 1).endswith("It is to be put on before each shot.")
    assert release_words(MoldCare("box", 9, 1), None) == "1 shot since release agent was put on."
    assert release_words(MoldCare("box", 9), None) == ""
    assert release_due(BOX, (MoldCare("box", 9, 1),)) == ""


def test_a_cast_for_which_release_agent_is_due_needs_a_look_and_asks_for_it_before_the_first_cup():
    play = Play()
    for _ in range(2):
        play.send(msg.ApplyRelease("box", "page"))
        assert said(plan(play)) == []
        assert not any(RELEASE_ON in step.items for step in plan(play).steps if isinstance(step, ReadyCheck))
        cast(play)
        cast(play)
        (look,) = (check for check in checks_of(plan(play)) if "Release agent is due" in check.words)
        assert look.finding is Finding.LOOK
        assert look.words.endswith("Put it on and say so at the mold, under Molds.")
        assert any(RELEASE_ON in step.items for step in plan(play).steps if isinstance(step, ReadyCheck))


def test_casts_that_wait_before_it_count_as_shots():
    play = Play()
    play.send(msg.ApplyRelease("box", "page"))
    first = plan(play)
    assert said(plan(play)) == []
    behind = after(play.standing, [first, first])
    (due,) = said(planned(SILICONE, BOX, G(220), place=PLACE, standing=behind))
    assert due.startswith("Release agent is due: 2 shots")


def test_a_retired_mold_is_refused_with_its_reason_and_is_back_when_somebody_says_so():
    play = Play()
    ready = plan(play)
    play.send(msg.QueueCast(ready, Amount(G(220), "as typed"), None, "220 g", "page"))
    play.send(msg.RetireMold("box", " torn at the seam ", "page"))
    with pytest.raises(Impossible, match=r"retired: torn at the seam\. Choose another one"):
        plan(play)
    with pytest.raises(Refused, match="is retired"):
        play.send(msg.BeginCast(ready, "page"))  # worked out before it was retired
    with pytest.raises(Refused, match="cannot be begun as it was queued"):
        play.send(msg.TakeQueued(1, "page"))
    play.send(msg.ReturnMold("box", "page"))
    play.send(msg.TakeQueued(1, "page"))
    assert play.cast.plan.mold == BOX
    assert replay_equals_live(play)


@pytest.mark.parametrize(
    ("told", "says"),
    [
        ((msg.RetireMold("box", "  ", "page"),), "Say why"),
        ((msg.ReturnMold("box", "page"),), "is in use"),
        ((msg.RetireMold("box", "worn", "page"), msg.RetireMold("box", "torn", "page")), "retired already: worn"),
    ],
)
def test_what_makes_no_sense_is_refused_and_changes_nothing(told, says):
    play = Play()
    for command in told[:-1]:
        play.send(command)
    before = play.standing
    with pytest.raises(Refused, match=says):
        play.send(told[-1])
    assert play.standing == before

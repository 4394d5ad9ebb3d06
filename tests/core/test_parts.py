"""The part on the scale: asked for at a free bench, taken at rest above an empty pan, and never for something else."""

from __future__ import annotations

from dataclasses import replace

import pytest

from station.core import events as ev
from station.core import messages as msg
from station.core.cues import Cue
from station.core.judging_events import HardnessScale, Verdict
from station.core.judging_messages import Judge, ReadHardness, TakePart
from station.core.mass import Mass
from station.core.material import FoamFacts
from station.core.matters import Occasion
from station.core.part_matters import part_matters
from station.core.snapshot import Snapshot
from station.core.views import snapshot
from station.errors import Refused
from tests.play import CARD, GRIP, PLACE, SILICONE, Play, planned, replay_equals_live

DEMOLD_S = 14400


def demolded(play: Play) -> None:
    play.press()
    play.press(msg.Press.LONG)


@pytest.fixture
def out() -> Play:
    """One cast of 220 g, just out of its mold; nothing on the pan."""
    play = Play()
    play.silicone_in_the_mold()
    play.wait(DEMOLD_S + 60, tick_s=60)
    demolded(play)
    play.stand()
    return play


def seen(play: Play) -> Snapshot:
    return snapshot(play.bench, play.now, 1, CARD)


def taken(play: Play) -> list[tuple[int, float, bool]]:
    return [(event.number, event.mass.g, event.trimmed) for event in play.events(ev.PartWeighed)]


def test_a_part_at_rest_is_taken_by_a_short_press_as_it_came_out(out: Play) -> None:
    assert seen(out).part is not None
    out.put("212.4")
    part = seen(out).part
    assert part is not None
    assert (part.number, part.mass, part.takes) == (1, Mass.grams("212.4"), True)
    out.press()
    assert taken(out) == [(1, 212.4, False)]
    assert out.cues[-1].cue is Cue.ACCEPTED
    assert "212.4 g" in out.cues[-1].words
    assert seen(out).part is None
    assert replay_equals_live(out)


def test_what_the_empty_pan_shows_is_taken_off(out: Play) -> None:
    out.put("-0.3")
    out.put("212.1")
    out.press()
    assert taken(out) == [(1, 212.4, False)]


def test_the_page_takes_it_trimmed(out: Play) -> None:
    out.put("205.0")
    out.send(TakePart(1, True, "phone"))
    assert taken(out) == [(1, 205.0, True)]


def test_a_moving_pan_gives_no_mass(out: Play) -> None:
    out.load = Mass.grams("212.4")
    for _ in range(6):
        out.frame(moving=True)
    with pytest.raises(Refused, match="at rest"):
        out.press()
    with pytest.raises(Refused, match="at rest"):
        out.send(TakePart(1, False, "phone"))
    assert taken(out) == []


def test_the_pan_must_have_been_seen_empty() -> None:
    play = Play()
    play.silicone_in_the_mold()
    play.wait(DEMOLD_S + 60, tick_s=60)
    demolded(play)
    play.put("212.4")
    with pytest.raises(Refused, match="seen empty"):
        play.send(TakePart(1, False, "phone"))
    play.lift()
    play.put("212.4")
    play.press()
    assert taken(play) == [(1, 212.4, False)]


def test_a_scale_that_went_away_must_show_its_empty_pan_again(out: Play) -> None:
    out.send(msg.ScaleLost("pulled"))
    out.send(msg.ScaleFound("test"))
    out.put("212.4")
    with pytest.raises(Refused):
        out.press()
    assert taken(out) == []


@pytest.mark.parametrize("grams", ["24.3", "640"])
def test_what_can_hardly_be_the_part_is_not_taken_by_a_press_but_on_the_page(out: Play, grams: str) -> None:
    out.put(grams)
    with pytest.raises(Refused, match="hardly the part"):
        out.press()
    part = seen(out).part
    assert part is not None
    assert not part.takes
    out.send(TakePart(1, False, "phone"))
    assert taken(out) == [(1, float(grams), False)]


def test_a_cup_for_the_next_cast_leaves_the_press_its_meaning(out: Play) -> None:
    plan = planned(SILICONE, GRIP, Mass.grams("220"), place=PLACE, standing=out.standing)
    out.send(msg.QueueCast(plan, Mass.grams("220"), None, "220 g", "test"))  # type: ignore[arg-type]
    out.put("24.3")
    out.press()
    assert taken(out) == []
    assert out.cast.number == 2


def test_one_part_is_not_taken_for_two_casts() -> None:
    play = Play()
    for _ in range(2):
        play.silicone_in_the_mold()
        play.wait(600, tick_s=60)
    play.wait(DEMOLD_S, tick_s=60)
    demolded(play)
    demolded(play)
    play.stand()
    play.put("212.4")
    play.press()
    with pytest.raises(Refused):
        play.press()
    assert taken(play) == [(2, 212.4, False)]
    play.lift()
    play.put("211.8")
    play.press()
    assert taken(play) == [(2, 212.4, False), (1, 211.8, False)]


def test_a_long_press_still_says_that_the_next_part_is_out_whatever_lies_on_the_pan() -> None:
    play = Play()
    for _ in range(2):
        play.silicone_in_the_mold()
        play.wait(600, tick_s=60)
    play.wait(DEMOLD_S, tick_s=60)
    demolded(play)
    play.stand()
    play.put("212.4")
    demolded(play)
    assert [event.number for event in play.events(ev.Demolded)] == [1, 2]
    assert taken(play) == []


def test_an_alarm_is_answered_by_the_press_before_any_part_is_taken() -> None:
    play = Play()
    play.silicone_in_the_mold()
    play.wait(DEMOLD_S - 600, tick_s=60)
    play.silicone_in_the_mold()
    play.wait(1200, tick_s=60)
    demolded(play)
    play.stand()
    play.put("212.4")
    play.wait(DEMOLD_S, tick_s=60)
    play.stand()
    play.press()
    assert taken(play) == []


def test_it_is_asked_for_half_a_day_and_called_to_mind_for_two_weeks(out: Play) -> None:
    out.wait(13 * 3600, tick_s=600)
    assert seen(out).part is None
    assert [(one.number, one.words) for one in seen(out).unjudged] == [(1, "no verdict yet")]
    out.wait(30 * 86400, tick_s=3600)
    assert seen(out).unjudged == ()


def test_the_mass_is_told_with_its_rule_in_the_persons_own_values() -> None:
    play = Play()
    foam = replace(SILICONE, foam=FoamFacts(free_rise_density=0.35))
    mold = replace(GRIP, cavity_cm3=155.0)
    play.begin(foam, "70", mold)
    play.put("24.3")
    play.pour("63.6", g_per_s=20)
    play.press()
    play.pour("6.4", g_per_s=2)
    play.wait(181)
    play.press()
    play.press()
    play.lift()
    play.press()
    play.wait(DEMOLD_S + 60, tick_s=60)
    demolded(play)
    play.stand()
    play.put("62.4")
    part = seen(play).part
    assert part is not None
    assert part.words == "62.4 g / 155 cm³ = 0.403 g/cm³; packing factor 0.403 / 0.350 = 1.15"


def test_a_day_without_a_verdict_is_worth_a_message_until_somebody_judges(out: Play) -> None:
    def matters() -> list[tuple[str, Occasion]]:
        return [(one.key, one.occasion) for one in part_matters(out.standing, out.now)]

    out.wait(23 * 3600, tick_s=600)
    assert matters() == []
    out.wait(2 * 3600, tick_s=600)
    assert matters() == [("verdict-1", Occasion.JUDGING)]
    out.send(ReadHardness(1, HardnessScale.SHORE_A, 25.0, "", None, "test"))
    out.send(Judge(1, Verdict.GOOD, (), "", "test"))
    assert matters() == []


def test_a_part_read_at_demolding_is_called_to_mind_at_its_full_cure_and_others_are_not(out: Play) -> None:
    out.send(Judge(1, Verdict.GOOD, (), "", "test"))
    out.wait(25 * 3600, tick_s=600)
    assert part_matters(out.standing, out.now) == ()
    other = Play()
    other.silicone_in_the_mold()
    other.wait(DEMOLD_S + 60, tick_s=60)
    demolded(other)
    other.send(ReadHardness(1, HardnessScale.SHORE_A, 22.0, "", None, "test"))
    other.send(Judge(1, Verdict.GOOD, (), "", "test"))
    assert seen(other).unjudged == ()
    other.wait(25 * 3600, tick_s=600)
    assert [one.words for one in seen(other).unjudged] == ["fully cured: read its hardness"]
    assert [one.key for one in part_matters(other.standing, other.now)] == ["reading-1"]
    other.send(ReadHardness(1, HardnessScale.SHORE_A, 25.0, "", None, "test"))
    assert seen(other).unjudged == ()
    assert part_matters(other.standing, other.now) == ()

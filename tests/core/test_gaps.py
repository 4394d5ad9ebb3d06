"""A power cut of unknown length that becomes known later, by the time service, by a hand, or by a word."""

from datetime import timedelta

import pytest

from station.core import events as ev
from station.core import messages as msg
from station.core.clocks import AlarmState, Clock, ClockKind
from station.core.drive import rate_of
from station.core.effects import KeepTime
from station.core.steps import Weigh
from station.core.time_events import GapKnown, TimeHeard
from station.core.time_view import TimeState
from station.core.timing import age_s
from station.core.views import snapshot
from station.core.walls import HowKnown
from station.errors import Refused
from tests.core.test_properties import DRIVEN
from tests.core.test_time import curing, mixing
from tests.play import CARD, GRIP, SILICONE, Play, replay_equals_live


def clock(play: Play, kind: ClockKind) -> Clock:
    found = play.cast.clock(kind)
    assert found is not None
    return found


def age(play: Play, kind: ClockKind) -> float:
    return age_s(clock(play, kind), play.now, 1.0)


def cut(play: Play, off_s: float, boot: str = "boot-2") -> None:
    """Power goes for `off_s`; the wall goes on from where it was and nobody trusts it."""
    true = play.wall
    play.restart(off_s=20, new_boot=boot, trusted=False)
    play.true_wall = true + timedelta(seconds=off_s)  # type: ignore[attr-defined]
    play.cut_at_s = play.boot_s  # type: ignore[attr-defined]


def hear(play: Play) -> None:
    """The time service is heard: the wall is right from now on."""
    play.trusted = True
    play.wall = play.true_wall + timedelta(seconds=play.boot_s - play.cut_at_s)  # type: ignore[attr-defined]
    play.send(msg.Tick())


def tell_time(play: Play, wrong_s: float = 0.0) -> None:
    """Somebody sets the time by hand; the wall goes by that from then on, as the station's clock does."""
    wall = play.true_wall + timedelta(seconds=play.boot_s - play.cut_at_s + wrong_s)  # type: ignore[attr-defined]
    effects = play.send(msg.TellTime(wall, "page"))
    assert [e.offset_s for e in effects if isinstance(e, KeepTime)] == [pytest.approx(wall.timestamp() - play.boot_s)]
    play.wall, play.trusted, play.by_hand = wall, True, True
    play.send(msg.Tick())


def banners(play: Play) -> str:
    return " ".join(banner.words for banner in snapshot(play.bench, play.now, 1, CARD).banners)


def test_a_cure_gains_the_cut_once_the_time_is_heard_and_the_pot_life_is_reckoned_again():
    for play, kind in ((curing(), ClockKind.DEMOLD), (mixing(), ClockKind.POT_LIFE)):
        last, before = play.entries[-1].at, age(play, kind)
        since_last = play.boot_s - last.boot_s
        cut(play, off_s=600)
        play.wait(30)
        hear(play)
        # The station was last seen a little before the cut: that counts as off too.
        assert age(play, kind) == pytest.approx(before - since_last + 600 + since_last + 30, abs=0.01)
        assert not clock(play, kind).unknown_gap
        (known,) = play.events(GapKnown)
        assert known.how is HowKnown.HEARD
        assert replay_equals_live(play)


def test_a_pot_life_alarm_that_only_the_doubt_had_raised_waits_again_and_rings_when_it_is_due():
    play = mixing()
    cut(play, off_s=120)
    assert clock(play, ClockKind.POT_LIFE).state is AlarmState.SOUNDING
    hear(play)
    assert clock(play, ClockKind.POT_LIFE).state is AlarmState.WAITING
    assert {withdrawn.clock for withdrawn in play.events(ev.AlarmWithdrawn)} == {ClockKind.POT_LIFE, ClockKind.POUR_BY}
    assert "Not due yet: pot life" in play.cues[-2].words + play.cues[-1].words
    raised_before = len(play.events(ev.AlarmRaised))
    left = 1800 - age(play, ClockKind.POT_LIFE)
    play.wait(left - 1)
    assert clock(play, ClockKind.POT_LIFE).state is AlarmState.WAITING
    play.wait(2)
    assert clock(play, ClockKind.POT_LIFE).state is AlarmState.SOUNDING
    late = [
        raised.late_s for raised in play.events(ev.AlarmRaised)[raised_before:] if raised.clock is ClockKind.POT_LIFE
    ]
    assert late == [pytest.approx(0, abs=0.6)]
    assert replay_equals_live(play)


def test_an_alarm_that_somebody_has_heard_stays_acknowledged():
    play = mixing()
    cut(play, off_s=120)
    play.send(msg.Acknowledge(1, ClockKind.POT_LIFE, "page"))
    hear(play)
    assert clock(play, ClockKind.POT_LIFE).state is AlarmState.ACKNOWLEDGED


def test_a_pot_life_that_the_cut_has_really_used_up_keeps_sounding():
    play = mixing()
    cut(play, off_s=4000)
    hear(play)
    assert clock(play, ClockKind.POT_LIFE).state is AlarmState.SOUNDING
    assert play.events(ev.AlarmWithdrawn) == []


def test_a_cure_that_the_cut_has_finished_rings_as_soon_as_that_is_known():
    play = curing()
    cut(play, off_s=15000)
    assert clock(play, ClockKind.DEMOLD).state is AlarmState.WAITING
    hear(play)
    assert clock(play, ClockKind.DEMOLD).state is AlarmState.SOUNDING
    assert play.events(ev.AlarmRaised)[-1].late_s == pytest.approx(600, abs=5)


def test_of_two_unknown_cuts_one_that_becomes_known_leaves_the_other_on_its_safe_side():
    play = mixing()
    cut(play, off_s=60)
    cut(play, off_s=90, boot="boot-3")
    play.send(msg.TellGap("boot-2", 60, "page"))
    assert clock(play, ClockKind.POT_LIFE).state is AlarmState.SOUNDING
    assert clock(play, ClockKind.POT_LIFE).unknown_gap
    play.send(msg.TellGap("boot-3", 90, "page"))
    assert clock(play, ClockKind.POT_LIFE).state is AlarmState.WAITING
    assert not clock(play, ClockKind.POT_LIFE).unknown_gap
    assert replay_equals_live(play)


def test_the_bench_asks_how_long_it_was_off_until_somebody_answers():
    play = curing()
    cut(play, off_s=2400)
    assert "off for an unknown time while cast 1 cured: how long?" in banners(play)
    before = age(play, ClockKind.DEMOLD)
    play.send(msg.TellGap("boot-2", 2400.0, "page"))
    assert age(play, ClockKind.DEMOLD) == pytest.approx(before + 2400)
    assert "how long?" not in banners(play)
    (known,) = play.events(GapKnown)
    assert (known.how, known.by) == (HowKnown.TOLD, "page")


def test_i_do_not_know_closes_the_question_and_changes_no_clock():
    play = curing()
    cut(play, off_s=2400)
    before = age(play, ClockKind.DEMOLD)
    play.send(msg.TellGap("boot-2", None, "page"))
    assert age(play, ClockKind.DEMOLD) == before
    assert clock(play, ClockKind.DEMOLD).unknown_gap
    assert "how long?" not in banners(play)
    (asked,) = snapshot(play.bench, play.now, 1, CARD).time.gaps
    assert not asked.open
    hear(play)
    assert age(play, ClockKind.DEMOLD) == pytest.approx(before + 2400, abs=5)


def test_a_word_is_corrected_by_the_time_service_and_by_a_better_word():
    play = curing()
    cut(play, off_s=1200)
    before = age(play, ClockKind.DEMOLD)
    play.send(msg.TellGap("boot-2", 3600, "page"))
    play.send(msg.TellGap("boot-2", 2400, "page"))
    assert age(play, ClockKind.DEMOLD) == pytest.approx(before + 2400)
    hear(play)
    assert age(play, ClockKind.DEMOLD) == pytest.approx(before + 1200, abs=5)
    assert replay_equals_live(play)


@pytest.mark.parametrize(
    ("off_s", "words"),
    [(-60.0, "less than no time"), (float("nan"), "less than no time"), (401 * 86400.0, "400 days")],
)
def test_a_nonsense_length_is_refused_with_a_sentence(off_s, words):
    play = curing()
    cut(play, off_s=60)
    with pytest.raises(Refused, match=words):
        play.send(msg.TellGap("boot-2", off_s, "page"))


def test_what_the_station_knows_by_itself_needs_no_telling():
    play = curing()
    cut(play, off_s=60)
    hear(play)
    with pytest.raises(Refused, match="knows by now that it was off for"):
        play.send(msg.TellGap("boot-2", 300, "page"))
    with pytest.raises(Refused, match="No clock waits"):
        play.send(msg.TellGap("boot-9", 300, "page"))
    with pytest.raises(Refused, match="knows the time by itself"):
        play.send(msg.TellTime(play.wall, "page"))


def test_what_was_told_cannot_be_unknown_again():
    play = curing()
    cut(play, off_s=60)
    play.send(msg.TellGap("boot-2", 60, "page"))
    with pytest.raises(Refused, match="told already"):
        play.send(msg.TellGap("boot-2", None, "page"))


def test_a_time_set_by_hand_makes_the_cut_known_and_says_whose_hand_it_was():
    play = curing()
    cut(play, off_s=900)
    before = age(play, ClockKind.DEMOLD)
    tell_time(play)
    assert age(play, ClockKind.DEMOLD) == pytest.approx(before + 900, abs=5)
    view = snapshot(play.bench, play.now, 1, CARD).time
    assert (view.state, view.by) == (TimeState.SET, "page")
    (known,) = play.events(GapKnown)
    assert known.how is HowKnown.SET


def test_the_time_service_outdoes_a_hand_and_the_page_says_by_how_much():
    play = curing()
    cut(play, off_s=900)
    before = age(play, ClockKind.DEMOLD)
    tell_time(play, wrong_s=420)
    assert age(play, ClockKind.DEMOLD) == pytest.approx(before + 1320, abs=5)
    play.wait(60)
    play.by_hand = False
    hear(play)
    assert age(play, ClockKind.DEMOLD) == pytest.approx(before + 960, abs=5)
    assert "set by hand was 7 min ahead of the time service's" in banners(play)
    (heard,) = play.events(TimeHeard)
    assert heard.shift_s == pytest.approx(-420)
    assert replay_equals_live(play)


def test_a_hand_that_was_nearly_right_needs_no_banner():
    play = curing()
    cut(play, off_s=900)
    tell_time(play, wrong_s=30)
    play.by_hand = False
    hear(play)
    assert banners(play) == ""


def test_a_time_before_the_last_evidence_or_long_after_it_is_refused():
    play = curing()
    cut(play, off_s=900)
    for days, words in ((-1, "cannot be now"), (500, "more than 400 days"), (-900, "not the day")):
        with pytest.raises(Refused, match=words):
            play.send(msg.TellTime(play.true_wall + timedelta(days=days), "page"))
    assert not snapshot(play.bench, play.now, 1, CARD).at.trusted


def test_a_told_time_is_kept_over_a_restart_of_the_process_and_lost_with_the_boot():
    play = curing()
    cut(play, off_s=900)
    tell_time(play)
    offset = play.wall.timestamp() - play.boot_s
    play.trusted = play.by_hand = False
    before = len(play.kept_times)
    play.restart(off_s=3)
    assert play.kept_times[before:] == [pytest.approx(offset)]
    play.restart(off_s=30, new_boot="boot-3", trusted=False)
    assert len(play.kept_times) == before + 1


def test_a_first_contact_noticed_only_after_the_cut_counts_from_the_safe_side_and_then_from_the_truth():
    play = Play()
    play.begin(SILICONE, "220", GRIP)
    play.put("24.3")
    play.pour("200")
    play.press()
    since = play.cast.since
    play.wait(5)
    cut(play, off_s=60)
    assert isinstance(play.step, Weigh)
    play.load = play.load + play.step.target.times(0.4)
    play.stand(3)
    assert play.events(ev.FirstContact)[0].at == since
    assert clock(play, ClockKind.POT_LIFE).state is AlarmState.SOUNDING
    hear(play)
    assert clock(play, ClockKind.POT_LIFE).state is AlarmState.WAITING
    true = play.wall - since.wall
    assert age(play, ClockKind.POT_LIFE) == pytest.approx(true.total_seconds(), abs=0.01)
    assert replay_equals_live(play)


def test_an_idle_station_writes_once_that_the_time_was_heard_and_no_more():
    play = Play()
    play.trusted = False
    play.send(msg.Started(None, "test"))
    play.trusted = True
    for _ in range(5):
        play.send(msg.Tick())
    assert [type(entry.event).__name__ for entry in play.entries] == ["StationStarted", "TimeHeard"]


def test_a_hand_that_sets_the_time_a_little_before_the_last_evidence_leaves_the_cut_unknown():
    play = curing()
    cut(play, off_s=30)
    before = age(play, ClockKind.DEMOLD)
    tell_time(play, wrong_s=-100)
    assert clock(play, ClockKind.DEMOLD).unknown_gap
    assert age(play, ClockKind.DEMOLD) == before
    assert "how long?" in banners(play)


def test_a_cut_counts_for_a_cold_cure_as_slowly_as_it_cured_and_for_a_warm_one_no_faster_than_plain_time():
    for celsius, counts in ((18.0, None), (31.0, 1.0)):
        play = Play()
        play.send(msg.Temperature(celsius))
        play.begin(DRIVEN, "220", GRIP)
        play.put("24.3")
        play.pour("200")
        play.press()
        play.pour("20", g_per_s=3)
        play.wait(60)
        rate = rate_of(play.standing, play.cast)
        cut(play, off_s=3600)
        before = clock(play, ClockKind.DEMOLD).age.equivalent_s
        off_s = 3600 + play.entries[-1].at.boot_s - play.boot_s
        play.send(msg.TellGap("boot-2", off_s, "page"))
        gained = clock(play, ClockKind.DEMOLD).age.equivalent_s - before
        assert gained == pytest.approx((counts or rate) * off_s)
        assert rate < 1 if counts is None else rate > 1

"""Judging a part: who waits for it, what counts, what is refused; and a replay gives the same."""

from __future__ import annotations

import pytest

from station.core import events as ev
from station.core import judging_messages as say
from station.core import messages as msg
from station.core.clocks import ClockKind
from station.core.judging_events import Defect, DefectKind, HardnessScale, Severity, Verdict
from station.core.mass import Mass
from station.errors import Refused
from tests.play import Play, replay_equals_live

DEMOLD_S, FULL_CURE_S = 14400, 86400
VOID = Defect(DefectKind.VOID, Severity.CLEAR, "heel")


@pytest.fixture
def out() -> Play:
    """One cast, out of its mold before its full cure."""
    play = Play()
    play.silicone_in_the_mold()
    play.wait(DEMOLD_S + 60, tick_s=60)
    play.press()
    play.press(msg.Press.LONG)
    return play


def judge(play: Play, verdict: Verdict = Verdict.GOOD, *defects: Defect, note: str = "") -> None:
    play.send(say.Judge(1, verdict, defects, note, "test"))


def read(play: Play, value: float = 28.0, since_s: float | None = None) -> None:
    play.send(say.ReadHardness(1, HardnessScale.SHORE_A, value, "rim", since_s, "test"))


def test_a_part_waits_from_the_moment_it_is_out(out: Play) -> None:
    (part,) = out.standing.parts
    assert (part.number, part.mold, part.mass, part.verdict) == (1, "Paddle grip", None, None)
    assert part.mixed == Mass.grams("220.0")
    assert part.cures
    assert replay_equals_live(out)


def test_the_latest_word_counts_and_all_are_kept(out: Play) -> None:
    out.send(say.WeighPart(1, Mass.grams("208.4"), False, "test"))
    out.send(say.WeighPart(1, Mass.grams("206.1"), True, "test"))
    judge(out, Verdict.GOOD)
    judge(out, Verdict.SCRAP, VOID, note=" cut it open ")
    (part,) = out.standing.parts
    assert (part.mass, part.trimmed, part.verdict) == (Mass.grams("206.1"), True, Verdict.SCRAP)
    assert [event.mass.g for event in out.events(ev.PartWeighed)] == [208.4, 206.1]
    assert [event.verdict for event in out.events(ev.Judged)] == [Verdict.GOOD, Verdict.SCRAP]
    assert out.events(ev.Judged)[-1].note == "cut it open"
    assert replay_equals_live(out)


def test_what_was_said_by_mistake_can_be_taken_back(out: Play) -> None:
    out.send(say.WeighPart(1, Mass.grams("208.4"), True, "test"))
    judge(out)
    out.send(say.WithdrawPartMass(1, "test"))
    out.send(say.WithdrawVerdict(1, "test"))
    (part,) = out.standing.parts
    assert (part.mass, part.trimmed, part.verdict) == (None, False, None)
    assert replay_equals_live(out)


def test_readings_are_counted_through_the_whole_station(out: Play) -> None:
    read(out)
    read(out, 29.5)
    out.send(say.WithdrawHardness(1, 1, "test"))
    assert [event.reading for event in out.events(ev.HardnessRead)] == [1, 2]
    assert out.standing.last_reading == 2


def test_a_reading_tells_how_long_the_part_was_out(out: Play) -> None:
    out.wait(600, tick_s=60)
    read(out)
    read(out, since_s=120.0)
    assert [event.since_demold_s for event in out.events(ev.HardnessRead)] == [600.0, 120.0]


def test_a_verdict_before_the_full_cure_leaves_the_last_reading_to_come(out: Play) -> None:
    read(out)
    judge(out)
    (part,) = out.standing.parts
    assert (part.early, part.late, part.over) == (True, False, False)
    out.wait(FULL_CURE_S, tick_s=600)
    assert out.standing.parts[0].cured is not None
    out.send(msg.Acknowledge(1, ClockKind.FULL_CURE, "test"))
    assert out.standing.casts == ()
    read(out, 31.0)
    assert out.standing.parts == ()
    assert replay_equals_live(out)


def test_a_part_that_nobody_will_judge_is_asked_for_no_more(out: Play) -> None:
    with pytest.raises(Refused, match="why"):
        out.send(say.WaiveJudging(1, "  ", "test"))
    out.send(say.WaiveJudging(1, "given away", "test"))
    assert out.standing.parts == ()
    assert replay_equals_live(out)


def test_a_cast_that_is_given_up_while_it_cures_on_has_no_part(out: Play) -> None:
    out.send(msg.Abort(1, "torn by the dog", "test"))
    assert out.standing.parts == ()


def test_a_part_that_the_bench_has_forgotten_can_still_be_judged(out: Play) -> None:
    out.send(say.WaiveJudging(1, "given away", "test"))
    judge(out, Verdict.USABLE)
    assert out.events(ev.Judged)[-1].verdict is Verdict.USABLE
    assert out.standing.parts == ()


def test_a_cast_in_its_mold_has_no_part_yet_nor_has_one_that_never_was() -> None:
    play = Play()
    play.silicone_in_the_mold()
    with pytest.raises(Refused, match="not out of its mold"):
        judge(play)
    with pytest.raises(Refused, match="no cast 7"):
        play.send(say.WithdrawVerdict(7, "test"))
    assert play.events(ev.Judged) == []


@pytest.mark.parametrize("value", [-1.0, 100.5, float("nan"), float("inf")])
def test_a_durometer_shows_nothing_beyond_its_scale(out: Play, value: float) -> None:
    with pytest.raises(Refused, match="0 to 100"):
        read(out, value)


@pytest.mark.parametrize(("mold_mm", "part_mm"), [(0.0, 1.0), (100.0, -1.0), (100.0, 10.0), (100.0, float("nan"))])
def test_lengths_that_cannot_be_of_the_same_thing_are_refused(out: Play, mold_mm: float, part_mm: float) -> None:
    with pytest.raises(Refused):
        out.send(say.MeasureShrinkage(1, mold_mm, part_mm, "along", "test"))
    assert out.events(ev.ShrinkageMeasured) == []


@pytest.mark.parametrize("grams", ["0", "-3", "1000001"])
def test_a_part_weighs_something(out: Play, grams: str) -> None:
    with pytest.raises(Refused, match="cannot weigh"):
        out.send(say.WeighPart(1, Mass.grams(grams), False, "test"))


def test_one_defect_is_told_once_for_each_place(out: Play) -> None:
    judge(out, Verdict.USABLE, VOID, Defect(DefectKind.VOID, Severity.SLIGHT, "toe"))
    with pytest.raises(Refused, match="twice"):
        judge(out, Verdict.USABLE, VOID, Defect(DefectKind.VOID, Severity.SLIGHT, "Heel"))

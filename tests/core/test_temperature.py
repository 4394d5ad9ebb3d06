"""Time against temperature and mass at the bench: limits at planning, cures that count the real temperature."""

from dataclasses import replace

import pytest

from station.casting.chemistry import Chemistry
from station.casting.kinetics import Kinetics, Rate, Unknown, equivalent_age
from station.core import messages as msg
from station.core.clocks import AlarmState, ClockKind
from station.core.drive import cure_kinetics, pot_kinetics
from station.core.forecast import forecast
from station.core.mass import Mass
from station.core.material import TimesAt
from station.core.planning import planned
from station.core.standing import Standing
from station.core.timing import age_s, left_s
from station.core.views import snapshot
from station.errors import Refused
from station.phone.wire import state
from station.sheets import read_sheets
from tests.play import CARD, GRIP, PLACE, Play, replay_equals_live

SHEETS = {sheet.key: sheet for sheet in read_sheets(()).materials}
FOAM, RUBBER, SILICONE = SHEETS["example-foam"], SHEETS["example-rubber"], SHEETS["example-silicone"]
SHEET_50 = replace(SILICONE, times=replace(SILICONE.times, activation_kj=50.0))


def curing(material=SHEET_50, celsius=23.0) -> Play:
    """A cast that cures, the bench at this temperature."""
    play = Play()
    play.send(msg.Temperature(celsius))
    play.begin(material, "220", GRIP)
    play.put("24.3")
    play.pour("200")
    play.press()
    play.pour("20", g_per_s=3)
    play.wait(190)
    for _ in ("mixed", "poured", "cup not weighed"):
        play.press()
    return play


def demold(play: Play):
    return play.cast.clock(ClockKind.DEMOLD)


def test_a_workshop_that_cools_takes_longer_and_the_dial_never_runs_back():
    play = curing()
    play.wait(3600, tick_s=60)
    before = left_s(demold(play), play.now, 1.0)
    shown = snapshot(play.bench, play.now, 1, CARD).curing[0].dials[0].fraction
    play.send(msg.Temperature(18.0))
    after = snapshot(play.bench, play.now, 1, CARD).curing[0].dials[0]
    assert after.left_s == pytest.approx(before / 0.70559, rel=1e-4)
    assert after.fraction == pytest.approx(shown, abs=1e-6)


def test_the_age_of_a_cure_is_the_equivalent_age_of_its_temperatures():
    play = curing()
    spells = ((3600.0, 18.0), (1800.0, 26.0), (2400.0, 21.0))
    begun = age_s(demold(play), play.now, 1.0)
    for seconds, celsius in spells:
        play.send(msg.Temperature(celsius))
        play.wait(seconds, tick_s=60)
    expected = equivalent_age(Kinetics(23.0, 50.0, 50.0), spells).slow
    rate = cure_kinetics(SHEET_50).rate(21.0).slow
    assert age_s(demold(play), play.now, rate) - begun == pytest.approx(expected, rel=1e-3)
    assert replay_equals_live(play)


def test_too_cold_the_cure_stands_still_and_says_so_and_goes_on_when_it_is_warm():
    play = curing()
    play.send(msg.Temperature(9.0))
    play.wait(20 * 3600, tick_s=600)
    assert demold(play).state is AlarmState.WAITING
    seen = snapshot(play.bench, play.now, 1, CARD)
    assert seen.curing[0].dials[0].due is None
    assert "too cold" in seen.curing[0].words.lower()
    wire = state(seen)["curing"][0]["dials"][0]
    assert wire["left_s"] is None
    assert "too cold" in wire["left_words"]
    play.send(msg.Temperature(23.0))
    play.wait(4 * 3600 + 60, tick_s=60)
    assert demold(play).state is AlarmState.SOUNDING


def test_a_range_counts_at_its_slowest_on_either_side_of_the_reference():
    for celsius in (18.0, 28.0):
        both = cure_kinetics(SILICONE).rate(celsius)
        assert isinstance(both, Rate)
        play = curing(SILICONE, celsius)
        begun = age_s(demold(play), play.now, both.slow)
        play.wait(1000, tick_s=100)
        assert age_s(demold(play), play.now, both.slow) - begun == pytest.approx(1000 * both.slow, rel=1e-3)


def test_nothing_is_counted_differently_without_a_thermometer():
    assert (forecast(SILICONE, 100, None).notes, forecast(SILICONE, 100, None).warnings) == ((), ())
    assert forecast(SILICONE, 100, None).pot_life_s == SILICONE.times.pot_life_s


def test_the_pot_life_of_a_hot_day_is_the_shortest_of_its_range():
    warm = forecast(FOAM, 100, 29.0)
    factor = pot_kinetics(FOAM).rate(29.0).fast
    assert warm.pot_life_s == pytest.approx(50 / factor)
    assert "instead of 50 s at 23 °C" in warm.notes[0]


def test_a_cold_day_lengthens_the_pot_life_only_by_the_sheet_s_own_table():
    assert forecast(FOAM, 100, 19.0).pot_life_s == 50
    own = replace(RUBBER, times=replace(RUBBER.times, at=(TimesAt(18.0, 1300.0, None),)))
    assert forecast(own, 100, 18.0).pot_life_s == pytest.approx(1300)


def test_more_mass_shortens_it_by_the_sheet_or_is_said_to():
    assert forecast(RUBBER, 1000, 23.0).pot_life_s == pytest.approx(510)
    said = forecast(SILICONE, 900, 23.0)
    assert said.pot_life_s == SILICONE.times.pot_life_s
    assert "valid for 100 g; yours is 900 g" in said.warnings[0]


def test_below_the_sheet_s_limit_nothing_is_predicted_and_the_plan_warns():
    cold = forecast(FOAM, 100, 12.0)
    assert cold.pot_life_s == 50
    assert any("18 °C at least" in note for note in cold.warnings)
    assert any("cure counts nothing" in note for note in cold.warnings)
    assert isinstance(pot_kinetics(FOAM).rate(12.0), Unknown)


def test_a_batch_that_cannot_be_mixed_in_time_is_refused_with_what_to_do():
    quick = replace(FOAM, times=replace(FOAM.times, mix_s=30.0, warmest_c=40.0), additives=())
    place = replace(PLACE, temperature_c=35.0)
    with pytest.raises(Refused, match="Cool the components"):
        planned(quick, GRIP, Mass.grams(160), place=place, standing=Standing())


def test_a_pot_life_shorter_than_pouring_still_leaves_time_before_the_pour_by_alarm():
    slow = replace(FOAM, times=replace(FOAM.times, activation_kj=None, pour_reserve_s=30.0, mix_s=5.0), additives=())
    plan = planned(slow, GRIP, Mass.grams(160), place=replace(PLACE, temperature_c=29.9), standing=Standing())
    assert plan.limit_s < 30
    assert any("may be too short" in note for note in plan.warnings)
    assert plan.pour_by_s == pytest.approx(plan.limit_s / 2)


def test_the_clock_of_a_cast_counts_to_the_forecast_of_its_plan():
    plan = planned(SHEET_50, GRIP, Mass.grams(220), place=replace(PLACE, temperature_c=30.0), standing=Standing())
    assert plan.limit_s == pytest.approx(1800 / 1.598208, rel=1e-5)
    assert any("The clock counts to" in note for note in plan.notes)


def test_a_row_for_a_warm_day_does_not_lengthen_the_pot_life_of_a_cold_one():
    assert [row.celsius for row in RUBBER.times.at] == [30.0]
    assert forecast(RUBBER, 100, 17.0).pot_life_s == 900


def test_hotter_than_the_sheet_allows_the_clock_counts_no_longer_than_at_its_limit():
    hot = forecast(FOAM, 100, 36.0)
    assert hot.pot_life_s == forecast(FOAM, 100, 30.0).pot_life_s == pytest.approx(50 / 1.598208, rel=1e-5)
    assert "the sheet ends at 30 °C" in hot.warnings[0]
    assert "shorter than the 31.3 s that its clock counts to" in hot.warnings[1]


def test_a_known_power_cut_counts_a_warm_cure_as_plain_time_and_a_cool_one_at_its_rate():
    for celsius, counts in ((30.0, 1.0), (18.0, 0.70559)):
        play = curing(celsius=celsius)
        rate = cure_kinetics(SHEET_50).rate(celsius).slow
        play.send(msg.Temperature(celsius + 0.1))  # an entry: the moment at which the station was seen last
        play.send(msg.Temperature(celsius))
        before = age_s(demold(play), play.now, rate)
        play.restart(off_s=3600, new_boot="boot-2")
        assert age_s(demold(play), play.now, rate) - before == pytest.approx(3600 * counts, rel=1e-4)
        assert replay_equals_live(play)


def test_what_nothing_predicts_counts_as_plain_time_and_says_that_it_may_need_longer():
    play = curing(replace(SILICONE, chemistry=Chemistry.OTHER), 18.0)
    begun = age_s(demold(play), play.now, 1.0)
    play.wait(1000, tick_s=100)
    assert age_s(demold(play), play.now, 1.0) - begun == pytest.approx(1000)
    words = snapshot(play.bench, play.now, 1, CARD).curing[0].words
    assert words.endswith("its chemistry is not told. It may need longer.")


def test_the_full_cure_of_a_part_out_of_its_mold_says_when_it_is_too_cold():
    play = curing()
    play.wait(4 * 3600 + 60, tick_s=60)
    play.send(msg.Demold(play.standing.casts[0].number, "bench"))
    play.send(msg.Temperature(9.0))
    words = snapshot(play.bench, play.now, 1, CARD).curing[0].words
    assert words.startswith("Out of the mold; full cure runs. Too cold to cure: at 9.0 °C, below the sheet's 15 °C")

"""Limits, and what is advised for a material and a mold: with rule, interval and cautions, or the reason why not."""

from dataclasses import replace

import numpy as np
import pytest

from station.core.advice_events import AdviceKind
from station.core.judging_events import DefectKind
from station.core.material import FoamFacts, Mold
from station.errors import Refused
from station.insight.advice import Advice, NoAdvice, advised, interval, wanted_density
from station.insight.limits import Edge, limit
from tests.insight.made import GOOD, SCRAP, cast, defect
from tests.play import FOAM

FOAMY = replace(FOAM, foam=FoamFacts(free_rise_density=0.1))
PAD = Mold("pad", "Pad", cavity_cm3=500.0)


def packed(count, seed=3):
    """Casts packed from 1.0 to 1.5: short under about 1.1, with flash over about 1.4."""
    draw, found = np.random.default_rng(seed), []
    for n in range(1, count + 1):
        packing = float(draw.uniform(1.0, 1.5))
        kinds = []
        if draw.random() < 1 / (1 + np.exp((packing - 1.1) / 0.02)):
            kinds.append(DefectKind.SHORT_SHOT)
        if draw.random() < 1 / (1 + np.exp((1.4 - packing) / 0.02)):
            kinds.append(DefectKind.FLASH)
        mixed = packing * 53.0
        found.append(
            cast(
                n,
                packing_factor=packing,
                mixed_g=mixed,
                density_g_cm3=0.1 * packing,
                mix_s=float(draw.normal(60, 5)),
                contact_to_pour_s=float(draw.normal(90, 5)),
                verdict=SCRAP if kinds else GOOD,
                defects=tuple(defect(kind) for kind in kinds),
            )
        )
    return found


def test_packing_is_bounded_by_short_shots_and_flash():
    casts = packed(60)
    short, flash = limit(casts, Edge.SHORT_SHOTS), limit(casts, Edge.FLASH)
    # The truth: one in ten is short at 1.1 + 0.02 ln 9 = 1.144, one in ten has flash at 1.4 - 0.02 ln 9 = 1.356.
    assert short.low < 1.144 < short.high
    assert flash.low < 1.356 < flash.high
    assert short.at < flash.at


def test_a_limit_is_not_told_where_nothing_speaks_for_it():
    with pytest.raises(Refused, match="at least 3 casts of each kind"):
        limit(packed(60), Edge.MIX)
    mixed_up = [
        replace(one, defects=(defect(DefectKind.FLASH),) if one.number % 3 == 0 else ()) for one in packed(40, seed=5)
    ]
    with pytest.raises(Refused, match="clearly enough"):
        limit(mixed_up, Edge.FLASH)


def test_each_kind_of_advice_is_there_or_says_why_not():
    told = {one.kind: one for one in advised(packed(60), FOAMY, replace(PAD, packing=1.25), celsius=None)}
    assert set(told) == {
        AdviceKind.MIX,
        AdviceKind.PACKING_LOW,
        AdviceKind.PACKING_HIGH,
        AdviceKind.POUR_BY,
        AdviceKind.MIX_TIME,
        AdviceKind.CURE,
    }
    mix = told[AdviceKind.MIX]
    assert isinstance(mix, Advice)
    assert mix.value == pytest.approx(1.25 * 53.0, rel=1e-6)
    assert "100.0 kg/m³ free rise × packing factor 1.25" in mix.rule
    assert isinstance(told[AdviceKind.PACKING_LOW], Advice)
    assert "not tried" in told[AdviceKind.PACKING_LOW].cautions[0]
    assert isinstance(told[AdviceKind.MIX_TIME], NoAdvice)


def test_the_least_time_in_the_mold_is_told_by_parts_that_came_out_too_early():
    early = [
        replace(
            one,
            # Tacky within 5 h of the pour; at 5 to 6 h every other one.
            cure_s=3600 * (hours := 2 + one.number % 12 * 0.5),
            verdict=SCRAP if (bad := hours < 5 or (hours < 6 and one.number % 24 < 12)) else GOOD,
            defects=(defect(DefectKind.TACKY),) if bad else (),
        )
        for one in packed(48)
    ]
    told = {one.kind: one for one in advised(early, FOAMY, PAD, celsius=None)}[AdviceKind.CURE]
    assert isinstance(told, Advice)
    assert 5 < told.value < 7
    assert told.low < told.value < told.high
    assert told.said().startswith(f"{told.value:.1f} h (19 times in 20 between ")
    assert "colder" in told.cautions[1]
    slow = replace(FOAMY, times=replace(FOAMY.times, demold_s=8 * 3600.0))
    enough = {one.kind: one for one in advised(early, slow, PAD, celsius=None)}[AdviceKind.CURE]
    assert enough.why == "The demold time of the sheet, 8.0 h, is enough."


def test_a_density_can_be_typed_and_a_tighter_shot_carries_its_cautions():
    told = advised(packed(30), FOAMY, PAD, celsius=None, density=0.16)[0]
    assert told.value == pytest.approx(1.6 * 53.0, rel=1e-6)
    assert "as typed" in told.rule
    assert "small steps" in told.cautions[0]
    assert "nobody leans over" in told.cautions[1]


def test_without_a_wanted_density_the_good_parts_say_it():
    casts = packed(30)
    good = [one.density_g_cm3 for one in casts if one.verdict is GOOD]
    assert wanted_density(casts, FOAMY, PAD).density == pytest.approx(sum(good) / len(good))
    assert wanted_density([], FOAMY, PAD) is None
    assert isinstance(advised([], FOAMY, PAD, celsius=None)[0], NoAdvice)


def late(edge):
    """Casts poured later the higher their number; those after `edge` seconds have voids."""
    return [
        cast(
            n,
            contact_to_pour_s=60.0 + 2 * n,
            verdict=SCRAP if 60 + 2 * n > edge else GOOD,
            defects=(defect(DefectKind.VOID),) if 60 + 2 * n > edge else (),
        )
        for n in range(1, 31)
    ]


def test_a_pot_life_is_only_ever_shortened():
    times = replace(FOAMY.times, pot_life_s=150.0, mix_s=40.0, pour_reserve_s=20.0)
    sheet = replace(FOAMY, times=times)
    told = advised(late(100), sheet, PAD, celsius=None)[3]
    assert isinstance(told, Advice)
    assert 80 < told.value < 105
    kept = advised(late(100), replace(sheet, times=replace(times, pot_life_s=80.0)), PAD, celsius=None)[3]
    assert "keep to the pot life of the sheet" in kept.why
    short = advised(late(100), replace(sheet, times=replace(times, mix_s=100.0)), PAD, celsius=None)[3]
    assert "another reason" in short.why


def test_an_interval_without_an_end_says_so():
    assert interval(AdviceKind.MIX_TIME, 60.0, None) == "19 times in 20 above 60 s"
    assert interval(AdviceKind.PACKING_LOW, None, 1.2) == "19 times in 20 below 1.200"
    assert interval(AdviceKind.SHOT, None, None) == "how sure that is cannot be told"

"""The simulated load cell: it settles to the truth, lags as asked, and repeats itself exactly."""

from __future__ import annotations

from decimal import Decimal

import pytest

from station.core.mass import Mass
from station.core.material import ScaleCard
from station.simulated.load_cell import QUIET_S, CellFaults, Indication, LoadCell
from station.simulated.voices import Voice

CARD = ScaleCard(Mass.grams("0.1"), Mass.grams(3000), lag_s=0.5)
IDEAL = CellFaults(noise=0.0, drift=0.0)


def run(cell: LoadCell, seconds: float, grams: float, dt: float = 0.1) -> list[Indication]:
    """Let time pass under a constant load; the indications that were renewed."""
    shown = [cell.step(dt, grams) for _ in range(round(seconds / dt))]
    return [s for s in shown if s.fresh]


@pytest.mark.parametrize("d", ["0.01", "0.1", "0.5", "1"])
def test_it_settles_to_the_truth_within_one_step(d: str) -> None:
    cell = LoadCell(ScaleCard(Mass.grams(d), Mass.grams(3000), lag_s=0.5), faults=CellFaults(drift=0.0), seed=3)
    run(cell, 8, 62.4)
    late = run(cell, 5, 62.4)
    assert late[-1].stable
    # 0.25 d of noise and rounding of half a step: four standard deviations stay within 1.5 d.
    assert all(abs(s.grams - Decimal("62.4")) <= Decimal(d) * Decimal("1.5") for s in late)
    assert abs(sum(s.grams for s in late) / len(late) - Decimal("62.4")) <= Decimal(d)


@pytest.mark.parametrize("lag_s", [0.3, 0.6, 1.2])
def test_under_a_steady_pour_it_shows_what_lay_there_one_lag_ago(lag_s: float) -> None:
    # Textbook: the error of a linear filter to a ramp is slope × group delay; two equal poles: twice the time constant.
    cell = LoadCell(ScaleCard(Mass.grams("0.01"), Mass.grams(3000), lag_s), rate_hz=20, faults=IDEAL)
    slope, poured = 10.0, 0.0
    for _ in range(1000):
        poured += slope * 0.01
        shown = cell.step(0.01, poured)
    behind_s = (poured - float(shown.grams)) / slope
    assert behind_s == pytest.approx(lag_s, abs=0.02 + 1 / 20)


def test_without_lag_it_follows_at_once() -> None:
    cell = LoadCell(ScaleCard(Mass.grams("0.1"), Mass.grams(3000), lag_s=0.0), faults=IDEAL)
    assert run(cell, 0.1, 50.0)[-1].grams == Decimal("50.0")


def test_the_same_seed_gives_the_same_bytes_and_another_seed_others() -> None:
    def lines(seed: int) -> bytes:
        cell = LoadCell(CARD, faults=CellFaults(bumps_per_min=20, touches_per_min=10), seed=seed)
        voice = Voice("status-commas")
        return b"".join(voice.line(*s[:3]) for s in run(cell, 30, 100.0))

    assert lines(1) == lines(1)
    assert lines(1) != lines(2)


def test_how_time_is_cut_into_steps_makes_no_difference() -> None:
    def shown(dt: float) -> list[Indication]:
        return run(LoadCell(CARD, faults=CellFaults(bumps_per_min=10), seed=5), 20, 100.0, dt)

    assert shown(0.01) == shown(0.05) == shown(0.1)


def test_it_renews_its_indication_at_its_rate() -> None:
    for rate in (1.0, 5.0, 10.0, 20.0):
        assert len(run(LoadCell(CARD, rate_hz=rate), 10, 0.0, dt=0.01)) == round(10 * rate)


def test_stable_comes_only_after_the_indication_has_been_quiet() -> None:
    cell = LoadCell(CARD, faults=IDEAL)
    run(cell, 5, 0.0)
    shown = run(cell, 6, 100.0)
    arrived = next(n for n, s in enumerate(shown) if abs(s.grams - 100) <= Decimal("0.1"))
    first_stable = next(n for n, s in enumerate(shown) if s.stable)
    assert not any(s.stable for s in shown[:first_stable])
    assert first_stable - arrived >= round(QUIET_S / 0.1) - 1
    assert all(s.stable for s in shown[first_stable:])


def test_above_max_it_is_overloaded_and_never_stable() -> None:
    cell = LoadCell(CARD, faults=IDEAL)
    assert not run(cell, 10, 3000.0)[-1].overload
    shown = run(cell, 10, 3000.3)[-1]
    assert shown.overload
    assert not shown.stable
    assert not run(cell, 10, 100.0)[-1].overload


def test_the_indication_has_the_decimals_of_the_readability_and_zero_has_no_sign() -> None:
    for d, text in (("0.01", "0.00"), ("0.1", "0.0"), ("0.2", "0.0"), ("5", "0")):
        cell = LoadCell(ScaleCard(Mass.grams(d), Mass.grams(3000)), faults=IDEAL)
        assert str(run(cell, 2, -0.0001)[-1].grams) == text


def test_a_knock_at_the_bench_disturbs_and_passes() -> None:
    quiet = run(LoadCell(CARD, faults=CellFaults(drift=0.0), seed=2), 60, 100.0)[40:]
    knocked = run(LoadCell(CARD, faults=CellFaults(drift=0.0, bumps_per_min=6), seed=2), 60, 100.0)[40:]

    def worst(shown: list[Indication]) -> Decimal:
        return max(abs(s.grams - 100) for s in shown)

    assert worst(knocked) > worst(quiet)
    assert sum(s.stable for s in knocked) < sum(s.stable for s in quiet)
    assert any(s.stable for s in knocked)


def test_a_hand_on_the_pan_is_a_load_of_grams_for_a_moment() -> None:
    shown = run(LoadCell(CARD, faults=CellFaults(drift=0.0, touches_per_min=10), seed=4), 60, 100.0)[40:]
    assert max(abs(s.grams - 100) for s in shown) > 1
    assert sorted(abs(s.grams - 100) for s in shown)[len(shown) // 2] <= Decimal("0.2")


def test_drift_grows_with_the_square_root_of_time() -> None:
    def spread(seconds: float) -> float:
        ends = []
        for seed in range(30):
            cell = LoadCell(
                ScaleCard(Mass.grams("0.001"), Mass.grams(3000), lag_s=0.1),
                rate_hz=1,
                faults=CellFaults(noise=0.0, drift=1000.0),
                seed=seed,
            )
            ends.append(float(cell.step(seconds, 0.0).grams))
        return (sum(e * e for e in ends) / len(ends)) ** 0.5

    # Random walk: four times the time, twice the spread; 30 seeds leave 13 % of uncertainty in each.
    assert spread(80) / spread(20) == pytest.approx(2.0, rel=0.4)
    assert spread(36) == pytest.approx(0.1, rel=0.4)  # 1 g after an hour is 0.1 g after 36 s

"""What a project takes: casts, material, and what must be at hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.project import by_component, checklist, need
from station.errors import Refused


def test_two_molds_of_three_trials_and_twenty_parts_by_hand():
    found = need(molds=2, mold_g=1800, parts=20, trials=3, cast_g=160, margin_percent=10)
    assert found.casts == 26  # 20 + 2 × 3
    assert found.mold_g == pytest.approx(3960)  # 2 × 1800 × 1.1
    assert found.cast_g == pytest.approx(4576)  # 26 × 160 × 1.1


@given(st.integers(1, 20), st.integers(0, 200), st.integers(0, 9), st.floats(0.1, 9000), st.floats(0, 200))
def test_one_part_more_takes_one_cast_more_and_no_mold(molds, parts, trials, cast_g, margin):
    def of(wanted):
        return need(molds=molds, mold_g=500, parts=wanted, trials=trials, cast_g=cast_g, margin_percent=margin)

    less, more = of(parts + 1), of(parts + 2)
    assert more.casts == less.casts + 1
    assert more.mold_g == less.mold_g
    assert more.cast_g - less.cast_g == pytest.approx(cast_g * (1 + margin / 100), rel=1e-6)


@pytest.mark.parametrize(
    "wrong",
    [
        {"molds": 0},
        {"parts": 0, "trials": 0},
        {"cast_g": 0},
        {"mold_g": -1},
        {"margin_percent": -1},
        {"margin_percent": 201},
        {"margin_percent": float("nan")},
    ],
)
def test_a_project_that_cannot_be_is_refused_with_what_to_do(wrong):
    typed = {"molds": 1, "mold_g": 100, "parts": 4, "trials": 0, "cast_g": 50, "margin_percent": 0}
    with pytest.raises(Refused) as refused:
        need(**(typed | wrong))
    assert refused.value.hint


def test_the_components_share_the_grams():
    assert by_component(800, {"A": 0.625, "B": 0.375}) == {"A": 500, "B": 300}


def test_only_a_urethane_asks_for_a_respirator_and_only_a_silicone_for_a_dab_test():
    plain, both = checklist(isocyanate=False, silicone=False), checklist(isocyanate=True, silicone=True)
    assert set(plain) < set(both)
    assert not any("respirator" in said or "dab test" in said for said in plain)
    assert any("respirator as the safety data sheet says" in said for said in both)
    assert any("dab test" in said for said in both)

"""How a batch is split into pours, and the warnings about walls and undercuts."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.box_pours import deepest_undercut, margin_sentence, pours, stock_sentence, warnings
from station.casting.moldbox import Plan, Walls
from station.errors import Refused

PLAN = Plan((120.0, 80.0, 30.0), 150.0)


@given(st.floats(1, 20_000), st.floats(50, 5000), st.floats(200, 5000), st.floats(0, 100))
def test_every_pour_fits_cup_and_scale_and_fewer_would_not(
    total: float, holds: float, scale: float, cup: float
) -> None:
    split = pours(total, cup_holds_g=holds, scale_most_g=scale, cup_g=cup)
    most = min(holds, scale - cup)
    assert split.count * split.each_g == pytest.approx(total)
    assert split.each_g <= most * (1 + 1e-6)
    assert split.count == 1 or total / (split.count - 1) > most * (1 - 1e-6)


def test_the_tightest_limit_is_named_first_with_its_numbers() -> None:
    split = pours(1200.0, cup_holds_g=700.0, scale_most_g=500.0, cup_g=20.0)
    assert split.count == 3
    assert split.reasons == (
        "3 pours: the scale weighs up to 500 g − 20 g for the empty cup, and 1200 g ÷ 480 g = 2.5.",
        "2 pours: the cup holds 700 g, and 1200 g ÷ 700 g = 1.71.",
    )


def test_without_limits_one_pour_does() -> None:
    assert pours(9000.0, cup_holds_g=None, scale_most_g=None).count == 1


@pytest.mark.parametrize(("holds", "scale"), [(0.0, None), (None, 15.0)])
def test_a_limit_that_leaves_nothing_is_refused(holds: float | None, scale: float | None) -> None:
    with pytest.raises(Refused, match="no room for any silicone"):
        pours(100.0, cup_holds_g=holds, scale_most_g=scale, cup_g=15.0)


def test_stock_says_what_is_left_or_missing() -> None:
    assert stock_sentence(800.0, 1000.0) == "1000 g in stock are enough; 200 g are left."
    assert "300 g are missing" in stock_sentence(800.0, 500.0)
    assert "enough for the first half; 300 g are missing" in stock_sentence(800.0, 500.0, 450.0)
    assert "Do not begin" in stock_sentence(800.0, 500.0, 550.0)
    with pytest.raises(Refused):
        stock_sentence(800.0, -1.0)


def test_usual_walls_raise_no_warning() -> None:
    assert warnings(PLAN) == ()


# The limits (6 mm, 4 % of the longest side) are common practice, no source.
@pytest.mark.parametrize(("long", "wall", "thin"), [(100.0, 5.9, True), (100.0, 6.0, False), (300.0, 11.9, True)])
def test_thin_walls_are_told(long: float, wall: float, thin: bool) -> None:
    found = warnings(Plan((long, 50.0, 50.0), None, Walls(side=wall)))
    assert [("side" in text, "common practice, no source" in text) for text in found] == [(True, True)] * thin


def test_a_harder_silicone_peels_over_less() -> None:
    depths = [deepest_undercut(PLAN, shore) for shore in range(0, 101, 5)]
    assert depths == sorted(depths, reverse=True)
    assert depths[0] > depths[-1] == 0


def test_a_deep_undercut_in_hard_silicone_is_told() -> None:
    assert warnings(PLAN, undercut=5.0, hardness=10.0) == ()
    (text,) = warnings(PLAN, undercut=5.0, hardness=40.0)
    assert "Shore A 40" in text
    assert "our own guess" in text


@pytest.mark.parametrize("shore", [-1.0, 101.0])
def test_a_hardness_off_the_scale_is_refused(shore: float) -> None:
    with pytest.raises(Refused, match=r"Shore A .* is none"):
        deepest_undercut(PLAN, shore)


def test_an_undercut_below_zero_is_refused() -> None:
    with pytest.raises(Refused, match="less than nothing"):
        warnings(PLAN, undercut=-1.0, hardness=20.0)


def test_the_margin_is_told_in_grams_and_layers_only_when_there_are_some() -> None:
    one, two = margin_sentence(21.0, 1), margin_sentence(21.0, 2)
    assert one.startswith("21 g of it are margin, mixed in the same go")
    assert "next pour" not in one
    assert "shared out over the pours" in two
    assert "bonds only while the last is wet or gelled" in two
    assert margin_sentence(0.0, 1).startswith("No margin is mixed")

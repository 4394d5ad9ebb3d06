"""Pieces laid out on boards: inside, apart by a saw cut, all of them, on no more boards than pieces."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.board_fit import laid_out
from station.casting.boards import Board, area_cm2, cutting_list
from station.errors import Refused

BOXES = st.tuples(*[st.floats(20, 250)] * 3)


@given(BOXES, st.floats(3, 25), st.floats(320, 2500), st.floats(320, 1300), st.floats(0, 5))
def test_pieces_lie_inside_their_boards_and_apart(inner, thickness, long, wide, cut):
    pieces = cutting_list(inner, thickness, rim=10)
    laid = laid_out(pieces, long, wide, cut)
    assert sorted(piece.name for piece in laid) == sorted(piece.name for piece in pieces for _ in range(piece.count))
    for piece in laid:
        assert piece.x >= 0
        assert piece.y >= 0
        assert piece.x + piece.long <= long + 1e-9
        assert piece.y + piece.wide <= wide + 1e-9
    for one, other in itertools.combinations(laid, 2):
        if one.board == other.board:
            beside = one.x + one.long + cut <= other.x + 1e-9 or other.x + other.long + cut <= one.x + 1e-9
            above = one.y + one.wide + cut <= other.y + 1e-9 or other.y + other.wide + cut <= one.y + 1e-9
            assert beside or above
    boards = {piece.board for piece in laid}
    assert boards == set(range(1, len(boards) + 1))
    assert len(boards) * long * wide / 100 >= area_cm2(pieces) - 1e-6
    assert sum(p.long * p.wide for p in laid) / 100 == pytest.approx(area_cm2(pieces))


def test_four_strips_come_out_of_one_narrow_board():
    # Two of 300 mm and two of 200 mm, with three cuts of 3 mm between them: 1009 mm of a board as wide as they are.
    pieces = (Board("long side", 2, 300, 80), Board("short side", 2, 200, 80))
    assert {piece.board for piece in laid_out(pieces, 1009, 80)} == {1}
    assert {piece.board for piece in laid_out(pieces, 1008, 80)} == {1, 2}


def test_narrow_pieces_share_the_width_of_a_broad_one():
    # A floor of 100 mm and sides of 200 mm are 303 mm long with a cut.
    # 98 mm across take two of 47 mm and a cut of 3 mm, and not two of 48 mm.
    floor = Board("floor", 1, 100, 98)
    assert {piece.board for piece in laid_out((floor, Board("side", 2, 200, 47)), 303, 98)} == {1}
    assert {piece.board for piece in laid_out((floor, Board("side", 2, 200, 48)), 303, 98)} == {1, 2}


def test_a_piece_is_turned_where_only_that_fits():
    (piece,) = laid_out((Board("floor", 1, 100, 400),), 500, 120)
    assert (piece.long, piece.wide) == (400, 100)


def test_a_piece_larger_than_the_board_is_refused_with_both_sizes():
    with pytest.raises(Refused, match=r"floor of 329\.4 × 157\.4 mm .* 1200 × 150 mm"):
        laid_out((Board("floor", 1, 329.4, 157.4),), 1200, 150)


@pytest.mark.parametrize(("long", "wide", "cut"), [(0, 100, 3), (100, math.nan, 3), (100, 100, -1)])
def test_a_board_or_cut_that_is_none_is_refused(long, wide, cut):
    with pytest.raises(Refused):
        laid_out((Board("floor", 1, 10, 10),), long, wide, cut)

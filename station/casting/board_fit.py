"""How many boards of the shop's stock a cutting list needs: strips along the board, cut to lengths, each ripped again.

First fit, the widest piece first: easy to saw, and not always the fewest boards.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from station.casting.boards import Board
from station.casting.written_mm import figures
from station.errors import Refused
from station.texts import t


@dataclass(frozen=True, slots=True)
class Laid:
    """A piece on board number `board` (from 1): its corner and its size there, mm, `long` along the board."""

    name: str
    board: int
    x: float
    y: float
    long: float
    wide: float


@dataclass(slots=True)
class _Length:
    """A length of a strip, filled across up to `used`."""

    x: float
    long: float
    used: float = 0.0


@dataclass(slots=True)
class _Strip:
    board: int
    y: float
    wide: float
    lengths: list[_Length] = field(default_factory=list)

    def room_for(self, piece: Board, long: float, cut: float) -> _Length | None:
        """The first length with room across for the piece, or a new one where the strip goes on; None for none."""
        for one in self.lengths:
            if piece.long <= one.long and one.used + piece.wide <= self.wide:
                return one
        begin = self.lengths[-1].x + self.lengths[-1].long + cut if self.lengths else 0.0
        if piece.wide > self.wide or begin + piece.long > long:
            return None
        self.lengths.append(_Length(begin, piece.long))
        return self.lengths[-1]


def laid_out(pieces: tuple[Board, ...], long: float, wide: float, cut: float = 3.0) -> tuple[Laid, ...]:
    """Every piece on boards of `long` × `wide` mm, `cut` mm lost to the saw between pieces.

    Raises Refused for a piece that is larger than the board, however it is turned.
    """
    if not all(math.isfinite(size) and size > 0 for size in (long, wide)):
        raise Refused(
            t("A board to buy has a length and a width above zero."), t("Type both, such as 1200 mm and 300 mm.")
        )
    if not (math.isfinite(cut) and cut >= 0):
        raise Refused(t("A saw cut is not below zero."), t("Type its width, such as 3 mm."))
    single = [_turned(piece, long, wide) for piece in pieces for _ in range(piece.count)]
    single.sort(key=lambda piece: (-piece.wide, -piece.long))
    strips: list[_Strip] = []
    laid = []
    for piece in single:
        strip, place = _found(strips, piece, (long, wide), cut)
        laid.append(Laid(piece.name, strip.board, place.x, strip.y + place.used, piece.long, piece.wide))
        place.used += piece.wide + cut
    return tuple(laid)


def _turned(piece: Board, long: float, wide: float) -> Board:
    """The piece as it fits the board, its longer side along the board where that goes."""
    for along, across in sorted(((piece.long, piece.wide), (piece.wide, piece.long)), reverse=True):
        if along <= long and across <= wide:
            return Board(piece.name, 1, along, across)
    raise Refused(
        t(
            "A {piece} of {long} × {wide} mm does not come out of a board of {board_long} × {board_wide} mm.",
            piece=piece.name,
            long=figures(piece.long),
            wide=figures(piece.wide),
            board_long=figures(long),
            board_wide=figures(wide),
        ),
        t("Take a larger board, or join two."),
    )


def _found(strips: list[_Strip], piece: Board, size: tuple[float, float], cut: float) -> tuple[_Strip, _Length]:
    """Where the piece goes: on a strip begun before, on a new one across the first board with room, on a new board."""
    long, wide = size
    for strip in strips:
        place = strip.room_for(piece, long, cut)
        if place is not None:
            return strip, place
    boards = max((strip.board for strip in strips), default=0)
    ends = {board: max(s.y + s.wide for s in strips if s.board == board) + cut for board in range(1, boards + 1)}
    board, y = next(((b, end) for b, end in ends.items() if end + piece.wide <= wide), (boards + 1, 0.0))
    place = _Length(0.0, piece.long)
    strips.append(_Strip(board, y, piece.wide, [place]))
    return strips[-1], place

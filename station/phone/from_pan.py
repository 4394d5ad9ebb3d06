"""A mass taken from the scale into a field of a form."""

from __future__ import annotations

from station.board import Board
from station.core.snapshot import ScaleState
from station.errors import Refused
from station.texts import t


def on_the_pan(board: Board) -> str:
    """What the pan shows at rest now, as a person would type it. Raises Refused when it shows nothing to rely on."""
    latest = board.latest()
    scale = None if latest is None else latest.scale
    if scale is None or scale.state is not ScaleState.LIVE or scale.gross is None:
        raise Refused(t("The scale gives no reading now."), t("Look at its cable and display, or type the mass."))
    if not scale.at_rest:
        raise Refused(t("The scale is still moving."), t("Wait until it is at rest and take it again."))
    return scale.gross.text(scale.readability)

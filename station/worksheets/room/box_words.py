"""The rules of a mold box in the person's own numbers: sizes, volumes, mass, boards."""

from __future__ import annotations

from station.casting.batch import grown_for_loss
from station.casting.board_fit import Laid
from station.casting.boards import Board, inches, round_box
from station.casting.moldbox import Plan
from station.worksheets.form import Row, Table
from station.worksheets.plain import plain


def box_rows(made: Plan) -> tuple[Row, ...]:
    """Silicone, box, level and what is wetted."""
    return (
        Row("Silicone in the box", f"{plain(made.silicone, 5)} cm³", _silicone_rule(made)),
        Row("Box inside", f"{_mm(made.inner)} mm", _box_rule(made)),
        Row(
            "Fill to",
            f"{plain(made.inner[2], 4)} mm above the floor",
            f"{plain(made.walls.above, 4)} mm over the positive; about {inches(made.inner[2])}",
        ),
        Row(
            "Wetted inside of the box",
            f"{plain(made.wetted, 4)} cm²",
            "floor, and walls up to the level, to seal and to brush with release",
        ),
    )


def mass_rule(made: Plan, density: float, loss_percent: float) -> str:
    """How the mass of the mix comes about."""
    more = f" + {plain(made.overfill_percent)} % margin" if made.overfill_percent else ""
    lost = f", ÷ (1 − {plain(loss_percent)}/100) for the cup" if loss_percent else ""
    return (
        f"{plain(made.silicone, 5)} cm³{more} = {plain(made.to_mix, 5)} cm³ × {density:g} g/cm³ = "
        f"{plain(made.to_mix * density, 5)} g{lost}"
    )


def board_table(boards: tuple[Board, ...], thickness: float, bought: tuple[Laid, ...]) -> Table:
    """The cutting list; with the number of the board to buy that each piece comes out of, where that is asked."""
    head = ("", "pieces", "mm", "inches, nearest 1/16")
    rows = [
        (b.name, str(b.count), f"{plain(b.long, 5)} × {plain(b.wide, 5)}", f"{inches(b.long)} × {inches(b.wide)}")
        for b in boards
    ]
    title = f"Boards, {plain(thickness)} mm thick"
    if not bought:
        return Table(title, head, tuple(rows))
    out_of = [", ".join(str(piece.board) for piece in bought if piece.name == b.name) for b in boards]
    return Table(title, (*head, "from board"), tuple((*row, cell) for row, cell in zip(rows, out_of, strict=True)))


def round_box_note(made: Plan, density: float, loss_percent: float) -> str:
    """What a piece of pipe around the same positive would take."""
    pipe = round_box(made.extents, made.walls.side, made.walls.below, made.walls.above)
    cm3 = (pipe.volume - (made.positive or 0.0) - made.spout_volume) * (1 + made.overfill_percent / 100)
    grams = grown_for_loss(cm3 * density, loss_percent)
    return (
        f"A round box, such as a piece of pipe, needs {plain(pipe.diameter, 4)} mm inside (the positive's diagonal "
        f"and the wall on both ends) and {plain(grams, 4)} g of mix: "
        + ("less" if pipe.volume < made.box else "more")
        + " than the square one, and it has no corners to leak."
    )


def _mm(sizes: tuple[float, float, float]) -> str:
    return " × ".join(plain(size, 5) for size in sizes)


def _box_rule(made: Plan) -> str:
    walls = made.walls
    return (
        f"{_mm(made.extents)} mm + 2 × {plain(walls.side)} mm around, + {plain(walls.below)} mm below "
        f"+ {plain(walls.above)} mm above"
    )


def _silicone_rule(made: Plan) -> str:
    known = "" if made.positive is None else f" − {plain(made.positive, 5)} cm³ positive"
    spouts = f" − {plain(made.spout_volume, 3)} cm³ in {made.spouts.count} spouts" if made.spouts.count else ""
    return f"{plain(made.box, 5)} cm³ box{known}{spouts}"
